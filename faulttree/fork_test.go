package faulttree

import (
	"math"
	"slices"
	"testing"

	"faultwright/faulttree/lists"
)

func TestForkGoesEachWay(t *testing.T) {
	ask := func(text string) func(Walk) ([]Answer, error) {
		return func(w Walk) ([]Answer, error) {
			switch s := w.Step(); s.Kind {
			case KindObserve:
				return s.Fitting(Observed{}), nil
			case KindMeasure:
				if s.ID != "body" {
					text = "120"
				}
				r, err := ParseReading(text, s.Measure[0].Quantity)
				return []Answer{{Readings: []Reading{r}}}, err
			}
			return []Answer{{Done: true}}, nil
		}
	}
	var ends []string
	var readings []int
	err := begin(t, Owner).Fork(100, ask("20"), func(w Walk) error {
		r, _ := w.Finding()
		ends, readings = append(ends, r.Ref.Step), append(readings, w.Readings())
		return nil
	})
	if err != nil || !slices.Equal(ends, []string{"found-nothing", "found-live"}) && !slices.Equal(ends, []string{"found-live", "found-nothing"}) {
		t.Errorf("20 V on the body, wet or dry, ends at %v, %v", ends, err)
	}
	if slices.Sort(readings); !slices.Equal(readings, []int{1, 2}) {
		t.Errorf("the walks took %v readings; want 1 and 2", readings)
	}
	if err := begin(t, Owner).Fork(2, ask("20"), func(Walk) error { return nil }); err == nil {
		t.Error("a walk went on beyond its bound")
	}
}

func TestFittingChoices(t *testing.T) {
	when := []When{{Quantity: legVolts}}
	s := &Step{Choices: []Choice{{ID: "a", When: when}, {ID: "b"}, {ID: "c", When: when}}}
	for _, held := range []bool{true, false} {
		got, want := s.Fitting(Observed{Holds: func(When) bool { return held }}), []string{"a", "c"}
		if !held {
			want = []string{"b"}
		}
		ids := lists.Each(got, func(a Answer) string { return a.Choice })
		if !slices.Equal(ids, want) {
			t.Errorf("conditions hold: %v; choices %v, want %v", held, ids, want)
		}
	}
}

// A choice that names devices fits if one of them stands open, one that names
// none if none does that any choice names.
func TestFittingByDevices(t *testing.T) {
	when := []When{{Quantity: legVolts}}
	s := &Step{Choices: []Choice{
		{ID: "breaker", Sees: true, Opened: []string{"main", "branch"}},
		{ID: "gfci", Sees: true, Opened: []string{"gfci"}},
		{ID: "felt", Sees: true, Opened: []string{"main"}, When: when},
		{ID: "none", Sees: true},
		{ID: "no-idea"},
	}}
	for _, c := range []struct {
		open []string
		held bool
		want []string
	}{
		{nil, false, []string{"none"}},
		{[]string{"cord"}, true, []string{"none"}},
		{[]string{"branch"}, true, []string{"breaker"}},
		{[]string{"main"}, false, []string{"breaker"}},
		{[]string{"main"}, true, []string{"breaker", "felt"}},
		{[]string{"gfci", "main"}, false, []string{"breaker", "gfci"}},
	} {
		var ids []string
		for _, a := range s.Fitting(Observed{Holds: func(When) bool { return c.held }, Open: func(device string) bool { return slices.Contains(c.open, device) }}) {
			ids = append(ids, a.Choice)
		}
		if !slices.Equal(ids, c.want) {
			t.Errorf("%v open, the reading fits: %v; choices %v, want %v", c.open, c.held, ids, c.want)
		}
	}
}

// A tree concerns a vehicle of which one condition of its complaint holds whole;
// without a complaint, every vehicle.
func TestATreeConcerns(t *testing.T) {
	tree := &Tree{Complaint: []Choice{
		{When: []When{{Quantity: legVolts}}, Sees: true, Opened: []string{"main"}},
		{Feels: true, Hot: []string{"cord"}},
	}}
	for _, c := range []struct{ held, open, hot, want bool }{
		{false, false, false, false}, {true, false, false, false}, {false, true, false, false}, {true, true, false, true}, {false, false, true, true},
	} {
		o := Observed{Holds: func(When) bool { return c.held }, Open: func(string) bool { return c.open }, Hot: func(string) bool { return c.hot }}
		if got := tree.Concerns(o); got != c.want {
			t.Errorf("%+v: it concerns: %v", c, got)
		}
		if !(&Tree{}).Concerns(o) {
			t.Errorf("%+v: a tree without a complaint does not concern it", c)
		}
	}
}

// As an observation a step is answered as it is by who knows the vehicle, but that
// a choice without a condition is seldom made where another one fits: at 0.02 for
// each, and so one in 52 of two beside one that fits.
func TestAStepAsAnObservation(t *testing.T) {
	s := &Step{Tree: "t", ID: "s", Kind: KindObserve, Choices: []Choice{{ID: "tripped", Sees: true, Opened: []string{"main"}}, {ID: "none"}, {ID: "unsure"}}}
	o := s.Observation()
	for open, want := range map[bool][]float64{true: {50. / 52, 1. / 52, 1. / 52}, false: {0, 0.5, 0.5}} {
		got := o.Chances(Observed{Open: func(string) bool { return open }}, nil)
		for i := range want {
			if len(got) != len(want) || math.Abs(got[i]-want[i]) > 1e-12 {
				t.Fatalf("tripped %t: chances %v; want %v", open, got, want)
			}
		}
	}
	if o.ID != "t#s" {
		t.Errorf("its id is %s", o.ID)
	}
}
