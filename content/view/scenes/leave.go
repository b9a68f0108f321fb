package scenes

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// Leave is facts of which one vehicle or more of the handbook state another choice, and
// agree with all others: the nearest there are, once these are left open.
type Leave struct {
	Facts  []string // ids
	Names  string   // "Service", "Service and Source"
	titles []string // of the rigs
}

// From is the account with the facts left open.
func (l Leave) From(a view.Account) view.Account {
	for _, fact := range l.Facts {
		a = a.Knowing(fact, "")
	}
	return a
}

// Leaves lists the fewest facts of an account to leave open where no vehicle of the
// handbook agrees with all of them; none where some do.
func (r *Reasoning) Leaves(a view.Account) []Leave {
	return leaves(r.lib, a.Facts, func(*rig.Rig) bool { return true })
}

// leaves lists the fewest facts to leave open so that a rig agrees of which something
// holds.
func leaves(lib *content.Library, facts map[string]string, of func(*rig.Rig) bool) []Leave {
	var out []Leave
	for _, r := range view.Rigs(lib) {
		if !of(r) {
			continue
		}
		var against []string
		for _, fact := range slices.Sorted(maps.Keys(facts)) {
			if facts[fact] != "" && r.Facts[fact] != "" && r.Facts[fact] != facts[fact] {
				against = append(against, fact)
			}
		}
		if len(against) == 0 {
			return nil
		}
		i := slices.IndexFunc(out, func(l Leave) bool { return slices.Equal(l.Facts, against) })
		if i < 0 {
			i = len(out)
			out = append(out, Leave{Facts: against, Names: namesOf(against)})
		}
		out[i].titles = append(out[i].titles, r.Title)
	}
	fewest := len(facts)
	for _, l := range out {
		fewest = min(fewest, len(l.Facts))
	}
	return slices.DeleteFunc(out, func(l Leave) bool { return len(l.Facts) > fewest })
}

func namesOf(facts []string) string {
	names := make([]string, len(facts))
	for i, f := range facts {
		names[i] = view.Capital(f)
	}
	return strings.Join(names, " and ")
}

// mostVehicles is how many vehicles are named.
const mostVehicles = 3

// vehicles names the vehicles that agree then.
func (l Leave) vehicles() string {
	named := "“" + strings.Join(l.titles[:min(len(l.titles), mostVehicles)], "”, “") + "”"
	if more := len(l.titles) - mostVehicles; more > 0 {
		named += fmt.Sprintf(" and %d more", more)
	}
	return named
}

// NoVehicle says that no vehicle of the handbook is as the facts of an account say, and
// what can be done.
func (r *Reasoning) NoVehicle(a view.Account) string {
	var stated []string
	for _, f := range view.FactsOf(r.lib, a.Facts) {
		if f.Known != "" {
			stated = append(stated, f.Name+": "+f.Known)
		}
	}
	text := "No vehicle of this handbook is as the facts say"
	if len(stated) > 0 {
		text += ": " + strings.Join(stated, ", ")
	}
	text += ". What was read is kept."
	open := r.Leaves(a)
	for _, l := range open {
		text += fmt.Sprintf(" Leave %s open, and it is weighed among the nearest: %s.", l.Names, l.vehicles())
	}
	if len(open) > 0 {
		text += " None of them is quite this vehicle."
	}
	return text
}

// notWeighed says which readings count for nothing, as no vehicle that agrees with the
// facts of an account has them; "" for none.
func (r *Reasoning) notWeighed(a view.Account) string {
	h := DrawnFrom(r.lib)
	known, _ := a.In(r.lib)
	titles, open := map[string][]string{}, []string{}
	for _, e := range known.Evidence {
		q := e.Quantity
		if q.ID == "" || q.OfMeter() || e.Reading.Quality == faulttree.NotPossible {
			continue
		}
		for _, l := range leaves(r.lib, a.Facts, func(of *rig.Rig) bool { return drawn.Reads(h, of, q) }) {
			open = lists.With(open, l.Names)
			titles[l.Names] = lists.With(titles[l.Names], q.Title)
		}
	}
	var out []string
	for _, names := range open {
		out = append(out, fmt.Sprintf("Not weighed: “%s”. No vehicle of this handbook with these facts has it; leave %s open to weigh it.", strings.Join(titles[names], "”, “"), names))
	}
	return strings.Join(out, " ")
}
