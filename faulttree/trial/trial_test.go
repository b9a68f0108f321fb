package trial_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
	"faultwright/faulttree/trial"

	"github.com/google/go-cmp/cmp"
)

func run(t *testing.T, h trial.Handbook, tree string, o trial.Options) *trial.Report {
	t.Helper()
	return must.Have(trial.Run(context.Background(), h, tree, o))(t)
}

func TestRigsOfTheFixtureAreSound(t *testing.T) {
	if list := trailer().Check(); list.HasErrors() {
		t.Fatal(list)
	}
}

// A tree that clears the supply without having looked at its ground must be
// caught, with the vehicle and the way there.
func TestAFalseAllClearIsFound(t *testing.T) {
	r := run(t, handbook(forest(true)), "pedestal", trial.Options{Rigs: 400, Seed: 1, WalkOnly: true})
	if r.FalseAllClears == 0 {
		t.Fatal("no false all-clear was found in a careless tree")
	}
	for _, f := range r.False {
		if !strings.Contains(f.Vehicle, "open-ground@supply") {
			t.Errorf("false all-clear of %s", f.Vehicle)
		}
		if f.Finding != "pedestal#clear" || !strings.Contains(f.Path, "hot 1") {
			t.Errorf("finding %s by %q", f.Finding, f.Path)
		}
	}
	clear := findingOf(t, r, "pedestal#clear")
	if len(clear.Missing) != 1 || clear.Missing[0].Fault != "open-ground" {
		t.Errorf("missing %v", clear.Missing)
	}
	walks := 0
	for _, c := range r.Coverage {
		if c.Fault == "open-ground" {
			walks = c.Walks
		}
	}
	if r.FalseAllClears != walks {
		t.Errorf("%d false all-clears in %d walks with an open ground", r.FalseAllClears, walks)
	}
}

// The same tree that looks at the ground has none, and its findings leave
// nothing undeclared.
func TestACarefulTreeHasNone(t *testing.T) {
	r := run(t, handbook(forest(false)), "pedestal", trial.Options{Rigs: 400, Seed: 1, WalkOnly: true})
	if r.FalseAllClears != 0 {
		t.Errorf("%d false all-clears: %v", r.FalseAllClears, r.False)
	}
	if r.HealthyRate != 1 {
		t.Errorf("%.3f of the healthy rigs reach the all-clear", r.HealthyRate)
	}
	for _, d := range trial.Compare([]*trial.Report{r}) {
		t.Errorf("%s: missing %v, extra %v", d.Finding, d.Missing, d.Extra)
	}
	if r.Outside == 0 {
		t.Error("no fault outside the scope was drawn")
	}
	dead, total := findingOf(t, r, "pedestal#dead"), 0.0
	for _, s := range dead.Group {
		total += s.Share
	}
	if len(dead.Group) != 3 || math.Abs(total-1) > 1e-12 { // the third: a lead that broke after the proof
		t.Errorf("the ambiguity group of a dead supply is %v", dead.Group)
	}
}

// What is declared is not a false all-clear, though the body can be live: it
// is counted beside it.
func TestADeclaredFaultIsCountedApart(t *testing.T) {
	h := handbook(forest(true, "open-ground", "supply-dead"))
	// A ground that is open while the vehicle leaks: the body reaches 30 V.
	h.Faults[3].Variants[0].Edits = append(h.Faults[3].Variants[0].Edits, rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 1000}})
	r := run(t, h, "pedestal", trial.Options{Rigs: 200, Seed: 1, WalkOnly: true})
	if r.FalseAllClears != 0 || r.LiveDeclared == 0 {
		t.Errorf("%d false all-clears, %d live but declared", r.FalseAllClears, r.LiveDeclared)
	}
	if extra := findingOf(t, r, "pedestal#clear").Extra; len(extra) != 1 || extra[0] != "supply-dead" {
		t.Errorf("extra %v: a dead supply never reaches the all-clear", extra)
	}
}

// A body that can be live makes an all-clear false, whatever the hazard of the
// fault in the catalogue.
func TestALiveBodyIsAFalseAllClear(t *testing.T) {
	h := handbook(forest(true, "open-ground"))
	h.Faults = append(h.Faults, edits("odd", faulttree.Notice, faulttree.Supply,
		rig.Edit{Kind: rig.Open, Parts: []string{"feeder.g"}}, rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 1000}}))
	r := run(t, h, "pedestal", trial.Options{Rigs: 200, Seed: 1, WalkOnly: true})
	if r.FalseAllClears == 0 || r.False[0].Volts < 30 || !strings.Contains(r.False[0].Vehicle, "odd@supply") {
		t.Errorf("%d false all-clears: %+v", r.FalseAllClears, r.False)
	}
}

// Walks do not depend on how many workers share them.
func TestWorkersDoNotMatter(t *testing.T) {
	one := run(t, handbook(forest(true)), "pedestal", trial.Options{Rigs: 1500, Seed: 3, Workers: 1})
	three := run(t, handbook(forest(true)), "pedestal", trial.Options{Rigs: 1500, Seed: 3, Workers: 3})
	if d := cmp.Diff(one, three); d != "" {
		t.Error(d)
	}
	other := run(t, handbook(forest(true)), "pedestal", trial.Options{Rigs: 1500, Seed: 4})
	if cmp.Equal(one.False, other.False) {
		t.Error("another seed draws the same vehicles")
	}
}

// What is possible, in closed form. Both readings together tell all three faults of
// the supply apart. The tree names two where L1 is dead to neutral and takes the
// second reading for the open ground alone, so that a belief with its own readings
// can no more: with a share f of open grounds both earn r = (1 + f)/2, of n vehicles
// with a standard error of √(f (1 - f)/n)/2.
func TestThePossibleInClosedForm(t *testing.T) {
	r := run(t, handbook(forest(false)), "pedestal", trial.Options{Rigs: 2000, Seed: 5})
	f := 2*r.IsolationOfPossible - 1
	if r.Possible != 1 || f < 0.2 || f > 0.5 || math.Abs(r.PossibleAsked-r.IsolationOfPossible) > 1e-9 {
		t.Errorf("%.6f is possible, %.6f by its own readings, of which the tree earns %.6f", r.Possible, r.PossibleAsked, r.IsolationOfPossible)
	}
	if want := math.Sqrt(f*(1-f)/float64(r.Judged/2)) / 2; math.Abs(r.IsolationError-want) > 1e-9 {
		t.Errorf("a standard error of %.6f; want %.6f of %d vehicles", r.IsolationError, want, r.Judged/2)
	}
	if r.EntropyBound <= 0 || r.EntropyBound > r.OptimumMeasurements || r.OptimumMeasurements > 3 || r.OptimumExact {
		t.Errorf("bound %.3f, optimum %.3f", r.EntropyBound, r.OptimumMeasurements)
	}
	if math.Abs(r.MeanMeasurements-2.4) > 0.6 {
		t.Errorf("%.2f measurements in the mean", r.MeanMeasurements)
	}
}

// No draw measures an order that was found from it.
func TestDrawsHeldOut(t *testing.T) {
	for _, rigs := range []int{500, 60000} {
		learn, held, err := trial.Draws(handbook(forest(false)), "pedestal", trial.Options{Rigs: rigs, Seed: 7})
		if err != nil {
			t.Fatal(err)
		}
		if len(held) != min(4000, rigs/5) || len(learn) != min(16000, (rigs-len(held))*4/5) {
			t.Errorf("%d rigs: %d to learn from, %d held out", rigs, len(learn), len(held))
		}
		for n := range held {
			if learn[n] {
				t.Errorf("%d rigs: draw %d is held out and learned from", rigs, n)
			}
		}
	}
}

// A vehicle with a leak behind a lost ground has both: naming either one is
// right, and so it is for a belief.
func TestACompanionCounts(t *testing.T) {
	o := trial.Options{Rigs: 600, Seed: 5}
	h := handbook(forest(false))
	both := edits("lost-ground-with-leak", faulttree.Danger, faulttree.Supply,
		rig.Edit{Kind: rig.Open, Parts: []string{"feeder.g"}}, rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 1000}})
	h.Faults = append(h.Faults, both)
	credit := func() float64 {
		r := run(t, h, "tingle", o)
		for _, c := range r.Coverage {
			if c.Fault == both.ID {
				return c.Credit
			}
		}
		t.Fatal("the fault was not drawn")
		return 0
	}
	if c := credit(); c != 0 {
		t.Errorf("a fault that no finding names earns %v", c)
	}
	both.Variants[0].With = []string{"leakage-to-body"}
	if c := credit(); c != 0.5 {
		t.Errorf("a finding that names its companion and another earns %v", c)
	}
	both.Variants[0].With = []string{"leakage-to-body", "hot-ground-swapped"}
	if c := credit(); c != 1 {
		t.Errorf("a finding that names two companions, both there, earns %v", c)
	}
}

// A fault that one more reading would show is told, with the reading.
func TestASeparableFaultIsTold(t *testing.T) {
	clear := findingOf(t, run(t, handbook(forest(true)), "pedestal", trial.Options{Rigs: 2000, Seed: 5}), "pedestal#clear")
	want := []trial.Separable{
		{Fault: "open-ground", Role: "owner", Reading: "pedestal.l1-g", Share: 1},
		{Fault: "open-ground", Role: "qualified", Reading: "pedestal.l1-g", Share: 1},
	}
	if d := cmp.Diff(want, clear.Separable); d != "" {
		t.Error(d)
	}
	if clear := findingOf(t, run(t, handbook(forest(false)), "pedestal", trial.Options{Rigs: 2000, Seed: 5}), "pedestal#clear"); len(clear.Separable) > 0 {
		t.Errorf("the careful tree leaves %v", clear.Separable)
	}
}

func TestSeeMakesADrawAgain(t *testing.T) {
	o := trial.Options{Rigs: 400, Seed: 1, WalkOnly: true}
	h := handbook(forest(true))
	r := run(t, h, "pedestal", o)
	f := r.False[len(r.False)-1]
	s := must.Have(trial.See(h, "pedestal", o, f.Draw, f.Finding))(t)
	if s.Path != f.Path || s.Vehicle != f.Vehicle || !strings.HasPrefix(s.Vehicle, "trailer, ") {
		t.Errorf("%+v, want %+v", s, f)
	}
	if _, err := trial.See(h, "pedestal", o, 1<<30, f.Finding); err == nil {
		t.Error("a draw beyond the last is made")
	}
	if _, err := trial.See(h, "pedestal", o, f.Draw, "pedestal#dead"); err == nil {
		t.Error("a draw is shown at a finding it does not reach")
	}
}

// A severity is written as people write it: 12.3 kΩ.
func TestVehiclesAreWordedPlainly(t *testing.T) {
	o := trial.Options{Rigs: 300, Seed: 1, WalkOnly: true}
	h := handbook(forest(true))
	r := run(t, h, "tingle", o)
	kilo := false
	for number := range r.Rigs {
		s, err := trial.See(h, "tingle", o, number, "tingle#live")
		if err != nil {
			continue // it ended elsewhere
		}
		if strings.Contains(s.Vehicle, "e+") {
			t.Errorf("draw %d: %s", number, s.Vehicle)
		}
		kilo = kilo || strings.HasSuffix(s.Vehicle, " kΩ")
	}
	if !kilo {
		t.Error("no leak of 1 kΩ or more was drawn")
	}
}

// Every dangerous fault gets 3,000 draws where there are enough.
func TestDangerousFaultsAreDrawnOften(t *testing.T) {
	r := run(t, handbook(forest(true)), "tingle", trial.Options{Rigs: 20000, Seed: 1, WalkOnly: true})
	for _, c := range r.Coverage {
		if c.Hazard == "danger" && c.Walks < 2*3000 {
			t.Errorf("%s: %d walks by two roles", c.Fault, c.Walks)
		}
	}
	if r.Rigs != 20000 {
		t.Errorf("%d rigs of 20000", r.Rigs)
	}
}

func TestAGapInAnotherTree(t *testing.T) {
	r := run(t, handbook(forest(true)), "tingle", trial.Options{Rigs: 600, Seed: 1, WalkOnly: true})
	nothing := findingOf(t, r, "tingle#nothing")
	if len(nothing.Extra) > 0 || strings.Join(nothing.Undrawn, " ") != "rod-only-ground" {
		t.Errorf("extra %q, undrawn %q; the rigs know no such fault, and its author may", nothing.Extra, nothing.Undrawn)
	}
	if len(nothing.Meter) != 1 || nothing.Meter[0] != "meter-weak" {
		t.Errorf("meter %v: a broken lead shows nothing on a live body", nothing.Meter)
	}
}

func TestErrors(t *testing.T) {
	h := handbook(forest(true))
	if _, err := trial.Run(context.Background(), h, "nowhere", trial.Options{Rigs: 10}); err == nil {
		t.Error("an unknown tree is tried")
	}
	if _, err := trial.Run(context.Background(), h, "pedestal", trial.Options{}); err == nil {
		t.Error("a trial of no rigs is made")
	}
	h.Rigs[0].Trees = nil
	if _, err := trial.Run(context.Background(), h, "pedestal", trial.Options{Rigs: 10}); err == nil || !strings.Contains(err.Error(), "pedestal") {
		t.Errorf("a tree without rigs: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := trial.Run(ctx, handbook(forest(true)), "pedestal", trial.Options{Rigs: 10}); err == nil {
		t.Error("a cancelled trial gives a report")
	}
}

// A finding that no drawn vehicle and no other walk ends in is listed: with a
// meter in order the proof never fails, and a walk by hand can stand for that.
func TestUnreachedFindings(t *testing.T) {
	h := handbook(forest(false))
	h.Faults = nil
	r := run(t, h, "pedestal", trial.Options{Rigs: 100, Seed: 1, WalkOnly: true})
	text := func(refs []faulttree.Ref) (out []string) {
		for _, ref := range refs {
			out = append(out, ref.String())
		}
		return out
	}
	want := []string{"pedestal#dead", "pedestal#no-ground", "pedestal#not-judged"}
	if diff := cmp.Diff(want, text(trial.Unreached(h.Forest, []*trial.Report{r}, nil))); diff != "" {
		t.Errorf("sound vehicles alone leave (-want +got)\n%s", diff)
	}
	pedestal := h.Forest.Trees["pedestal"]
	for _, id := range []string{"dead", "clear"} { // as if both stood in one fragment
		pedestal.Step(id).Pos = source.Pos{File: "fragments/end.md", Line: 7, Column: 1}
	}
	if diff := cmp.Diff(want[1:], text(trial.Unreached(h.Forest, []*trial.Report{r}, nil))); diff != "" {
		t.Errorf("with a finding that another use reaches (-want +got)\n%s", diff)
	}
	pedestal.Step("dead").Pos = source.Pos{}
	byHand := []faulttree.Ref{{Tree: "pedestal", Step: "not-judged"}}
	if diff := cmp.Diff(want[:2], text(trial.Unreached(h.Forest, []*trial.Report{r}, byHand))); diff != "" {
		t.Errorf("with a walk by hand (-want +got)\n%s", diff)
	}
}
