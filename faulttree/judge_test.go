package faulttree

import (
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// ladder is a body-to-earth step: below 5 V, to 30 V, from 30 V.
func ladder() *Step {
	body := Quantity{ID: "body-earth", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	exit := func(to string, s Signal) Exit { return Exit{Text: to, To: Ref{"t", to}, Signal: s, Label: to} }
	band := func(from, below Amount, to string, s Signal) Branch {
		return Branch{Bounds: []Bound{{0, Span{from, below}, noPos}}, Exit: exit(to, s)}
	}
	return &Step{Tree: "t", ID: "body", Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: body}},
		Branches: []Branch{
			band(Lowest, 5*One, "low", NoSignal),
			band(5*One, 30*One, "look", Warning),
			band(30*One, Highest, "stop", Danger),
		},
		OverRange: exit("stop", Danger), NotPossible: exit("unknown", Warning),
	}
}

func thirty(q string) (Amount, bool) { return 30 * One, q == "body-earth" }

// Below 5 V is no declared danger limit, 30 V is one.
func TestOnlyADeclaredDangerLimitTakesTheWorseSide(t *testing.T) {
	s := ladder()
	for _, c := range []struct {
		text, to string
		certain  bool
	}{
		{"0.0", "low", true},
		{"2", "low", true},
		{"4.3", "low", true},  // ±0.552 V on the 600 V range: 3.748 to 4.852
		{"4.5", "low", false}, // ±0.554 V: 3.946 to 5.054
		{"4.50", "low", true}, // 60 V range: ±0.104 V
		{"5.0", "look", false},
		{"5.3", "look", false},
		{"5.6", "look", true},
		{"29.0", "look", true},  // ±0.848 V: up to 29.848
		{"29.2", "stop", false}, // ±0.8504 V: up to 30.0504
		{"29", "stop", false},   // half of the last typed digit more: up to 30.348
		{"30.0", "stop", false},
		{"30", "stop", false},
		{"58", "stop", true},
		{"OL", "stop", true},
		{"wanders 3-8", "look", false},
		{"wanders 10-58", "stop", false},
		{"cannot: no soil", "unknown", true},
	} {
		r := must.Have(ParseReading(c.text, s.Measure[0].Quantity))(t)
		out, err := s.Judge([]Reading{r}, DefaultMeter(), thirty)
		if err != nil || out.Text != c.to || out.Certain != c.certain {
			t.Errorf("%q leads to %q, certain %v, %v; want %q, %v", c.text, out.Text, out.Certain, err, c.to, c.certain)
		}
		if out.Certain == (out.Advice != "") || out.Certain == (len(out.Also) > 0) {
			t.Errorf("%q: certain %v with settle %q and also %v", c.text, out.Certain, out.Advice, out.Also)
		}
	}
}

func TestAReadingThatHurtsOutranksOneThatIsMissing(t *testing.T) {
	s := ladder()
	other := Quantity{ID: "pedestal.n-g", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	s.Measure = append(s.Measure, Variable{Name: "w", Quantity: other})
	out, err := s.Judge([]Reading{asTyped(t, "58", s.Measure[0].Quantity), NotTaken("wet")}, DefaultMeter(), thirty)
	if err != nil || out.Text != "stop" {
		t.Errorf("58 V with a missing second reading leads to %q, %v; want stop", out.Text, err)
	}
	out, err = s.Judge([]Reading{asTyped(t, "2", s.Measure[0].Quantity), NotTaken("wet")}, DefaultMeter(), thirty)
	if err != nil || out.Text != "unknown" {
		t.Errorf("2 V with a missing second reading leads to %q, %v; want unknown", out.Text, err)
	}
	out, err = s.Judge([]Reading{asTyped(t, "OL", s.Measure[0].Quantity), NotTaken("wet")}, DefaultMeter(), thirty)
	if err != nil || out.Text != "stop" {
		t.Errorf("OL with a missing second reading leads to %q, %v; want stop", out.Text, err)
	}
}

func TestJudgeDerivedValues(t *testing.T) {
	leg := func(id string) Variable {
		return Variable{Name: id, Quantity: Quantity{ID: id, Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}}
	}
	s := &Step{Tree: "t", ID: "legs", Kind: KindMeasure, Measure: []Variable{leg("a"), leg("b")},
		Derive: []Derived{{Name: "difference", Terms: []Term{{1, 0}, {-1, 1}}, Unit: VoltsAC}},
		Branches: []Branch{
			{Bounds: []Bound{{2, Only(-15*One, 15*One), noPos}}, Exit: Exit{Text: "alike", Signal: NoSignal}},
			{Bounds: []Bound{{2, Span{15*One + 1, Highest}, noPos}}, Exit: Exit{Text: "a-high", Signal: Warning}},
			{Bounds: []Bound{{2, Span{Lowest, -15 * One}, noPos}}, Exit: Exit{Text: "b-high", Signal: Warning}},
		}}
	none := func(string) (Amount, bool) { return 0, false }
	for _, c := range []struct{ a, b, to string }{
		{"120.0", "119.0", "alike"}, {"83", "157", "b-high"}, {"157", "83", "a-high"}, {"130.0", "116.0", "alike"}, {"131.0", "115.8", "a-high"},
	} {
		out, err := s.Judge([]Reading{asTyped(t, c.a, legVolts), asTyped(t, c.b, legVolts)}, DefaultMeter(), none)
		if err != nil || out.Text != c.to {
			t.Errorf("%s and %s lead to %q, %v; want %q", c.a, c.b, out.Text, err, c.to)
		}
	}
}

func asTyped(t *testing.T, text string, q Quantity) Reading {
	t.Helper()
	return must.Have(ParseReading(text, q))(t)
}

// Of a drop along a wire only the size counts: with the probes exchanged the
// same drop reads with a minus sign, and leads the same way.
func TestDropsAreJudgedByTheirSize(t *testing.T) {
	feed := Quantity{ID: "battery.pos-dc.pos@loaded", Unit: VoltsDC, Range: 60 * One, Most: 100 * One, SizeOnly: true}
	back := feed
	back.ID = "battery.neg-dc.neg@loaded"
	exit := func(to string) Exit { return Exit{Text: to, To: Ref{"t", to}, Signal: Warning} }
	s := &Step{Tree: "t", ID: "drops", Kind: KindMeasure, Measure: []Variable{{Name: "feed", Quantity: feed}, {Name: "back", Quantity: back}},
		Derive: []Derived{{Name: "more", Terms: []Term{{1, 0}, {-1, 1}}, Unit: VoltsDC}},
		Branches: []Branch{
			{Bounds: []Bound{{2, Only(Lowest, -One), noPos}}, Exit: exit("return")},
			{Bounds: []Bound{{2, Span{1 - One, One}, noPos}}, Exit: exit("alike")},
			{Bounds: []Bound{{2, Span{One, Highest}, noPos}}, Exit: exit("feed")},
		}}
	none := func(string) (Amount, bool) { return 0, false }
	for _, c := range []struct{ feed, back, to string }{
		{"0.20", "2.00", "return"}, {"2.00", "0.20", "feed"}, {"1.00", "1.20", "alike"}, {"wanders 1.4-1.8", "wanders 0.1-0.2", "feed"},
	} {
		for _, signs := range [][2]string{{"", ""}, {"", "-"}, {"-", ""}, {"-", "-"}} {
			a, b := signed(asTyped(t, c.feed, feed), signs[0]), signed(asTyped(t, c.back, back), signs[1])
			out, err := s.Judge([]Reading{a, b}, DefaultMeter(), none)
			if err != nil || out.Text != c.to {
				t.Errorf("%s%s and %s%s lead to %q, %v; want %q", signs[0], c.feed, signs[1], c.back, out.Text, err, c.to)
			}
		}
	}
	little := asTyped(t, "-0.02", feed) // ±0.03 V on the 60 V range: nothing up to 0.05 V
	if got := DefaultMeter().Span(little, feed); got.From != 0 || got.Below <= 50_000_000 || got.Below > 51_000_000 {
		t.Errorf("-0.02 V counts as %v to %v; want 0 to 0.05 V", got.From, got.Below)
	}
}

// signed is a reading with the sign put before its numbers.
func signed(r Reading, sign string) Reading {
	if sign == "-" {
		r.Low, r.High = -r.High, -r.Low
	}
	return r
}

// The worked example of a meter's accuracy, 0.7 % + 2 counts of 0.1 V at
// 120 V giving 118.96 V to 121.04 V, is quoted from a trade forum (row
// "accuracy form" of testdata/reference/08_meter.csv).
func TestUncertaintyWorkedExample(t *testing.T) {
	m := Meter{FullScale: 6000, ACVolts: Accuracy{7 * One / 10, 2}}
	got := m.Span(asTyped(t, "120.0", legVolts), legVolts)
	if want := Only(118_960_000_000, 121_040_000_000); got != want {
		t.Errorf("120.0 V means %v to %v; want %v to %v", got.From, got.Below, want.From, want.Below)
	}
}

func TestUncertaintyFollowsRangeAndDigits(t *testing.T) {
	m := DefaultMeter()
	for _, c := range []struct{ text, want string }{
		{"118.4", "1.9208"}, // 1.2 % and five counts of 0.1 V
		{"118", "2.416"},    // half of the last typed digit more
		{"4.0", "0.548"},    // on the range set first, the 600 V range
		{"4.00", "0.098"},   // on the 60 V range
		{"118.42", "1.92104"},
		{"0.0", "0.5"},
		{"700", "13.4"}, // 600 V cannot show it: counts of 1 V
	} {
		if got := m.Uncertainty(asTyped(t, c.text, legVolts), legVolts).String(); got != c.want {
			t.Errorf("%s V is uncertain by %s V; want %s V", c.text, got, c.want)
		}
	}
}

// What decides is said, with what would settle it: the figure shown, or the danger
// limit. A limit that leads to a STOP and is not declared is an ordinary one.
func TestTheAdviceSaysWhatDecides(t *testing.T) {
	undeclared := func(string) (Amount, bool) { return 0, false }
	for _, c := range []struct {
		text, to, says string
		danger         DangerLimit
	}{
		{"4.5", "low", "4.5 V is within the meter's uncertainty of 5 V, so the figure shown decides. Read again", thirty},
		{"29.8", "stop", "29.8 V is within the meter's uncertainty of 30 V, so it counts as over it. Read again", thirty},
		{"30.2", "stop", "30.2 V is within the meter's uncertainty of 30 V, so the figure shown decides. Read again", thirty},
		{"29.8", "look", "29.8 V is within the meter's uncertainty of 30 V, so the figure shown decides. Read again", undeclared},
	} {
		s := ladder()
		out, err := s.Judge([]Reading{asTyped(t, c.text, s.Measure[0].Quantity)}, DefaultMeter(), c.danger)
		if err != nil || out.Text != c.to || !strings.HasPrefix(out.Advice, c.says) {
			t.Errorf("%s V leads to %q: %q, %v", c.text, out.Text, out.Advice, err)
		}
	}
}

// A display below zero in ohms, of leads nulled a little too far, is still zero.
func TestAFigureBeyondWhatTheQuantityCanBeIsJudged(t *testing.T) {
	ground := Quantity{ID: "ohm:plug.g-body@unplugged", Unit: Ohms, Range: 600 * One, Most: 100_000_000 * One}
	s := &Step{Tree: "t", ID: "ground", Kind: KindMeasure, Measure: []Variable{{Name: "r", Quantity: ground}},
		Branches: []Branch{{Bounds: []Bound{{0, Span{0, One}, noPos}}, Exit: Exit{Text: "whole"}}, {Bounds: []Bound{{0, Span{One, Highest}, noPos}}, Exit: Exit{Text: "open"}}}}
	low := Reading{Text: "-0.1", Low: -One / 10, High: -One / 10, Resolution: One / 10}
	if out, err := s.Judge([]Reading{low}, DefaultMeter(), noDanger); err != nil || out.Text != "whole" {
		t.Errorf("-0.1 Ω leads to %q, %v", out.Text, err)
	}
}
