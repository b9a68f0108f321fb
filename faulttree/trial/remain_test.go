package trial_test

import (
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/trial"
)

// left is what the report of a tree says remains at a finding.
func left(t *testing.T, h trial.Handbook, tree, finding string) string {
	t.Helper()
	var out []string
	for _, r := range findingOf(t, run(t, h, tree, trial.Options{Rigs: 600, Seed: 1, WalkOnly: true}), finding).Remaining {
		out = append(out, r.At().String())
	}
	return strings.Join(out, " ")
}

// What the careless tree never reads remains at its all-clear, whether it is
// declared or not; what a finding names does not remain there.
func TestWhatIsNotReadRemains(t *testing.T) {
	for _, declared := range [][]string{nil, {"open-ground"}} {
		if got := left(t, handbook(forest(true, declared...)), "pedestal", "pedestal#clear"); got != "open-ground@supply" {
			t.Errorf("with %v declared remains %q", declared, got)
		}
	}
	if got := left(t, handbook(forest(false)), "pedestal", "pedestal#no-ground"); got != "" {
		t.Errorf("at the finding that names it remains %q", got)
	}
}

// A leak behind a lost ground remains where the finding names the ground alone,
// in the place where leaks are, if the tree looks there.
func TestWhatComesAlongRemains(t *testing.T) {
	h := handbook(forest(false))
	ground := &h.Faults[3].Variants[0]
	ground.With = []string{"leakage-to-body"}
	if got := left(t, h, "pedestal", "pedestal#no-ground"); got != "" {
		t.Errorf("outside the scope of the tree remains %q", got)
	}
	pedestal := h.Forest.Trees["pedestal"]
	pedestal.Scope = append(pedestal.Scope, faulttree.Vehicle)
	if got := left(t, h, "pedestal", "pedestal#no-ground"); got != "leakage-to-body@vehicle" {
		t.Errorf("remains %q", got)
	}
}

// A claim is in vain where drawn vehicles with the fault end elsewhere, unless
// few were ever to be expected; one that was computed, also where none is drawn.
func TestClaimsInVain(t *testing.T) {
	f := forest(false)
	f.Trees["tingle"].Step("nothing").Finding.CannotExclude = []faulttree.NotExcluded{
		{Fault: "leakage-to-body", Place: faulttree.Vehicle, Computed: true},
		{Fault: "hot-ground-swapped", Place: faulttree.Supply, Computed: true, Seldom: true},
		{Fault: "open-ground", Place: faulttree.Supply, Computed: true},
		{Fault: "rod-only-ground", Place: faulttree.Supply, Computed: true, Seldom: true},
		{Fault: "wet-cord"},
	}
	got := findingOf(t, run(t, handbook(f), "tingle", trial.Options{Rigs: 600, Seed: 1, WalkOnly: true}), "tingle#nothing")
	if want := []string{"leakage-to-body@vehicle", "rod-only-ground@supply"}; !slices.Equal(got.Extra, want) {
		t.Errorf("in vain %v, want %v", got.Extra, want)
	}
	if !slices.Equal(got.Undrawn, []string{"wet-cord"}) {
		t.Errorf("undrawn %v", got.Undrawn)
	}
}

// Every walk leaves each step by one exit: of the first reading all sound
// vehicles take one, and of the second only those that the first let through.
func TestExitsTellWhoTookThem(t *testing.T) {
	r := run(t, handbook(forest(false)), "pedestal", trial.Options{Rigs: 600, Seed: 1, WalkOnly: true})
	at := func(step, to string) trial.ExitReport {
		t.Helper()
		for _, e := range r.Exits {
			if e.Step == step && e.Go == to {
				return e
			}
		}
		t.Fatalf("no exit of %s leads to %s", step, to)
		return trial.ExitReport{}
	}
	low, high := at("pedestal#ground", "no-ground"), at("pedestal#ground", "clear")
	if len(low.Faults) == 0 || low.Faults[0].At() != (faulttree.FaultAt{Fault: "open-ground", Place: faulttree.Supply}) || low.Sound != 0 {
		t.Errorf("a low reading to ground: %+v", low)
	}
	if high.Sound == 0 || slices.ContainsFunc(high.Faults, func(p trial.ExitPart) bool { return p.Fault == "open-ground" }) {
		t.Errorf("a high reading to ground: %+v", high)
	}
	if hot := at("pedestal#hot", "ground"); hot.Walks != low.Walks+high.Walks+at("pedestal#ground", "not-judged").Walks {
		t.Errorf("%d walks go on to the ground, %d and %d leave it", hot.Walks, low.Walks, high.Walks)
	}
	if len(low.Clears) > 0 || len(high.Clears) != 1 || high.Clears[0].Finding != "pedestal#clear" || len(high.Clears[0].Faults) != len(high.Faults) {
		t.Errorf("the all-clear is decided by %+v, not by %+v", high.Clears, low.Clears)
	}
	for _, e := range r.Exits {
		sum := e.Sound
		for _, p := range e.Faults {
			sum += p.Walks
		}
		if sum != e.Walks {
			t.Errorf("%s to %s: %d walks, parts of %d", e.Step, e.Go, e.Walks, sum)
		}
	}
}
