package faulttree

import (
	"strings"
	"testing"
)

// twoTrees is supplyChart with its danger limits declared as given, and a second
// tree which judges the body.
func twoTrees(limits map[string]Amount, order ...string) *Forest {
	f := supplyChart()
	t := f.Trees["t"]
	t.Danger, t.Gravest = map[string]string{}, order
	f.Quantities = Quantities{}
	for _, v := range t.Step("readings").Measure {
		f.Quantities[v.Quantity.ID] = v.Quantity
	}
	for id, v := range limits {
		t.Limits[id] = Limit{Name: id, Value: v * One, Unit: VoltsAC}
		t.Danger[id] = id
	}
	body := Quantity{ID: "body-earth", Title: "Body to earth", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	f.Quantities[body.ID] = body
	ask := &Step{Tree: "body", ID: "ask", Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: body}},
		Branches: []Branch{
			{Bounds: []Bound{{0, Span{Lowest, 30 * One}, noPos}}, Exit: Exit{Text: "low", To: Ref{"body", "low"}}},
			{Bounds: []Bound{{0, Span{30 * One, Highest}, noPos}}, Exit: Exit{Text: "live", To: Ref{"body", "live"}, Signal: Danger}},
		}, OverRange: Exit{Text: "live", To: Ref{"body", "live"}, Signal: Danger}, NotPossible: Exit{Text: "low", To: Ref{"body", "low"}, Signal: Warning}}
	other := &Tree{ID: "body", Title: "A tingle", Start: "ask", Limits: map[string]Limit{"touch": {Value: 30 * One, Unit: VoltsAC}}, Danger: map[string]string{body.ID: "touch"},
		Steps: []*Step{ask, {Tree: "body", ID: "low", Kind: KindFinding}, {Tree: "body", ID: "live", Kind: KindFinding, Finding: Finding{Signal: Danger}}}}
	other.Index()
	f.Trees["body"] = other
	return f
}

// given are figures typed by quantity, as one sheet.
func given(t *testing.T, f *Forest, typed map[string]string) Supplied {
	t.Helper()
	s := Supplied{Readings: map[string][]Reading{}, Once: true}
	for id, text := range typed {
		s.Readings[id] = []Reading{asTyped(t, text, f.Quantities[id])}
	}
	return s
}

func TestTheFirstDeclaredDangerCountsFirst(t *testing.T) {
	limits := map[string]Amount{"g-earth": 30, "l1-n": 140, "l2-n": 140}
	typed := map[string]string{"g-earth": "58", "l1-n": "160", "l2-n": "150", "l1-l2": "310"}
	for _, order := range [][]string{{"g-earth", "l1-n", "l2-n"}, {"l2-n", "g-earth", "l1-n"}, {"l2-n"}, nil} {
		f := twoTrees(limits, order...)
		w, next, err := started(t, f).Supply(given(t, f, typed))
		first := f.Trees["t"].Dangers()[0]
		e := w.Trail()[0]
		if err != nil || next != "" || w.Asked(e.Step).Measure[0].Quantity.ID != first {
			t.Errorf("declared in the order %v: %v is judged first, wants %q, %v", order, e.Step, next, err)
		}
		// A live ground is known by itself, and the legs are told beside it; a leg
		// is looked at together with the others.
		left := map[string]int{"g-earth": 2}[first]
		r, _ := w.Finding()
		if len(w.Reached()) != left || strings.Count(r.Finding.Sure, "Given besides: ") != left {
			t.Errorf("%v: %v is left, the finding says %q", order, w.Reached(), r.Finding.Sure)
		}
	}
}

// A leg that is far too high means one thing by itself and another beside the
// other leg: what the sheet holds of the chart is looked at together, so that
// the row is the same as if each had been asked.
func TestAChartLooksAtTheWholeSheet(t *testing.T) {
	f := twoTrees(map[string]Amount{"l2-n": 140}, "l2-n")
	chart := f.Trees["t"].Step("readings").Chart
	chart.Pins = nil
	chart.Rows = append([]Row{row("low", Danger, in(5, -1), anyCell, in(140, -1), anyCell, anyCell)}, chart.Rows...)
	chart.Rows = append(chart.Rows[:len(chart.Rows)-1], row("live", Danger, anyCell, anyCell, in(140, -1), anyCell, anyCell), chart.Rows[len(chart.Rows)-1])
	w, _, err := started(t, f).Supply(given(t, f, map[string]string{"l2-n": "160.0", "l1-n": "80.0", "g-earth": "0.4", "l1-l2": "240.0"}))
	if err != nil || w.At().Step != "lost" || len(w.Trail()) != 1 || len(w.Trail()[0].Answer.Readings) != 4 {
		t.Errorf("with the whole sheet the walk is at %v after %v, %v", w.At(), w.Trail(), err)
	}
	if again, err := started(t, f).AnswerTo(w.Trail()[0].Step, w.Trail()[0].Answer); err != nil || again.At() != w.At() {
		t.Errorf("given at once by name it leads to %v, %v", again.At(), err)
	}
	if back := w.Back(); back.At() != started(t, f).At() || len(back.Trail()) != 0 {
		t.Errorf("taken back, the walk asks %v", back.At())
	}
}

// What only another tree declares is told, in that tree's words, and the walk
// goes on where it is; what it finds is DANGER and clears nothing.
func TestWhatAnotherTreeCallsADanger(t *testing.T) {
	f := twoTrees(map[string]Amount{"g-earth": 30}, "g-earth")
	sound := map[string]string{"g-earth": "0.4", "l1-n": "120.1", "l2-n": "119.8", "l1-l2": "240.0"}
	for _, c := range []struct {
		body  string
		hurts bool
	}{{"58", true}, {"29.6", true}, {"OL", true}, {"wanders 3 to 40", true}, {"2", false}, {"cannot: no spike", false}} {
		sound["body-earth"] = c.body
		w, next, err := started(t, f).Supply(given(t, f, sound))
		r, ended := w.Finding()
		if err != nil || next != "" || !ended || w.At() != (Ref{"t", "shown"}) {
			t.Fatalf("%s on the body: the walk is at %v and wants %q, %v", c.body, w.At(), next, err)
		}
		if got := len(w.Reached()) == 1; got != c.hurts {
			t.Errorf("%s on the body: reached %v", c.body, w.Reached())
		}
		if told := r.Finding.Signal == Danger && r.Finding.Clears == nil && strings.HasPrefix(r.Finding.FirstAction, "First begin the walk “A tingle”: Body to earth, ") && r.Title == "A reading that was given besides can hurt"; told != c.hurts {
			t.Errorf("%s on the body: the finding is %+v", c.body, r.Finding)
		}
	}
	// What that tree wants done at once takes the place of what the milder finding wants.
	sound["body-earth"] = "58"
	f.Trees["body"].Step("live").Title = "Plug out, now"
	f.Trees["body"].AtOnce = map[string]string{"body-earth": "live"}
	at, _, err := started(t, f).Supply(given(t, f, sound))
	if r, _ := at.Finding(); err != nil || r.Finding.Signal != Danger || r.Finding.FirstAction != "Plug out, now." {
		t.Errorf("what is wanted at once is told as %q, %v", r.Finding.FirstAction, err)
	}
	f.Trees["body"].AtOnce = nil
	// The tree's own word on a quantity counts, not that of another tree.
	f.Trees["body"].Limits["low"], f.Trees["body"].Danger["g-earth"] = Limit{Value: 5 * One, Unit: VoltsAC}, "low"
	if w, _, _ := started(t, f).Supply(given(t, f, map[string]string{"g-earth": "12.0"})); len(w.Reached()) != 0 {
		t.Errorf("12 V where this tree says 30 V: %v", w.Reached())
	}
	// A walk that comes into the other tree meets it there.
	f.Trees["t"].Step("before").Branches[0].Exit = Exit{Text: "ask", To: Ref{"body", "ask"}}
	f.Trees["t"].Start = "before"
	w, _, err := started(t, f).Supply(given(t, f, map[string]string{"l1-n": "120.1", "body-earth": "58"}))
	if err != nil || w.At() != (Ref{"body", "live"}) || len(w.Reached()) != 0 {
		t.Errorf("in the other tree the walk is at %v, %v is left, %v", w.At(), w.Reached(), err)
	}
}

// A direct voltage hurts by its size; where a minus sign tells only how the
// probes were, the size alone is meant.
func TestGivenFiguresHurtByTheirSize(t *testing.T) {
	for _, sizeOnly := range []bool{false, true} {
		f := twoTrees(map[string]Amount{"g-earth": 30}, "g-earth")
		q := f.Quantities["body-earth"]
		q.Unit, q.SizeOnly = VoltsDC, sizeOnly
		f.Quantities[q.ID] = q
		limit := f.Trees["body"].Limits["touch"]
		limit.Unit = VoltsDC
		f.Trees["body"].Limits["touch"] = limit
		for typed, hurts := range map[string]bool{"-58": true, "58": true, "-29.9": true, "-12.6": false} {
			w, _, err := started(t, f).Supply(given(t, f, map[string]string{"body-earth": typed}))
			if err != nil || (len(w.Reached()) == 1) != hurts {
				t.Errorf("size only %v, %s V: reached %v, %v", sizeOnly, typed, w.Reached(), err)
			}
		}
	}
}

// A figure of what the facts rule out hurts all the same.
func TestADangerThatTheFactsRuleOut(t *testing.T) {
	f := plugs(nil)
	tree := f.Trees["t"]
	tree.Limits["over"], tree.Danger["l2-n"] = Limit{Value: 140 * One, Unit: VoltsAC}, "over"
	legs := tree.Step("legs")
	stop := &Step{Tree: "t", ID: "stop", Title: "Stop", Kind: KindAct, Act: Act{Exit: goTo("low", Danger)}}
	tree.Steps = append(tree.Steps, stop)
	legs.Branches = append([]Branch{{Bounds: []Bound{{0, Span{140 * One, Highest}, noPos}}, Exit: goTo("stop", Danger)}}, legs.Branches...)
	tree.Index()
	f.Quantities = Quantities{"l1-n": legs.Measure[1].Quantity, "l2-n": legs.Measure[0].Quantity}
	for _, facts := range []map[string]string{{"service": "30a"}, {"service": "50a"}, nil} {
		s := given(t, f, map[string]string{"l2-n": "250", "l1-n": "118"})
		s.Facts = facts
		w, next, err := started(t, f).Supply(s)
		if _, stopped := w.Stop(); err != nil || !stopped || next != "t#stop" || w.Fact("service") != facts["service"] {
			t.Errorf("with the facts %v the walk is at %v, wants %q, knows %v, %v", facts, w.At(), next, w.Facts(), err)
		}
		last := w.Trail()[len(w.Trail())-1]
		if asked := w.Asked(last.Step); len(asked.Measure) != len(last.Answer.Readings) || !w.took("l2-n", s.Readings["l2-n"][0]) {
			t.Errorf("with the facts %v the step tells of %d quantities, %d were read", facts, len(asked.Measure), len(last.Answer.Readings))
		}
		if facts["service"] == "" {
			continue
		}
		// The fact is changed after the STOP: what was read is still over the limit.
		for _, other := range []string{"30a", "50a"} {
			changed, dropped, err := w.Change(0, Answer{Choice: other})
			if _, stopped := changed.Stop(); err != nil || !stopped || len(dropped) != 0 {
				t.Errorf("from %v to %s the walk is at %v, %v dropped, %v", facts, other, changed.At(), dropped, err)
			}
		}
	}
}

// A figure that came out of its turn and is corrected waits for its turn: what the
// tree asks before is asked, and the walk may not end without it.
func TestACorrectedDangerWaitsForItsTurn(t *testing.T) {
	w, _, err := begin(t, Owner).Supply(Supplied{Readings: map[string][]Reading{"body-earth": {asTyped(t, "58", legVolts)}}})
	if err != nil || w.Trail()[0].Stood != begin(t, Owner).At() {
		t.Fatalf("%v %+v", err, w.Trail())
	}
	low, dropped, err := w.Change(0, Answer{Readings: []Reading{asTyped(t, "2", legVolts)}})
	if err != nil || len(dropped) != 0 || low.At() != begin(t, Owner).At() || len(low.Trail()) != 0 {
		t.Errorf("corrected to 2 V the walk is at %v, %v", low.At(), err)
	}
	high, _, err := w.Change(0, Answer{Readings: []Reading{asTyped(t, "60", legVolts)}})
	if _, stopped := high.Stop(); err != nil || !stopped || high.Trail()[0].Answer.Readings[0].Text != "60" {
		t.Errorf("corrected to 60 V the walk is at %v, %v", high.At(), err)
	}
}

// A fact may be told at any time, once.
func TestAFactIsToldBeforeItIsNeeded(t *testing.T) {
	w, err := started(t, plugs(nil)).AnswerTo(FactRef("service"), Answer{Choice: "30a"})
	if err != nil || w.At().Step != "felt" || w.Fact("service") != "30a" {
		t.Fatalf("told first, the walk is at %v and knows %v, %v", w.At(), w.Facts(), err)
	}
	if _, err := w.AnswerTo(FactRef("service"), Answer{Choice: "50a"}); err == nil {
		t.Error("a fact is told twice; it is changed instead")
	}
	if w = answered(t, w, "yes"); len(w.Step().Measure) != 1 {
		t.Errorf("the step measures %+v", w.Step().Measure)
	}
}

// What was given and no step has taken is told apart from what was; the lowest limit
// of any tree is found without a walk.
func TestUntakenFigures(t *testing.T) {
	f := twoTrees(map[string]Amount{"g-earth": 30})
	w, _, err := started(t, f).Supply(given(t, f, map[string]string{"g-earth": "58", "body-earth": "12"}))
	if err != nil {
		t.Fatal(err)
	}
	left := ""
	for q, r := range w.Untaken() {
		left += q.ID + " " + r.Text + ";"
	}
	if left != "body-earth 12;" {
		t.Errorf("untaken is %q", left)
	}
	body := f.Quantities["body-earth"]
	if _, hurts := f.Reaches(DefaultMeter(), body, asTyped(t, "12", body)); hurts {
		t.Error("12 V reaches the limit of 30 V")
	}
	if x, hurts := f.Reaches(DefaultMeter(), body, asTyped(t, "58", body)); !hurts || x.Tree != "body" || x.Limit != 30*One {
		t.Errorf("58 V reaches %+v, %v", x, hurts)
	}
}
