package faulttree

import (
	"testing"

	"faultwright/faulttree/must"
)

// directVolts is a step on direct volts with a danger limit of 60 V, which hurt
// by their size whichever way round the leads are.
func directVolts() (*Step, Quantity) {
	q := Quantity{ID: "battery.pos-neg", Unit: VoltsDC, Range: 600 * One, Most: 1000 * One}
	exit := func(to string, s Signal) Exit { return Exit{Text: to, To: Ref{"t", to}, Signal: s} }
	band := func(span Span, to string, s Signal) Branch {
		return Branch{Bounds: []Bound{{0, span, noPos}}, Exit: exit(to, s)}
	}
	return &Step{Tree: "t", ID: "battery", Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: q}},
		Branches: []Branch{
			band(Span{Lowest, 1 - 60*One}, "stop", Danger),
			band(Only(1-60*One, 60*One-1), "ordinary", NoSignal),
			band(Span{60 * One, Highest}, "stop", Danger),
		}, OverRange: exit("stop", Danger), NotPossible: exit("unknown", Warning)}, q
}

func TestDirectVoltsHurtByTheirSize(t *testing.T) {
	_, q := directVolts()
	limit, m := 60*One, DefaultMeter() // ±(0.8 % + 3 counts): 0.76 V at 57 V on the 600 V range
	for _, c := range []struct {
		text  string
		hurts bool
	}{
		{"60.0", true}, {"-60.0", true}, {"59.5", true}, {"-59.5", true}, {"58.0", false}, {"-58.0", false},
		{"0.0", false}, {"OL", true}, {"wanders -61 to 5", true}, {"cannot: no access", false},
	} {
		if got := m.MayHurt(asTyped(t, c.text, q), q, limit); got != c.hurts {
			t.Errorf("%s at a limit of 60 V may hurt: %v; want %v", c.text, got, c.hurts)
		}
	}
}

func TestJudgeLooksBelowZeroToo(t *testing.T) {
	s, q := directVolts()
	limits := func(id string) (Amount, bool) { return 60 * One, id == q.ID }
	s.Measure = append(s.Measure, Variable{Name: "w", Quantity: legVolts})
	out, err := s.Judge([]Reading{asTyped(t, "-60.0", q), NotTaken("wet")}, DefaultMeter(), limits)
	if err != nil || out.Text != "stop" {
		t.Errorf("-60 V with a missing second reading leads to %q, %v; want stop", out.Text, err)
	}
	out, err = s.Judge([]Reading{asTyped(t, "-12.6", q), NotTaken("wet")}, DefaultMeter(), limits)
	if err != nil || out.Text != "unknown" {
		t.Errorf("-12.6 V with a missing second reading leads to %q, %v; want unknown", out.Text, err)
	}
}

func TestSuppliedNegativeVoltsMeetDangerFirst(t *testing.T) {
	s, q := directVolts()
	f := small()
	tree := f.Trees["t"]
	for i := range s.Branches {
		if s.Branches[i].Text == "ordinary" {
			s.Branches[i].Exit = goTo("again", NoSignal)
		}
	}
	tree.Steps = append(tree.Steps, s)
	tree.Limits["direct"] = Limit{Name: "direct", Value: 60 * One, Unit: VoltsDC}
	tree.Danger[q.ID] = "direct"
	tree.Index()
	w := must.Have(Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter()))(t)
	next, _, err := w.Supply(Supplied{Readings: map[string][]Reading{q.ID: {asTyped(t, "-60.0", q)}}})
	if _, stopped := next.Stop(); err != nil || !stopped {
		t.Errorf("-60 V supplied in advance: the walk stands at %s, %v; want the STOP", next.At(), err)
	}
}
