package faulttree

import (
	"errors"
	"maps"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// plugs is a tree of which some readings are there for a 50 A plug only: one
// step measures both legs, the next only what lies between them.
func plugs(fixed map[string]string) *Forest {
	needs := Needs{"service": {"50a"}}
	l1 := Quantity{ID: "l1-n", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	l2 := Quantity{ID: "l2-n", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One, Needs: needs}
	across := Quantity{ID: "l1-l2", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One, Needs: needs}
	from := func(v int) Bound { return Bound{v, Span{104 * One, Highest}, noPos} }
	below := func(v int) Bound { return Bound{v, Span{Lowest, 104 * One}, noPos} }
	steps := []*Step{
		{ID: "felt", Kind: KindObserve, Choices: []Choice{{ID: "yes", Exit: goTo("legs", NoSignal)}, {ID: "no", Exit: goTo("found", NoSignal)}}},
		{ID: "legs", Kind: KindMeasure, Measure: []Variable{{Name: "a", Quantity: l2}, {Name: "b", Quantity: l1}},
			Derive: []Derived{{Name: "apart", Unit: VoltsAC, Terms: []Term{{1, 0}, {-1, 1}}}},
			Branches: []Branch{
				{Bounds: []Bound{from(0), from(1)}, Exit: goTo("across", NoSignal)},
				{Bounds: []Bound{below(1)}, Exit: goTo("low", Warning)},
			}, OverRange: goTo("low", Danger), NotPossible: goTo("low", Warning)},
		{ID: "across", Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: across}},
			Branches: []Branch{{Exit: goTo("found", NoSignal)}}, OverRange: goTo("low", Danger), NotPossible: goTo("low", Warning),
			NotApplicable: goTo("found", NoSignal)},
		{ID: "low", Kind: KindFinding, Finding: Finding{Signal: Warning}},
		{ID: "found", Kind: KindFinding, Finding: Finding{Signal: Notice}},
	}
	tree := &Tree{ID: "t", Start: "felt", Steps: steps, Facts: fixed, Limits: map[string]Limit{}, Danger: map[string]string{}}
	for _, s := range steps {
		s.Tree = "t"
	}
	tree.Index()
	service := Fact{ID: "service", Title: "Which plug?", Choices: []Choice{{ID: "30a", Text: "30 A"}, {ID: "50a", Text: "50 A"}}}
	return &Forest{Trees: map[string]*Tree{"t": tree}, Facts: []Fact{service}}
}

func volts(n Amount) Reading { return Reading{Low: n * One, High: n * One, Resolution: One} }

// answered is a walk after these answers: a choice, or what the readings show.
func answered(t *testing.T, w Walk, answers ...any) Walk {
	t.Helper()
	for _, a := range answers {
		answer := Answer{}
		switch a := a.(type) {
		case string:
			answer.Choice = a
		case Amount:
			answer.Readings = []Reading{volts(a)}
		case []Amount:
			for _, n := range a {
				answer.Readings = append(answer.Readings, volts(n))
			}
		}
		next, err := w.Answer(answer)
		if err != nil {
			t.Fatalf("at %s: %v", w.At(), err)
		}
		w = next
	}
	return w
}

func started(t *testing.T, f *Forest) Walk {
	t.Helper()
	return must.Have(Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter()))(t)
}

func TestAFactIsAskedWhenFirstNeededAndOnce(t *testing.T) {
	w := answered(t, started(t, plugs(nil)), "yes")
	if w.At() != FactRef("service") || w.Wants() != "fact:service" || w.Step().Kind != KindFact || w.Step().Title != "Which plug?" {
		t.Fatalf("the walk asks %v, %+v", w.At(), w.Step())
	}
	if _, err := w.Answer(Answer{Choice: "100a"}); err == nil {
		t.Error("a choice that the fact has not is taken")
	}
	w = answered(t, w, "50a", []Amount{118, 119})
	if w.At().Step != "across" {
		t.Fatalf("the walk asks %v instead of what the fact allows", w.At())
	}
	w = answered(t, w, Amount(240))
	if w.At().Step != "found" || len(w.Trail()) != 4 {
		t.Errorf("the walk ends at %v after %d answers", w.At(), len(w.Trail()))
	}
}

// Nobody with a 30 A plug is asked for a second leg: the step measures the
// first alone, and the step with nothing left is passed.
func TestWhatAFactRulesOutIsNotMeasured(t *testing.T) {
	w := answered(t, started(t, plugs(nil)), "yes", "30a")
	s := w.Step()
	if len(s.Measure) != 1 || s.Measure[0].Quantity.ID != "l1-n" || len(s.Derive) != 0 {
		t.Fatalf("the step measures %+v", s.Measure)
	}
	w = answered(t, w, Amount(118))
	if w.At().Step != "found" {
		t.Fatalf("the walk goes on at %v", w.At())
	}
	if got := w.Asked(Ref{"t", "legs"}); len(got.Measure) != 1 {
		t.Errorf("looked back on, the step measured %d quantities", len(got.Measure))
	}
	if w := answered(t, started(t, plugs(nil)), "yes", "30a", Amount(90)); w.At().Step != "low" {
		t.Errorf("a low leg leads to %v", w.At())
	}
}

func TestAFactIsTakenBackAndChanged(t *testing.T) {
	w := answered(t, started(t, plugs(nil)), "yes", "30a", Amount(118))
	back := w.Back().Back()
	if back.At() != FactRef("service") {
		t.Fatalf("two steps back the walk asks %v", back.At())
	}
	if back = back.Back(); back.At().Step != "felt" {
		t.Fatalf("three steps back the walk asks %v", back.At())
	}
	// The one reading does not answer a step that now takes two.
	changed, dropped, err := w.Change(1, Answer{Choice: "50a"})
	if err != nil || changed.At().Step != "legs" || len(changed.Step().Measure) != 2 || len(dropped) != 1 {
		t.Errorf("changed, the walk asks %v of %d quantities, %d dropped, %v", changed.At(), len(changed.Step().Measure), len(dropped), err)
	}
	// What leads to the fact is changed: the fact itself stays.
	changed, dropped, err = w.Change(0, Answer{Choice: "yes"})
	if err != nil || changed.At().Step != "found" || len(dropped) != 0 {
		t.Errorf("the walk is at %v, %d dropped, %v", changed.At(), len(dropped), err)
	}
}

func TestATreeFixesAFact(t *testing.T) {
	w := answered(t, started(t, plugs(map[string]string{"service": "30a"})), "yes")
	if len(w.Step().Measure) != 1 || !maps.Equal(w.Facts(), map[string]string{"service": "30a"}) {
		t.Errorf("the walk asks %v and knows %v", w.At(), w.Facts())
	}
	if _, _, err := w.Supply(Supplied{Facts: map[string]string{"service": "50a"}}); err == nil || !strings.Contains(err.Error(), "service: 30a, and 50a is given") {
		t.Errorf("the other plug is given: %v", err)
	}
}

func TestFactsAreSupplied(t *testing.T) {
	given := Supplied{Choices: map[Ref]string{{"t", "felt"}: "yes"}, Readings: map[string][]Reading{"l1-n": {volts(118)}}}
	_, next, err := started(t, plugs(nil)).Supply(given)
	if err != nil || next != "fact:service" {
		t.Errorf("without the fact the walk wants %q, %v", next, err)
	}
	given.Facts = map[string]string{"service": "30a"}
	w, next, err := started(t, plugs(nil)).Supply(given)
	if err != nil || next != "" || w.At().Step != "found" {
		t.Errorf("with it the walk is at %v and wants %q, %v", w.At(), next, err)
	}
	given.Facts["service"] = "50a"
	if _, next, _ := started(t, plugs(nil)).Supply(given); next != "l2-n" {
		t.Errorf("with the other plug the walk wants %q", next)
	}
}

func TestAStepWithNothingLeftMustSayWhereItLeads(t *testing.T) {
	f := plugs(map[string]string{"service": "30a"})
	f.Trees["t"].Step("across").NotApplicable = Exit{}
	w := answered(t, started(t, f), "yes")
	if _, err := w.Answer(Answer{Readings: []Reading{volts(118)}}); err == nil || !strings.Contains(err.Error(), "nothing to measure") {
		t.Errorf("the walk goes on: %v", errors.Unwrap(err))
	}
	f = plugs(map[string]string{"service": "30a"})
	f.Trees["t"].Start = "across"
	if w := started(t, f); w.At().Step != "found" {
		t.Errorf("a walk that begins where nothing is measured asks %v", w.At())
	}
}

func TestNeedsOfPointsAndQuantityHoldTogether(t *testing.T) {
	n := Needs{"service": {"30a", "50a"}}.And(Needs{"service": {"15a", "50a"}, "source": {"shore"}})
	if len(n["service"]) != 1 || n["service"][0] != "50a" || n["source"][0] != "shore" {
		t.Errorf("together they need %v", n)
	}
}

// A choice says which plug it means, and a plug which choice.
func TestFactsTellThePlug(t *testing.T) {
	f := &Forest{Facts: []Fact{
		{ID: "battery", Choices: []Choice{{ID: "gel"}, {ID: "agm"}}},
		{ID: "service", Choices: []Choice{{ID: "15a"}, {ID: "30a", Plug: "TT-30"}, {ID: "50a", Plug: "14-50"}}},
	}}
	for choice, want := range map[string]string{"": "", "15a": "", "30a": "TT-30", "50a": "14-50"} {
		if got := f.Plug(map[string]string{"battery": "agm", "service": choice}); got != want {
			t.Errorf("of a vehicle of %q the plug is %q, want %q", choice, got, want)
		}
	}
	if got := f.FactsOfPlug("TT-30"); !maps.Equal(got, map[string]string{"service": "30a"}) {
		t.Errorf("a plug of 30 A tells %v", got)
	}
	if got := f.FactsOfPlug("5-15"); len(got) != 0 {
		t.Errorf("a plug that no choice means tells %v", got)
	}
}
