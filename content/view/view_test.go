package view

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

// handbook is the small handbook that the tests of the window share.
func handbook(t *testing.T) *content.Library {
	t.Helper()
	lib := load.FS(context.Background(), os.DirFS("../../testdata/handbook"))
	must.Do(t, lib.Diagnostics.Err())
	return lib
}

func begin(t *testing.T, lib *content.Library, tree string) faulttree.Walk {
	t.Helper()
	return must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, faulttree.Owner, faulttree.DefaultMeter()))(t)
}

// give answers measure steps with readings, observe steps with a choice and
// act steps with "done".
func give(t *testing.T, w faulttree.Walk, texts ...string) faulttree.Walk {
	t.Helper()
	for _, text := range texts {
		s := w.Step()
		a := faulttree.Answer{Choice: text, Done: text == "done"}
		if s.Kind == faulttree.KindMeasure {
			a = faulttree.Answer{}
			for i, part := range strings.Split(text, "|") {
				r := must.Have(faulttree.ParseReading(part, s.Measure[i].Quantity))(t)
				a.Readings = append(a.Readings, r)
			}
		}
		var err error
		if w, err = w.Answer(a); err != nil {
			t.Fatalf("%s at %s: %v", text, s.Ref(), err)
		}
	}
	return w
}

func TestStepAsAsked(t *testing.T) {
	lib := handbook(t)
	w := give(t, begin(t, lib, "tingle"), "yes", "119.8")
	v := StepOf(lib, w.Step(), len(w.Trail())+1)
	if v.Number != 3 || v.Above != "A tingle from the body · step 3" || v.Tree != "A tingle from the body" || v.Question != "Measure from bare metal of the body to the spike" {
		t.Errorf("step %d of %q: %q", v.Number, v.Tree, v.Question)
	}
	if v.Caution.Signal != faulttree.Warning || !strings.HasPrefix(v.Caution.Text(), "Live supply;") {
		t.Errorf("caution %v %q", v.Caution.Signal, v.Caution.Text())
	}
	want := []Chip{{"function", "AC volts"}, {"range", "600 V or the next above"}, {"hold", "off"}}
	if diff := cmp.Diff(want, v.Asked[0].Chips); diff != "" {
		t.Error(diff)
	}
	if len(v.Cards) != 1 || v.Cards[0].ID != "doubt-the-meter" {
		t.Errorf("cards beside the step: %+v", v.Cards)
	}
}

func TestObserveStepHasDigits(t *testing.T) {
	lib := handbook(t)
	v := StepOf(lib, begin(t, lib, "tingle").Step(), 1)
	if len(v.Choices) != 2 || v.Choices[0].Digit != 1 || v.Choices[1].Digit != 2 || v.Choices[1].ID != "no" {
		t.Errorf("%+v", v.Choices)
	}
	if v.Caution.Signal != faulttree.Danger {
		t.Error("the first-minute caution must show as DANGER")
	}
}

func TestJudgeSaysWhereItLeads(t *testing.T) {
	lib := handbook(t)
	s := give(t, begin(t, lib, "tingle"), "yes", "119.8").Step()
	m := faulttree.DefaultMeter()
	for _, c := range []struct {
		text, leads, settle, problem string
		ready, certain               bool
		signal                       faulttree.Signal
	}{
		{text: ""},
		{text: "41.5", ready: true, certain: true, signal: faulttree.Danger, leads: "Leads to: stop", settle: "Above the 30 V limit by more than the meter's error; nothing to settle."},
		{text: "2.0", ready: true, certain: true, leads: "Leads to: nothing yet", settle: "Below the 5 V limit by more than the meter's error; nothing to settle."},
		{text: "30 V", ready: true, signal: faulttree.Danger, leads: "Leads to: stop", settle: "within the meter's uncertainty of 30 V"},
		{text: "29,8", ready: true, signal: faulttree.Danger, leads: "Leads to: stop", settle: "within the meter's uncertainty of 30 V"},
		{text: "OL", ready: true, certain: true, signal: faulttree.Danger, leads: "Leads to: Stop, the body is live", settle: "Over the meter's range"},
		{text: "-3", problem: "."},
		{text: "12000", problem: "."},
		{text: "5 ohm", problem: "."},
		{text: "forty", problem: "."},
	} {
		v := Judge(lib, s, m, []string{c.text})
		if v.Ready != c.ready || v.Certain != c.certain || v.Signal != c.signal || v.Leads != c.leads {
			t.Errorf("%q: %+v", c.text, v)
		}
		if !strings.Contains(v.Advice, c.settle) {
			t.Errorf("%q: settle %q, want %q in it", c.text, v.Advice, c.settle)
		}
		if !strings.HasSuffix(v.Problem(), c.problem) || (c.problem == "") != (v.Problem() == "") {
			t.Errorf("%q: problem %q", c.text, v.Problem())
		}
	}
}

// The shown interval is never narrower than the judged one, and has two
// figures. 58.0 V ± (1.2 % + 5 counts of 0.1 V) is 0.696 + 0.5 = 1.196 V.
func TestUncertaintyIsRoundedAwayFromZero(t *testing.T) {
	lib := handbook(t)
	q := lib.Forest.Quantities["body-earth"]
	m := faulttree.DefaultMeter()
	for text, want := range map[string]string{"2": "±1.1 V", "41.5": "±1.0 V", "29.99": "±0.41 V", "58.0": "±1.2 V", "119.8": "±2.0 V", "0.3": "±0.51 V", "OL": "", "cannot: wet": ""} {
		r := must.Have(faulttree.ParseReading(text, q))(t)
		got := Uncertainty(r, q, m)
		if got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
		if a, err := faulttree.ParseAmount(strings.TrimSuffix(strings.TrimPrefix(got, "±"), " V")); want != "" && (err != nil || a < m.Uncertainty(r, q)) {
			t.Errorf("%s: shown %s is less than ±%s", text, got, m.Uncertainty(r, q))
		}
	}
}

func TestTwoQuantitiesAreBothNeeded(t *testing.T) {
	lib := handbook(t)
	w := give(t, begin(t, lib, "post"), "1.2")
	s := w.Step()
	v := Judge(lib, s, w.Meter(), []string{"119", ""})
	if v.Ready || v.Leads != "" || v.Typed[0].Uncertainty == "" {
		t.Errorf("%+v", v)
	}
	if v = Judge(lib, s, w.Meter(), []string{"119", "80"}); !v.Ready || v.Leads != "Leads to: L2 low" {
		t.Errorf("%+v", v)
	}
}

func TestTrailAndChange(t *testing.T) {
	lib := handbook(t)
	w := give(t, begin(t, lib, "tingle"), "yes", "119.8", "58", "done")
	lines := lists.Each(Trail(lib, w), func(p Past) string { return p.Title + ": " + p.Short })
	want := []string{"Was a tingle felt?: Yes", "Meter on a known outlet: 119.8 V", "Body to earth: 58 V", "Stop, the body is live: done"}
	if diff := cmp.Diff(want, lines); diff != "" {
		t.Error(diff)
	}
	s := lib.Forest.Step(w.Trail()[2].Step)
	low := Judge(lib, s, w.Meter(), []string{"2"}).Answer
	c := must.Have(ChangeOf(lib, w, 2, low))(t)
	if len(c.Dropped) != 1 || len(c.Stand) != 0 || c.Same {
		t.Errorf("%+v", c)
	}
	if !strings.Contains(c.Sentence(), "will be dropped: Stop, the body is live (done).") {
		t.Error(c.Sentence())
	}
	if len(w.Trail()) != 4 {
		t.Error("trying a change must change nothing")
	}
	high := Judge(lib, s, w.Meter(), []string{"60"}).Answer
	if c, _ = ChangeOf(lib, w, 2, high); len(c.Stand) != 1 || !strings.HasPrefix(c.Sentence(), "Every later answer still stands") {
		t.Error(c.Sentence())
	}
}

func TestFindingOfALiveBody(t *testing.T) {
	lib := handbook(t)
	w := give(t, begin(t, lib, "tingle"), "yes", "119.8", "58", "done", "OL")
	v, ok := FindingOf(lib, w)
	if !ok {
		t.Fatal("the walk has not ended")
	}
	if v.Signal != faulttree.Danger || len(v.Do) != 3 || v.Do[1] != "Leave it unplugged." {
		t.Errorf("%v %q", v.Signal, v.Do)
	}
	if len(v.Shows) != 3 || v.Shows[1].Value != "58 V" || v.Shows[1].Range != "30 V and more" || v.Shows[2].Value != "OL" {
		t.Errorf("%+v", v.Shows)
	}
	if len(v.NotExclude) != 1 || v.NotExclude[0].Faults[0].Kind != KindFault || v.NotExclude[0].Test == "" {
		t.Errorf("%+v", v.NotExclude)
	}
	for _, want := range []string{"DANGER", "Do not plug in again", "led to “Stop, the body is live”. From there on", "What shows it", "Body to earth: 58 V ±1.7 V (DANGER: 30 V and more, stop)", "cannot exclude", "Continuity from the panel's ground"} {
		if !strings.Contains(v.Text(), want) {
			t.Errorf("copied text lacks %q:\n%s", want, v.Text())
		}
	}
}

func TestOwnerIsHandedOver(t *testing.T) {
	lib := handbook(t)
	w := give(t, begin(t, lib, "tingle"), "yes", "119.8", "12")
	v, ok := FindingOf(lib, w)
	if !ok || !v.HandedOver || !strings.HasPrefix(v.Above, "Handed over") {
		t.Errorf("%v %+v", ok, v)
	}
}

func TestSheetMeetsDangerInAnyOrder(t *testing.T) {
	lib := handbook(t)
	w := begin(t, lib, "post")
	v := AllReadingsOf(lib, w, nil)
	if len(v.Rows) != 5 || v.Given != 0 || v.Stop != "" || v.Progress() != "0 of 5 readings given" {
		t.Fatalf("%+v", v)
	}
	// The first three are given, the reading from ground to the spike last.
	v = AllReadingsOf(lib, w, map[string]string{"pedestal.l1-n": "119", "pedestal.l2-n": "120.5", "pedestal.n-g": "0.4"})
	if v.Stop != "" || v.Ahead != "; wanted next: Pedestal: ground to the spike." {
		t.Errorf("stop %q, ahead %q", v.Stop, v.Ahead)
	}
	v = AllReadingsOf(lib, w, map[string]string{"pedestal.l1-n": "119", "pedestal.g-earth": "118"})
	if v.Stop != "The grounding contact is live" || v.Rows[0].Danger == "" || v.Rows[1].Danger != "" {
		t.Errorf("%q %+v", v.Stop, v.Rows[:2])
	}
	v = AllReadingsOf(lib, w, map[string]string{"pedestal.g-earth": "OL"})
	if v.Stop == "" {
		t.Error("over range on a quantity with a danger limit must stop")
	}
	v = AllReadingsOf(lib, w, map[string]string{"pedestal.l1-n": "twelve"})
	if v.Given != 0 || v.Rows[1].Typed.Problem == "" {
		t.Errorf("%+v", v.Rows[1])
	}
}

func TestDocuments(t *testing.T) {
	lib := handbook(t)
	for _, k := range Kinds() {
		for _, l := range All(lib, k) {
			if k == KindTree {
				continue
			}
			d, ok := DocumentOf(lib, k, l.ID)
			if !ok || d.Title == "" || d.Kind != k {
				t.Errorf("%s %s: %v %+v", k, l.ID, ok, d.Link)
			}
			if !strings.Contains(d.Text(), d.Title) {
				t.Errorf("%s: copied text lacks the title", l.ID)
			}
		}
	}
	if _, ok := DocumentOf(lib, KindCard, "none"); ok {
		t.Error("a card that does not exist was found")
	}
	src, _ := DocumentOf(lib, KindSource, "published-limit")
	if len(src.Related) != 1 || src.Related[0].ID != "live-body" {
		t.Errorf("a source lists what rests on it: %+v", src.Related)
	}
	if got := Handbook(lib, KindFault, "break INSIDE"); len(got) != 1 || len(got[0].Links) != 1 {
		t.Errorf("%+v", got)
	}
	if got := Openings(lib); len(got) != 3 || got[2].Open.Kind != KindCard || got[0].Digit != 1 {
		t.Errorf("%+v", got)
	}
}

func TestSentences(t *testing.T) {
	got := Sentences("Breaker off; then pull the plug. Keep off 5 V. wait for the site")
	want := []string{"Breaker off.", "Then pull the plug.", "Keep off 5 V.", "Wait for the site."}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if Sentences("  ") != nil {
		t.Error("nothing has no sentences")
	}
}

func TestTheDangerLineIsOneSentence(t *testing.T) {
	lib := handbook(t)
	c := CautionsOf(lib, []string{"live-work", "first-minute", "prove-the-meter"})
	if c.Signal != faulttree.Danger || c.Each[0].ID != "first-minute" {
		t.Errorf("%v %+v", c.Signal, c.Each)
	}
	want := Sentence(lib.Cautions["first-minute"].Title)
	if got := c.First() + " " + c.More(); got != want+" and 2 more" {
		t.Error(got)
	}
	if c = CautionsOf(lib, []string{"first-minute"}); c.First() != want || c.More() != "" {
		t.Errorf("%q %q", c.First(), c.More())
	}
	if c = CautionsOf(lib, nil); c.First() != "" || c.More() != "" {
		t.Errorf("%q %q", c.First(), c.More())
	}
}

func TestWhenASheetIsOpen(t *testing.T) {
	lib := handbook(t)
	w := begin(t, lib, "post")
	if !AllReadingsOpen(lib, w) || AllReadingsOpen(lib, begin(t, lib, "tingle")) {
		t.Error("a sheet is open where the tree has one and nothing has been read")
	}
	if AllReadingsOpen(lib, give(t, w, "0.6")) {
		t.Error("a sheet is open after a reading")
	}
}

// A chart that is known is not asked; the trail tells it below the answer before
// it.
func TestTrailTellsWhatWasKnownByThen(t *testing.T) {
	lib := handbook(t)
	tree := lib.Forest.Trees["tingle"]
	w := give(t, begin(t, lib, "tingle"), "yes")
	proof, next := w.Step(), give(t, w, "119.8").Step()
	on := faulttree.Exit{Text: next.ID, To: next.Ref(), Label: "as it should be"}
	again := &faulttree.Step{Tree: "tingle", ID: "again", Title: "The meter once more", Kind: faulttree.KindChart,
		Measure: proof.Measure, Chart: &faulttree.Chart{Rows: []faulttree.Row{{Cells: make([]faulttree.Cell, 1), Exit: on}}}, NotPossible: on}
	tree.Steps = append(tree.Steps, again)
	tree.Index()
	for i := range proof.Branches {
		proof.Branches[i].To = again.Ref()
	}
	w = give(t, begin(t, lib, "tingle"), "yes", "119.8")
	past := Trail(lib, w)
	if w.Step() != next || len(past) != 2 || past[0].Known != "" || past[1].Known != "Known by then: The meter once more → as it should be" {
		t.Errorf("at %v with the trail %+v", w.At(), past)
	}
	if v, _ := FindingOf(lib, give(t, w, "2")); v.Above != "Finding · 2 readings · none within the meter's error of a limit" {
		t.Errorf("with a certain chart: %q", v.Above)
	}
	higher := on
	higher.To = faulttree.Ref{Tree: "tingle", Step: "bad-meter"}
	again.Chart = &faulttree.Chart{Rows: []faulttree.Row{
		{Cells: []faulttree.Cell{{Spans: []faulttree.Span{{Below: 120 * faulttree.One}}}}, Exit: on}, {Cells: make([]faulttree.Cell, 1), Exit: higher},
	}}
	if v, _ := FindingOf(lib, give(t, begin(t, lib, "tingle"), "yes", "119.8", "2")); !strings.Contains(v.Above, "readings taken together lie within") || strings.Contains(v.Above, "none within") {
		t.Errorf("with an uncertain chart: %q", v.Above)
	}
	if v := StepOf(lib, again, 0); len(v.Asked) != 0 {
		t.Errorf("the chart as a whole asks for %+v", v.Asked)
	}
}
