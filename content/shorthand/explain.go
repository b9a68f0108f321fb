package shorthand

import (
	"slices"
	"strings"

	"faultwright/content/contact"
	"faultwright/faulttree/lists"
)

const mostNearest = 3

// ids are those of the quantities that come nearest.
func ids(list []quantity) []string {
	out := distinct(list, func(q quantity) string { return q.ID })
	return out[:min(len(out), mostNearest)]
}

func titles(list []quantity) string {
	out := distinct(list, func(q quantity) string { return "“" + q.Title + "”" })
	return strings.Join(out[:min(len(out), mostNearest)], ", ")
}

// explain says why no quantity fits, and which come nearest: those in another
// state, in another unit, or at another place.
func (r *Reader) explain(k known) (why string, nearest []string) {
	off := func(a contact.Atom) bool { c, _ := a.Condition(); return slices.Contains(k.words.Conditions, c) }
	if near := r.fitting(k.between, k.measured); len(near) > 0 {
		why = "This pair is read in another state than the one that is said: " + statesOf(near) + "."
		if off(contact.Off) || off(contact.Dead) {
			why = "With the supply off this reading says nothing of it: the pair is read with the power on."
		}
		return why, ids(near)
	}
	if near := r.fitting(k.between, k.stands); len(near) > 0 {
		return "This pair is read there in " + unitTitles[near[0].Unit.Symbol()] + ", not in " + unitTitles[k.unit] + ".", ids(near)
	}
	elsewhere := k
	elsewhere.site, elsewhere.a.Place, elsewhere.b.Place = "", "", ""
	if near := r.fitting(elsewhere.between, k.stands, k.measured); len(near) > 0 {
		return "The handbook has no such reading there. The nearest: " + titles(near) + ".", ids(near)
	}
	return "The handbook has no reading of " + named(k.a, k.b) + " in that unit.", nil
}

// statesOf words the states of quantities: "with nothing plugged in, or loads on".
func statesOf(list []quantity) string {
	out := lists.Each(distinct(list, stateOf), func(s State) string { return stateTitles[s] })
	return strings.Join(out, "; or ")
}
