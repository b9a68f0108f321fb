package scenes_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

var coach = map[string]string{"service": "50a", "source": "shore"}

// first is the faults of the likeliest suspect of an account.
func first(t *testing.T, r *scenes.Reasoning, a view.Account) []string {
	t.Helper()
	b := must.Have(r.Belief(context.Background(), a))(t)
	return b.Suspects()[0].Faults
}

// Whoever comes with a tingle has something that makes one, before anything is read
// and where what was read was no test for it. What was told by somebody may be wrong:
// a sound vehicle is still there.
func TestTheComplaintCounts(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	nothing := view.Account{Facts: coach}
	supply := told(t, coach, "pedestal, nothing plugged in: L1-N 121, N-G 0.2")
	for _, a := range []view.Account{nothing, supply} {
		a.Tree = "body-voltage"
		if got := first(t, r, a); !slices.ContainsFunc(got, func(f string) bool { return f == "open-ground" || f == "bootleg-ground-reversed" }) {
			t.Errorf("with a tingle and %d readings the likeliest is %v; expected one that makes a body live", len(a.Evidence), got)
		}
		v := must.Have(r.Suspects(context.Background(), a))(t)
		if !slices.ContainsFunc(v.Likely, func(s view.Suspect) bool { return len(s.Faults) == 0 }) {
			t.Errorf("with %d readings nobody may have been mistaken:\n%s", len(a.Evidence), v.Text())
		}
		if v.Counted != len(a.Evidence) {
			t.Errorf("%d readings count; expected %d", v.Counted, len(a.Evidence))
		}
	}
	supply.Tree = "half-dead"
	if got := first(t, r, supply); slices.Contains(got, "open-ground") || slices.Contains(got, suspect.NoFault) {
		t.Errorf("with half of it dead the likeliest is %v", got)
	}
	for _, a := range []view.Account{{Tree: "pedestal-50a", Facts: coach}, {Tree: "body-voltage", Facts: coach, Repairs: 1}, {Facts: coach}} {
		if a.Tells(load.Shipped()) || len(a.Told(load.Shipped())) > 0 {
			t.Errorf("something counts of %+v", a)
		}
	}
}

// A complaint rules no danger out, whatever was read beside it.
func TestTheComplaintRulesNothingOut(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	open := func(a view.Account) map[string]bool {
		b := must.Have(r.Belief(context.Background(), a))(t)
		out := map[string]bool{}
		for _, o := range b.Open() {
			out[fmt.Sprint(o.Fault, "@", o.Place, " tested ", o.Tested)] = true
		}
		return out
	}
	for _, list := range []string{
		"panel, loads on: L1-N 118, L2-N 119, N-G 0.4",
		"panel, loads on: L1-N 59, L2-N 177, N-G 59\npedestal, nothing plugged in: L1-N 121, L2-N 120, N-G 0.2",
		"body-earth: 0.4\npedestal, nothing plugged in: L1-N 121, L2-N 121, L1-G 121, N-G 0.1",
		"ohm:plug.g-body@unplugged: 0.2\nohm:plug.n-body@unplugged: 4 MΩ\nohm:plug.l1-body@unplugged: 6 MΩ\nbody-earth: 0.3\npedestal, nothing plugged in: L1-N 121, L2-N 121",
	} {
		a := told(t, coach, list)
		without := open(a)
		for _, tree := range []string{"body-voltage", "half-dead", "heat", "trips"} {
			a.Tree = tree
			with := open(a)
			for o := range without {
				if !with[o] {
					t.Errorf("%q: %s is not open with the complaint of %s", list, o, tree)
				}
			}
		}
	}
}

// A test after repair is of another vehicle than the one somebody complained of, and
// its readings are of it.
func TestAWalkAfterARepairHasNoComplaint(t *testing.T) {
	lib := load.Shipped()
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "body-voltage"}, faulttree.Qualified, faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	reading := must.Have(faulttree.ParseReading("58 V", lib.Forest.Quantities["body-earth"]))(t)
	if w, _, err = w.Supply(faulttree.Supplied{Readings: map[string][]faulttree.Reading{"body-earth": {reading}}}); err != nil {
		t.Fatal(err)
	}
	for repairs, want := range []int{2, 1, 1} {
		a := view.AccountOf(w, repairs)
		told := a.Told(lib)
		if len(told) != want || told[0].Round != repairs || len(a.Readings()) != 1 {
			t.Errorf("after %d repairs it tells %+v", repairs, told)
		}
	}
}
