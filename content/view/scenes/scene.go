package scenes

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

// Book is what a scene takes from a handbook: the catalogue by title, the
// test points, the limit from which on the body can hurt.
func Book(lib *content.Library, m faulttree.Meter) scene.Book {
	b := scene.Book{Points: lib.Points, Meter: m}
	for _, f := range lib.Faults {
		if f.Edits != nil {
			b.Faults = append(b.Faults, f.Edits)
		}
	}
	sort.Slice(b.Faults, func(i, j int) bool { return b.Faults[i].Title < b.Faults[j].Title })
	if lib.Forest != nil {
		b.BodyLimit = lib.Forest.Touch.From
	}
	return b
}

// TakenIn lists the readings of a walk, the last of each quantity.
func TakenIn(w faulttree.Walk) []scene.Taken {
	var out []scene.Taken
	for _, l := range view.LastReadings(w) {
		if r := l.Reading; r.Quality != faulttree.NotPossible {
			out = append(out, scene.Taken{Quantity: l.Quantity, Reading: r})
		}
	}
	return out
}

// SituationOf is what a walk knows of the vehicle that a fault is to be shown
// in: its readings, its facts, its plug also as far as the readings tell, and
// where the finding leaves the fault possible.
func SituationOf(w faulttree.Walk, fault string) scene.Situation {
	to := scene.Situation{Fault: fault, Taken: TakenIn(w), Plug: amperesOf(w.Fact("service")), Adapter: w.Fact("adapter") == "yes"}
	if to.Plug == 0 {
		to.Plug = plugIn(w)
	}
	if result, ended := w.Finding(); ended && len(result.Finding.Clears) > 0 {
		for _, p := range faulttree.Places() {
			if !slices.Contains(result.Finding.Clears, p) {
				to.Places = append(to.Places, p)
			}
		}
	}
	return to
}

// amperesOf reads a choice of the fact service: 30 for "30a"; 0 for any other.
func amperesOf(service string) int {
	amperes, err := strconv.Atoi(strings.TrimSuffix(service, "a"))
	if err != nil {
		return 0
	}
	return amperes
}

// plugIn is the amperes of the vehicle's plug as far as the readings tell: a
// second hot that was read from the plug on is that of a 50 A plug; where the
// first hot of a pair could be read and the second could not, there is none.
// 0 is not known.
func plugIn(w faulttree.Walk) int {
	readings := view.LastReadings(w)
	amperes := 0
	for _, l := range readings {
		point := l.Quantity.Red
		group, second := strings.CutSuffix(point, ".l2")
		switch {
		case !second:
		case l.Reading.Quality != faulttree.NotPossible && group != "pedestal" && group != "adapter":
			return 50
		case l.Reading.Quality == faulttree.NotPossible && slices.ContainsFunc(readings, func(o view.LastReading) bool {
			return o.Quantity.Red == group+".l1" && o.Reading.Quality != faulttree.NotPossible
		}):
			amperes = 30
		}
	}
	return amperes
}

// CaseShown puts the vehicle of a practice on show as it stands when the
// learner comes, with everything that was hidden.
func CaseShown(lib *content.Library, c practice.Case, m faulttree.Meter) (scene.Explanation, error) {
	v, err := c.Begin(m)
	if err != nil {
		return scene.Explanation{}, err
	}
	return scene.Same(c.Rig, Book(lib, m), rig.Setup{Values: c.Values, Faults: c.Faults}, v.State())
}
