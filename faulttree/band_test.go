package faulttree

import (
	"testing"

	"faultwright/faulttree/must"
)

// What each reading of a step bears is written beside it by hand: a sound
// value never bears the signal that the value beside it has brought.
func TestBears(t *testing.T) {
	mega := 1_000_000 * One
	ohms := func(id string) Quantity { return Quantity{ID: id, Unit: Ohms, Range: 60 * mega, Most: 200 * mega} }
	exit := func(s Signal) Exit { return Exit{Text: "next", To: Ref{"t", "next"}, Signal: s} }
	both := &Step{Tree: "t", ID: "both", Kind: KindMeasure, Measure: []Variable{{Name: "n", Quantity: ohms("n")}, {Name: "h", Quantity: ohms("h")}},
		Branches: []Branch{
			{Bounds: []Bound{{0, Span{Lowest, mega}, noPos}}, Exit: exit(Danger)},
			{Bounds: []Bound{{0, Span{mega, Highest}, noPos}, {1, Span{Lowest, mega}, noPos}}, Exit: exit(Danger)},
			{Bounds: []Bound{{0, Span{mega, Highest}, noPos}, {1, Span{mega, Highest}, noPos}}, Exit: exit(NoSignal)},
		}, OverRange: exit(NoSignal), NotPossible: exit(Danger)}
	known := &Step{Tree: "t", ID: "known", Kind: KindMeasure, Measure: both.Measure[:1], // the danger was there before
		Branches: []Branch{
			{Bounds: []Bound{{0, Span{Lowest, mega}, noPos}}, Exit: exit(Danger)},
			{Bounds: []Bound{{0, Span{mega, Highest}, noPos}}, Exit: exit(Danger)},
		}, OverRange: exit(Danger), NotPossible: exit(Danger)}
	none := func(string) (Amount, bool) { return 0, false }
	for _, c := range []struct {
		step   *Step
		limit  DangerLimit
		typed  []string
		branch Signal
		bear   []Signal
	}{
		{ladder(), thirty, []string{"2"}, NoSignal, []Signal{NoSignal}},
		{ladder(), thirty, []string{"12"}, Warning, []Signal{Warning}},
		{ladder(), thirty, []string{"58"}, Danger, []Signal{Danger}},
		{ladder(), none, []string{"58"}, Danger, []Signal{Danger}},
		{ladder(), thirty, []string{"29.2"}, Danger, []Signal{Danger}}, // may be over, so it counts as over
		{ladder(), thirty, []string{"OL"}, Danger, []Signal{Danger}},
		{ladder(), thirty, []string{"cannot: no soil"}, Warning, []Signal{NoSignal}},
		{both, none, []string{"12 MΩ", "0.2 MΩ"}, Danger, []Signal{NoSignal, Danger}},
		{both, none, []string{"0.2 MΩ", "12 MΩ"}, Danger, []Signal{Danger, NoSignal}},
		{both, none, []string{"12 MΩ", "12 MΩ"}, NoSignal, []Signal{NoSignal, NoSignal}},
		{both, none, []string{"cannot: no pin", "12 MΩ"}, Danger, []Signal{NoSignal, NoSignal}},
		{known, none, []string{"12 MΩ"}, Danger, []Signal{NoSignal}},
	} {
		var readings []Reading
		for i, text := range c.typed {
			r := must.Have(ParseReading(text, c.step.Measure[i].Quantity))(t)
			readings = append(readings, r)
		}
		o, err := c.step.Judge(readings, DefaultMeter(), c.limit)
		if err != nil || o.Signal != c.branch {
			t.Errorf("%s %v: %v, %v", c.step.ID, c.typed, o.Signal, err)
		}
		for i, want := range c.bear {
			if got := c.step.Bears(i, readings[i], o, DefaultMeter(), c.limit); got != want {
				t.Errorf("%s %v: %s bears %v, want %v", c.step.ID, c.typed, c.typed[i], got, want)
			}
		}
	}
}
