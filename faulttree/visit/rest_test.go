package visit

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

const pins = "plug.l1-g@unplugged"

// livePins is tingle with volts between the pins of the pulled plug, which hurt from
// 5 V, and with a leg that hurts from 200 V; the leg counts before the body.
func livePins() *faulttree.Forest {
	f := tingle()
	t := f.Trees["tingle"]
	q := faulttree.Quantity{ID: pins, Title: "Pins of the plug", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 1000 * faulttree.One, Conditions: []faulttree.Condition{faulttree.Unplugged}, Red: "plug.l1", Black: "plug.g"}
	f.Quantities[pins] = q
	stop := faulttree.Exit{Text: "stop", To: faulttree.Ref{Tree: "tingle", Step: "stop"}, Signal: faulttree.Danger}
	over := func(from faulttree.Amount) faulttree.Branch {
		return faulttree.Branch{Bounds: []faulttree.Bound{{Span: faulttree.Span{From: from * faulttree.One, Below: faulttree.Highest}}}, Exit: stop}
	}
	ground := faulttree.Exit{Text: "ground", To: faulttree.Ref{Tree: "tingle", Step: "ground"}, Signal: faulttree.Danger}
	t.Steps = append(t.Steps, &faulttree.Step{Tree: "tingle", ID: "pins", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: q}},
		Branches:  []faulttree.Branch{over(5), {Bounds: []faulttree.Bound{{Span: faulttree.Span{From: faulttree.Lowest, Below: 5 * faulttree.One}}}, Exit: ground}},
		OverRange: stop, NotPossible: ground})
	leg := t.Step("leg")
	leg.Branches = append([]faulttree.Branch{over(200)}, leg.Branches...)
	t.Limits["low"] = faulttree.Limit{Name: "low", Value: 5 * faulttree.One, Unit: faulttree.VoltsAC}
	t.Limits["over"] = faulttree.Limit{Name: "over", Value: 200 * faulttree.One, Unit: faulttree.VoltsAC}
	t.Danger[pins], t.Danger[panel] = "low", "over"
	t.Gravest = []string{panel, body, pins}
	t.Index()
	return f
}

// sheet supplies figures that were taken once.
func sheet(t *testing.T, r Recorder, typed map[string]string) Recorder {
	t.Helper()
	s := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Once: true}
	for id, text := range typed {
		reading := must.Have(faulttree.ParseReading(text, r.forest.Quantities[id]))(t)
		s.Readings[id] = []faulttree.Reading{reading}
	}
	r, _, err := r.Supply(minute(1), s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// wantTrail holds a visit to a walk, and its record to the same.
func wantTrail(t *testing.T, r Recorder, log *lines, want string) {
	t.Helper()
	if got := trail(r.Walk()); got != want {
		t.Errorf("the walk is %s\nwant        %s", got, want)
	}
	again := read(t, log.text).Replay(r.forest)
	if got := trail(again[len(again)-1].Walk); got != trail(r.Walk()) {
		t.Errorf("read again it is %s\nand was         %s", got, trail(r.Walk()))
	}
}

// What a sheet holds is not asked again, whatever comes before it: an act, a
// choice or another reading.
func TestASheetAnswersLaterSteps(t *testing.T) {
	r, log := begin(t, header(), livePins())
	r = sheet(t, r, map[string]string{body: "2", cord: "OL"})
	wantTrail(t, r, log, " @first")
	r = walked(t, r, "", "no")
	wantTrail(t, r, log, "first= felt=no @leg")
	r = walked(t, r, "118")
	wantTrail(t, r, log, "first= felt=no leg=118 body=2 @low")
	if left := r.Current().Round.Unasked; len(left) != 1 || left[0].Quantity != cord {
		t.Errorf("beside the walk stands %v", left)
	}
}

// After a STOP ohms on a sheet stand, volts do not; and no ohms where a pin that
// had to be dead was live.
func TestWhatStandsAfterAStop(t *testing.T) {
	f := livePins()
	r, log := begin(t, header(), f)
	r = walked(t, sheet(t, r, map[string]string{body: "58", cord: "0.2"}), "")
	wantTrail(t, r, log, "body=58 stop= ground=0.2 @elsewhere")

	r, log = begin(t, header(), f)
	r = walked(t, sheet(t, r, map[string]string{pins: "40", cord: "0.2"}), "")
	wantTrail(t, r, log, "pins=40 stop= @ground")

	f.Trees["tingle"].Step("stop").Act.To.Step = "pins"
	r, log = begin(t, header(), f)
	r = walked(t, sheet(t, r, map[string]string{body: "58", pins: "0.0", cord: "0.2"}), "")
	wantTrail(t, r, log, "body=58 stop= @pins")
	r = walked(t, r, "0.0")
	wantTrail(t, r, log, "body=58 stop= pins=0.0 ground=0.2 @elsewhere")
}

// Of several that hurt the one declared first is judged; where it turns out to
// have been mistyped the next one is, before anything else is asked.
func TestADangerTakenBackLeavesTheNext(t *testing.T) {
	r, log := begin(t, header(), livePins())
	r = sheet(t, r, map[string]string{body: "58", panel: "240"})
	wantTrail(t, r, log, "leg=240 @stop")
	r, err := r.Back(minute(2))
	if err != nil {
		t.Fatal(err)
	}
	wantTrail(t, r, log, "body=58 @stop")
	if r, err = r.Back(minute(3)); err != nil {
		t.Fatal(err)
	}
	wantTrail(t, r, log, " @first")
	r, log = begin(t, header(), livePins())
	r = sheet(t, r, map[string]string{body: "58", panel: "240"})
	low, _ := faulttree.ParseReading("120", r.forest.Quantities[panel])
	if r, _, err = r.Change(minute(2), 0, faulttree.Answer{Readings: []faulttree.Reading{low}}); err != nil {
		t.Fatal(err)
	}
	wantTrail(t, r, log, "body=58 @stop")
}

// A reading that a change has left behind was taken all the same: where it is
// asked for again it stands.
func TestWhatAChangeLeavesBehindIsNotAskedAgain(t *testing.T) {
	r, log := begin(t, header(), livePins())
	r = walked(t, r, "", "no", "118")
	for i, choice := range []string{"yes", "no"} {
		var err error
		if r, _, err = r.Change(minute(9+i), 1, faulttree.Answer{Choice: choice}); err != nil {
			t.Fatal(err)
		}
	}
	wantTrail(t, r, log, "first= felt=no leg=118 @body")
}

// A STOP is not lost by what is changed before it: what hurts is judged as soon as
// the new way asks for something else, and what was read after it stands.
func TestAStopOutlivesAChange(t *testing.T) {
	was := "first= felt=no leg=118 body=58 stop= ground=OL @open"
	for _, c := range []struct {
		entry   int
		changes []string
		want    string
	}{
		{1, []string{"yes"}, "first= felt=yes body=58 stop= ground=OL @open"},
		{1, []string{"yes", "no"}, "first= felt=no body=58 stop= ground=OL @open"},
		{2, []string{"90"}, "first= felt=no leg=90 body=58 stop= ground=OL @open"},
		{2, []string{"240"}, "first= felt=no leg=240 stop= ground=OL @open"},
		{2, []string{"240", "120"}, "first= felt=no leg=120 body=58 @stop"}, // the act is to be done again
	} {
		r, log := begin(t, header(), livePins())
		r = walked(t, r, "", "no", "118", "58", "", "OL")
		wantTrail(t, r, log, was)
		for i, text := range c.changes {
			a := faulttree.Answer{Choice: text}
			if c.entry == 2 {
				reading := must.Have(faulttree.ParseReading(text, r.forest.Quantities[panel]))(t)
				a = faulttree.Answer{Readings: []faulttree.Reading{reading}}
			}
			var err error
			if r, _, err = r.Change(minute(10+i), c.entry, a); err != nil {
				t.Fatal(err)
			}
		}
		wantTrail(t, r, log, c.want)
	}
}

// The test after a repair begins with the facts of the visit; they can be changed
// in it, and what was then told holds for the next.
func TestTheTestAfterARepairKnowsTheFacts(t *testing.T) {
	f := tingle()
	f.Facts = []faulttree.Fact{{ID: "service", Title: "Which plug?", Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}}}
	leg := f.Trees["tingle"].Step("leg")
	leg.Measure[0].Quantity.Needs = faulttree.Needs{"service": {"30a", "50a"}}
	r, log := begin(t, header(), f)
	r = walked(t, r, "", "no")
	r, err := r.Answer(minute(3), faulttree.Answer{Choice: "30a"})
	if err != nil {
		t.Fatal(err)
	}
	r = walked(t, r, "118", "2")
	again := func(known string) {
		t.Helper()
		if r, err = r.Retest(minute(20), faulttree.Ref{}); err != nil {
			t.Fatal(err)
		}
		r = walked(t, r, "", "no")
		wantTrail(t, r, log, "first= felt=no service="+known+" @leg")
	}
	again("30a")
	if r, _, err = r.Change(minute(30), 2, faulttree.Answer{Choice: "50a"}); err != nil {
		t.Fatal(err)
	}
	r = walked(t, r, "118")
	wantTrail(t, r, log, "first= felt=no service=50a leg=118 @body")
	again("50a")
	// Taken back, it is asked, and not put there again.
	if r, err = r.Back(minute(40)); err == nil {
		r, err = r.Back(minute(41))
	}
	if err != nil {
		t.Fatal(err)
	}
	if r = walked(t, r, "no"); r.Walk().At() != faulttree.FactRef("service") {
		t.Errorf("the walk is %s", trail(r.Walk()))
	}
	if text := string(log.text); strings.Count(text, `"acts_done":true`) != 0 {
		t.Errorf("an act counts as done that nobody did: %s", text)
	}
}
