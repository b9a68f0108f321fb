package view

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// few is a library of some faults: the hazard, how common it is, by id.
func few(faults map[string]weight) *content.Library {
	lib := &content.Library{Faults: map[string]*content.Fault{}}
	for id, w := range faults {
		lib.Faults[id] = &content.Fault{Document: content.Document{ID: id, Title: "It is " + id}, Hazard: w.hazard, Edits: &rig.Fault{ID: id, Weight: w.common}}
	}
	return lib
}

func texts(all []NotExcluded) (out []string) {
	for _, n := range all {
		out = append(out, n.Text())
	}
	return out
}

// Faults with the same test stand in one line. Dangers come first, then what the
// author wrote, what is not seldom, and what is common; a fault of two places says
// which.
func TestDangersAreToldByTheirTests(t *testing.T) {
	lib := few(map[string]weight{
		"rare": {hazard: faulttree.Danger, common: 1}, "common": {hazard: faulttree.Danger, common: 5}, "split": {hazard: faulttree.Danger, common: 3}, "own": {hazard: faulttree.Danger}, "mild": {hazard: faulttree.Warning, common: 9},
	})
	const loop, ohms = "A loop test, by an electrician.", "Ohms of the cord."
	got := texts(notExcluded(lib, faulttree.Finding{CannotExclude: []faulttree.NotExcluded{
		{Fault: "mild", Test: "a look at it"},
		{Fault: "rare", Place: faulttree.Supply, Test: loop, Computed: true},
		{Fault: "split", Place: faulttree.Supply, Test: loop, Computed: true},
		{Fault: "split", Place: faulttree.Cord, Test: ohms, Computed: true, Seldom: true},
		{Fault: "common", Place: faulttree.Supply, Test: loop, Computed: true},
		{Fault: "own", Test: "The author's"},
	}}))
	want := []string{
		"The author's would show: It is own.",
		"A loop test, by an electrician, would show: It is common; It is split (supply); It is rare.",
		"Ohms of the cord would show: It is split (cord).",
		"A look at it would show: It is mild.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// A finding shows five tests; what is beyond is counted and named, and nothing
// stands twice.
func TestAFindingShowsAtMostFiveTests(t *testing.T) {
	faults, f := map[string]weight{}, faulttree.Finding{}
	for i := range MostTests + 2 {
		id := fmt.Sprintf("fault-%d", i)
		faults[id] = weight{hazard: faulttree.Danger, common: float64(10 - i)}
		f.CannotExclude = append(f.CannotExclude, faulttree.NotExcluded{Fault: id, Test: fmt.Sprintf("Test %d.", i)})
	}
	v := Finding{NotExclude: notExcluded(few(faults), f)}
	first, more, which := v.Foremost()
	if len(first) != MostTests || more != "And 2 more dangers" || which != "It is fault-5; It is fault-6." {
		t.Errorf("%d tests, %q: %q", len(first), more, which)
	}
	text := v.Text()
	for id := range faults {
		if n := strings.Count(text, "It is "+id); n != 1 {
			t.Errorf("%s stands %d times in\n%s", id, n, text)
		}
	}
	v.NotExclude = v.NotExclude[:MostTests]
	if first, more, which := v.Foremost(); len(first) != MostTests || more+which != "" {
		t.Errorf("of %d tests %d are shown, then %q %q", MostTests, len(first), more, which)
	}
}
