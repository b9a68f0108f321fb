package view

import (
	"cmp"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// NotExcluded is one test and the dangerous faults that stay possible until
// somebody makes it.
type NotExcluded struct {
	Test   string // what would exclude them, and who does it, without a full stop
	Faults []Link // with their places in the titles, where one fault stays possible in several
}

// MostTests is how many tests a finding shows; a reader takes in no more. The
// other dangers are told by their names alone, until somebody asks.
const MostTests = 5

// notExcluded groups what a finding cannot exclude by the test that would: the
// worst hazard first, then what its author wrote, what is not seldom, and by how
// common the faults are.
func notExcluded(lib *content.Library, f faulttree.Finding) []NotExcluded {
	places := map[string][]faulttree.Place{}
	byTest := map[string][]faulttree.NotExcluded{}
	for _, n := range f.CannotExclude {
		test := strings.TrimSuffix(Capital(Sentence(n.Test)), ".")
		byTest[test] = append(byTest[test], n)
		if n.Place != "" && !slices.Contains(places[n.Fault], n.Place) {
			places[n.Fault] = append(places[n.Fault], n.Place)
		}
	}
	weights := map[string]weight{}
	var out []NotExcluded
	for test, entries := range byTest {
		g := NotExcluded{Test: test}
		var w weight
		slices.SortStableFunc(entries, func(a, b faulttree.NotExcluded) int {
			return cmp.Or(weightOf(lib, b).compare(weightOf(lib, a)), a.At().Compare(b.At()))
		})
		for _, n := range entries {
			w = w.and(weightOf(lib, n))
			link := FaultLink(lib, n.Fault)
			link.Title = strings.TrimSuffix(link.Title, ".")
			if len(places[n.Fault]) > 1 && n.Place != "" {
				link.Title += " (" + placeNames([]faulttree.Place{n.Place}) + ")"
			}
			g.Faults = append(g.Faults, link)
		}
		weights[test] = w
		out = append(out, g)
	}
	slices.SortFunc(out, func(a, b NotExcluded) int {
		return cmp.Or(weights[b.Test].compare(weights[a.Test]), cmp.Compare(a.Test, b.Test))
	})
	return out
}

// weight is how much some faults matter beside others.
type weight struct {
	hazard          faulttree.Signal
	own             int     // 1 where the author wrote one of them
	common, unusual float64 // how common those are that are not seldom here, and those that are
}

func weightOf(lib *content.Library, n faulttree.NotExcluded) weight {
	w := weight{hazard: faulttree.Danger, common: 1}
	if f := lib.Faults[n.Fault]; f != nil {
		w.hazard = f.Hazard
		if f.Edits != nil {
			w.common = f.Edits.Weight
		}
	}
	if !n.Computed {
		w.own = 1
	}
	if n.Seldom {
		w.common, w.unusual = 0, w.common
	}
	return w
}

func (w weight) and(o weight) weight {
	return weight{max(w.hazard, o.hazard), max(w.own, o.own), w.common + o.common, w.unusual + o.unusual}
}

func (w weight) compare(o weight) int {
	return cmp.Or(cmp.Compare(w.hazard, o.hazard), cmp.Compare(w.own, o.own), cmp.Compare(w.common, o.common), cmp.Compare(w.unusual, o.unusual))
}

// Lead is the test up to the faults that it would show.
func (n NotExcluded) Lead() string {
	if strings.Contains(n.Test, ",") {
		return n.Test + ", would show: "
	}
	return n.Test + " would show: "
}

// Titles are the faults, in one line.
func (n NotExcluded) Titles() string {
	out := lists.Each(n.Faults, func(f Link) string { return f.Title })
	return strings.Join(out, "; ")
}

// Text is the test and what it would show.
func (n NotExcluded) Text() string { return n.Lead() + n.Titles() + "." }

// Foremost is the tests that a finding shows, and what it says of the other
// dangers: "And 3 more dangers", and what they are. Both are "" where there are
// none.
func (v Finding) Foremost() (first []NotExcluded, more, which string) { return foremost(v.NotExclude) }

func foremost(all []NotExcluded) (first []NotExcluded, more, which string) {
	if len(all) <= MostTests {
		return all, "", ""
	}
	rest := NotExcluded{}
	for _, n := range all[MostTests:] {
		rest.Faults = append(rest.Faults, n.Faults...)
	}
	return all[:MostTests], "And " + Count(len(rest.Faults), "more danger"), rest.Titles() + "."
}
