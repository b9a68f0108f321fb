package faulttree

import (
	"strings"
	"testing"

	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

var noPos source.Pos

// small is a tree with a proof of the meter, a body reading, an observation, a
// recheck, a STOP and work for a qualified person.
func small() *Forest {
	body := ladder()
	body.Branches[0].Exit = goTo("again", NoSignal)
	body.Branches[1].Exit = goTo("wet", Warning)
	body.Branches[2].Exit = goTo("stop", Danger)
	body.OverRange, body.NotPossible = goTo("stop", Danger), goTo("open-it", Warning)
	again := &Step{ID: "again", Kind: KindMeasure, Recheck: 2, Then: goTo("found-nothing", Notice),
		Measure: []Variable{{Name: "v", Quantity: legVolts}},
		Branches: []Branch{
			{Bounds: []Bound{{0, Span{Lowest, 100 * One}, noPos}}, Exit: goTo("again", Warning)},
			{Bounds: []Bound{{0, Span{100 * One, Highest}, noPos}}, Exit: goTo("found-nothing", Notice)},
		}, OverRange: goTo("stop", Danger), NotPossible: goTo("open-it", Warning)}
	steps := []*Step{
		{ID: "prepare", Kind: KindAct, Act: Act{Exit: goTo("body", NoSignal)}},
		body, again,
		{ID: "wet", Kind: KindObserve, Choices: []Choice{
			{ID: "yes", Text: "Yes", Exit: goTo("stop", Danger)}, {ID: "no", Text: "No", Exit: goTo("again", NoSignal)}}},
		{ID: "stop", Kind: KindAct, Act: Act{Exit: goTo("found-live", Danger)}},
		{ID: "open-it", Kind: KindMeasure, For: Qualified, Measure: []Variable{{Name: "v", Quantity: legVolts}},
			Branches: []Branch{{Exit: goTo("found-nothing", Notice)}}},
		{ID: "found-live", Title: "The body is live", Kind: KindFinding, Finding: Finding{Signal: Danger, Faults: []string{"open-ground"}}},
		{ID: "found-nothing", Title: "Nothing shown", Kind: KindFinding, Finding: Finding{Signal: Notice, Clears: []Place{Supply}}},
	}
	tree := &Tree{ID: "t", Start: "prepare", Steps: steps,
		Limits: map[string]Limit{"touch": {Name: "touch", Value: 30 * One, Unit: VoltsAC}},
		Danger: map[string]string{"body-earth": "touch"}}
	for _, s := range steps {
		s.Tree = "t"
	}
	tree.Index()
	return &Forest{Trees: map[string]*Tree{"t": tree}}
}

func goTo(step string, s Signal) Exit { return Exit{Text: step, To: Ref{"t", step}, Signal: s} }

func begin(t testing.TB, role Role) Walk {
	t.Helper()
	return must.Have(Begin(small(), Ref{Tree: "t"}, role, DefaultMeter()))(t)
}

func give(t testing.TB, w Walk, answers ...string) Walk {
	t.Helper()
	for _, text := range answers {
		s := w.Step()
		a := Answer{Done: true, Choice: text}
		if s.Kind == KindMeasure {
			r := must.Have(ParseReading(text, s.Measure[0].Quantity))(t)
			a.Readings = []Reading{r}
		}
		next, err := w.Answer(a)
		if err != nil {
			t.Fatalf("%s: %v", s.Ref(), err)
		}
		w = next
	}
	return w
}

func TestWalkIsAValue(t *testing.T) {
	start := begin(t, Owner)
	a := give(t, start, "done")
	low, high := give(t, a, "2"), give(t, a, "58")
	if low.At().Step != "again" || high.At().Step != "stop" || a.At().Step != "body" || start.At().Step != "prepare" {
		t.Fatalf("walks share their memory: %v %v %v %v", low.At(), high.At(), a.At(), start.At())
	}
	if low.Trail()[1].Answer.Readings[0].Text != "2" {
		t.Error("a second walk from the same place overwrote the first")
	}
}

func TestStopIsRememberedAndRules(t *testing.T) {
	w := give(t, begin(t, Owner), "done", "58")
	if r, ok := w.Stop(); !ok || r.Step != "stop" {
		t.Fatalf("standing on a STOP is not reported: %v %v", r, ok)
	}
	w = give(t, w, "done")
	r, ok := w.Finding()
	if !ok || r.Ref.Step != "found-live" {
		t.Fatalf("ended at %v", r.Ref)
	}
	// A document that leads from a STOP to an all-clear is still DANGER.
	w.at = Ref{"t", "found-nothing"}
	if r, _ = w.Finding(); r.Finding.Signal != Danger || r.Finding.Clears != nil {
		t.Errorf("after a STOP a finding keeps %v and clears %v", r.Finding.Signal, r.Finding.Clears)
	}
}

func TestAWalkFromTheMiddleClearsNothing(t *testing.T) {
	whole := give(t, begin(t, Owner), "done", "2", "120")
	if r, ok := whole.Finding(); !ok || r.Finding.Signal != Notice || len(r.Finding.Clears) != 1 {
		t.Fatalf("a whole walk ends with %+v", r)
	}
	w := must.Have(Begin(small(), Ref{"t", "body"}, Owner, DefaultMeter()))(t)
	r, ok := give(t, w, "2", "120").Finding()
	if !ok || r.Finding.Signal != Warning || r.Finding.Clears != nil || !strings.Contains(r.Finding.Sure, "began at") {
		t.Errorf("a walk from the middle ends with %+v", r)
	}
}

func TestOwnerIsHandedOver(t *testing.T) {
	w := give(t, begin(t, Owner), "done", "cannot: no spike")
	r, ok := w.Finding()
	if !ok || !r.HandedOver || r.Ref.Step != HandOver || w.Step() != nil || r.Finding.Signal != Warning {
		t.Errorf("an owner at a qualified step: %+v %v", r, ok)
	}
	if w = give(t, begin(t, Qualified), "done", "cannot: no spike"); w.Step() == nil || w.Ended() {
		t.Error("a qualified person is handed over")
	}
}

func TestRecheckIsBounded(t *testing.T) {
	w := give(t, begin(t, Owner), "done", "2", "20", "20")
	r, ok := w.Finding()
	if !ok || r.Ref.Step != "found-nothing" {
		t.Fatalf("the third entry does not lead to `then`: at %v", w.At())
	}
	if e := w.Trail()[3]; e.Outcome.Text != "again" || e.Next.Step != "found-nothing" {
		t.Errorf("the trail forgets where the bound led: %+v", e)
	}
}

func TestBackAndChange(t *testing.T) {
	w := give(t, begin(t, Owner), "done", "20", "no", "20")
	if b := w.Back(); b.At().Step != "again" || len(b.Trail()) != 3 {
		t.Errorf("back leads to %v", b.At())
	}
	// From 20 V to 2 V: the observation is no longer asked, the recheck stands.
	next, dropped, err := w.Change(1, Answer{Readings: []Reading{asTyped(t, "2", legVolts)}})
	if err != nil || len(dropped) != 1 || dropped[0].Step.Step != "wet" {
		t.Fatalf("dropped %v, %v; want the observation", dropped, err)
	}
	if trail := next.Trail(); len(trail) != 3 || trail[2].Answer.Readings[0].Text != "20" {
		t.Errorf("the later reading does not stand: %v", trail)
	}
	if len(w.Trail()) != 4 {
		t.Error("changing an answer changed the walk it came from")
	}
	if _, _, err := w.Change(9, Answer{}); err == nil {
		t.Error("an answer that is not there can be changed")
	}
}

func TestSuppliedReadingsMeetDangerFirst(t *testing.T) {
	body := begin(t, Owner).Forest().Trees["t"].Step("body").Measure[0].Quantity
	for _, c := range []struct{ text, at, next string }{
		{"58", "found-live", ""},
		{"29.5", "found-live", ""}, // within the meter's uncertainty of 30 V
		{"OL", "found-live", ""},
		{"2", "again", "pedestal.l1-n"},
		{"20", "wet", "t#wet"},
	} {
		s := Supplied{Readings: map[string][]Reading{"body-earth": {asTyped(t, c.text, body)}}, ActsDone: true}
		w, next, err := begin(t, Owner).Supply(s)
		if err != nil || w.At().Step != c.at || next != c.next {
			t.Errorf("%s: at %v, wants %q, %v; want %s, %q", c.text, w.At(), next, err, c.at, c.next)
		}
		if c.next == "" && w.Trail()[0].Step.Step != "body" {
			t.Errorf("%s: the dangerous reading was not met first: %v", c.text, w.Trail())
		}
	}
}

func TestSuppliedListsRunOut(t *testing.T) {
	s := Supplied{ActsDone: true, Readings: map[string][]Reading{
		"body-earth":    {asTyped(t, "2", legVolts)},
		"pedestal.l1-n": {asTyped(t, "20", legVolts), asTyped(t, "120", legVolts)},
	}}
	w, next, err := begin(t, Owner).Supply(s)
	if err != nil || next != "" || len(w.Trail()) != 4 {
		t.Errorf("a list is not used in order: %v, wants %q, %v", w.Trail(), next, err)
	}
}

func BenchmarkWalkStep(b *testing.B) {
	w := give(b, begin(b, Owner), "done")
	r := must.Have(ParseReading("2.0", w.Step().Measure[0].Quantity))(b)
	a := Answer{Readings: []Reading{r}}
	for b.Loop() {
		must.Have(w.Answer(a))(b)
	}
}

func TestTreesAWalkCouldComeThrough(t *testing.T) {
	tree := func(id string, to ...string) *Tree {
		out := &Tree{ID: id}
		for _, next := range to {
			out.Steps = append(out.Steps, &Step{Kind: KindAct, Act: Act{Exit: Exit{Text: next, To: Ref{next, "a"}}}})
		}
		return out
	}
	f := &Forest{Trees: map[string]*Tree{"a": tree("a", "a", "b"), "b": tree("b", "a", "missing"), "c": tree("c", "a")}}
	if got := strings.Join(f.Reached("a"), " "); got != "a b missing" {
		t.Errorf("from a: %s", got)
	}
	if got := strings.Join(f.Reached("nowhere"), " "); got != "nowhere" {
		t.Errorf("from a tree that is not there: %s", got)
	}
}

func TestASkippedReadingClearsNothing(t *testing.T) {
	w := give(t, begin(t, Qualified), "done")
	w, err := w.Answer(Answer{Readings: []Reading{NotTaken("no spike")}})
	if err != nil {
		t.Fatal(err)
	}
	r, ok := give(t, w, "120").Finding()
	if !ok || r.Finding.Signal != Warning || r.Finding.Clears != nil || !strings.Contains(r.Finding.Sure, "Not measured") {
		t.Errorf("a walk without its reading to earth ends with %+v", r)
	}
	harmless := small()
	harmless.Trees["t"].Step("body").NotPossible.Signal = NoSignal
	if w, err = Begin(harmless, Ref{Tree: "t"}, Qualified, DefaultMeter()); err != nil {
		t.Fatal(err)
	}
	if w, err = give(t, w, "done").Answer(Answer{Readings: []Reading{NotTaken("none there")}}); err != nil {
		t.Fatal(err)
	}
	if r, ok := give(t, w, "120").Finding(); !ok || len(r.Finding.Clears) != 1 {
		t.Errorf("a reading that does not apply counts as skipped: %+v", r)
	}
}

// A reading typed once is one reading: with Once a step that asks again for
// what was given asks the reader.
func TestSuppliedOnceAnswersOneStep(t *testing.T) {
	q := Quantity{ID: "proof", Proves: ProvesVoltsAC, Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	step := func(id, next string) *Step {
		e := Exit{Text: next, To: Ref{"t", next}}
		return &Step{Tree: "t", ID: id, Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: q}}, Branches: []Branch{{Exit: e}}, OverRange: e, NotPossible: e}
	}
	tree := &Tree{ID: "t", Start: "before", Steps: []*Step{step("before", "after"), step("after", "end"), {Tree: "t", ID: "end", Kind: KindFinding}}}
	tree.Index()
	f := &Forest{Quantities: Quantities{q.ID: q}, Trees: map[string]*Tree{"t": tree}}
	w := must.Have(Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter()))(t)
	s := Supplied{Readings: map[string][]Reading{q.ID: {asTyped(t, "119.8", q)}}}
	if all, next, err := w.Supply(s); err != nil || next != "" || all.Readings() != 2 {
		t.Errorf("a reading for every step: %d readings, %q wanted, %v", all.Readings(), next, err)
	}
	s.Once = true
	if one, next, err := w.Supply(s); err != nil || next != q.ID || one.Readings() != 1 {
		t.Errorf("a reading taken once: %d readings, %q wanted, %v", one.Readings(), next, err)
	}
}

// Answers are compared by what they say, not by how they were typed.
func TestSameAnswer(t *testing.T) {
	q := Quantity{ID: "body-earth", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	read := func(text string) Answer { return Answer{Readings: []Reading{asTyped(t, text, q)}} }
	for _, c := range []struct {
		a, b Answer
		same bool
	}{
		{read("58"), read("58 V"), true},
		{read("58"), read("58.0"), false}, // the finer digit means less uncertainty
		{read("58"), read("59"), false},
		{read("OL"), read("OL"), true},
		{read("cannot: wet"), read("cannot: dark"), false},
		{Answer{Choice: "a"}, Answer{Choice: "b"}, false},
		{Answer{Choice: "a"}, Answer{Choice: "a"}, true},
		{Answer{Done: true}, Answer{Done: true}, true},
		{read("58"), Answer{Done: true}, false},
	} {
		if c.a.Same(c.b) != c.same || c.b.Same(c.a) != c.same {
			t.Errorf("%v and %v: same is not %v", c.a, c.b, c.same)
		}
	}
}
