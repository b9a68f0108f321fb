package search

import (
	"strings"
	"testing"

	"faultwright/content/contact"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

func TestFiguresIn(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"58 volts on the bumper", "58 V"},
		{"58v bumper", "58 V"},
		{"58VAC", "58 V"},
		{"bumper: 58.3 V ac", "58.3 V"},
		{"41,5 volts", "41,5 V"},
		{"58 mV on the body", "58 mV"},
		{"0.4 ohm from plug to frame", "0.4 Ω"},
		{"5.2 kΩ", "5.2 kΩ"},
		{"5.2 kilohm", "5.2 kΩ"},
		{"2 megohms", "2 MΩ"},
		{"5k plug to body", "5 kΩ"},
		{"4k7 hot to body", "4.7 kΩ"},
		{"230 between neutral and hot", "230"},
		{"meter shows 118", "118"},
		{"neutral to ground zero volts", "0 V"},
		{"wanders 3 to 8 volts", "3 V to 8 V"},
		{"wanders between 3 and 8 on the frame", "3 to 8"},
		{"15-20 volts on the door", "15 V to 20 V"},
		{"83 on L1 and 157 on L2", "83; 157"},
		{"leg 2 157 V", "157 V"},
		{"l 1 reads 118", "118"},
		{"OL on the bumper", "OL"},
		{"meter shows 0L at the plug", "OL"},
		{"1,234 volts", "1,234 V"},
		{"1.5 A on the ground", "1.5 A"},
		// Names, ratings and counts are no readings.
		{"50 amp outlet", ""},
		{"30a pedestal", ""},
		{"TT-30", ""},
		{"14-50 receptacle", ""},
		{"120/240", ""},
		{"2 outlets dead", ""},
		{"L1 dead", ""},
		{"5th wheel", ""},
		{"1,000,000 volts", ""},
		{"1.2.3", ""},
		{"no figure here", ""},
		{"old battery", ""},
	} {
		got := lists.Each(figuresIn(contact.Figures(c.text)), func(f figure) string { return f.text })
		if g := strings.Join(got, "; "); g != c.want {
			t.Errorf("%q: figures %q, want %q", c.text, g, c.want)
		}
	}
}

// TestDangerLeadsToItsJudge holds that a body reading at or above the touch
// limit of 30 V (NAVEDTRA 14097, the source that tree body-voltage names for
// its limit "touch") is offered first at a step where the engine answers
// DANGER, however the body is called.
func TestDangerLeadsToItsJudge(t *testing.T) {
	x := shippedIndex(t)
	for _, text := range []string{
		"58 volts on the bumper", "58 V on the door handle", "58 bumper", "frame 58 volts", "bumper to ground 58 V",
		"58 volts between the hitch and a stake", "the chassis reads 58", "58 V on the siding at the pedestal", "OL on the step",
		"pedestal 120 V, bumper 58 V", "30 V body", "117 volts on the ladder while raining",
	} {
		hits := x.Find(Query{Text: text}).Hits
		if len(hits) == 0 || hits[0].Quantity == "" {
			t.Errorf("%q: no step is offered first: %s", text, list(hits))
			continue
		}
		h := hits[0]
		s := x.stepOf(h)
		r, err := faulttree.ParseReading(h.Reading, x.offers.forest.Quantities[h.Quantity])
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		out, err := s.Judge([]faulttree.Reading{r}, faulttree.DefaultMeter(), x.offers.forest.Trees[s.Tree].DangerLimit)
		if err != nil || out.Signal != faulttree.Danger {
			t.Errorf("%q: %s judges %q as %v (%v), want danger", text, h.ID, h.Reading, out.Signal, err)
		}
	}
}

// stepOf is the step a hit names.
func (x *Index) stepOf(h Hit) *faulttree.Step {
	tree, step, _ := strings.Cut(h.ID, "#")
	return x.offers.forest.Step(faulttree.Ref{Tree: tree, Step: step})
}

// TestOffersRefuse holds that what cannot be the asked quantity is offered
// without a figure, or not at all.
func TestOffersRefuse(t *testing.T) {
	x := shippedIndex(t)
	for _, c := range []struct{ text, id string }{
		{"12,000 volts on the bumper", "body-voltage#body-earth"},         // more than can stand there
		{"-12 V on the frame", "body-voltage#body-earth"},                 // alternating volts have no sign
		{"27 volts DC from the frame to dirt", "body-voltage#body-earth"}, // the dial stood wrong
		{"1,234 volts on the bumper", "body-voltage#body-earth"},          // ambiguous
	} {
		if hits := x.Find(Query{Text: c.text}).Hits; len(hits) == 0 || hits[0].ID != c.id || hits[0].Reading != "" {
			t.Errorf("%q: want %s first and no reading filled in, found %s", c.text, c.id, list(hits))
		}
	}
	for _, text := range []string{"58", "58 volts", "50 amp outlet", "2 outlets dead", "240 V appliances dead", "120 volt outlet dead", "12 volt panel dead", "OL", "widget 40 V"} {
		for _, h := range x.Find(Query{Text: text}).Hits {
			if h.Quantity != "" {
				t.Errorf("%q: %s is offered for %s", text, h.ID, h.Quantity)
			}
		}
	}
	for _, h := range x.Find(Query{Text: "58 volts on the bumper", Kind: KindCard}).Hits {
		if h.Kind != KindCard {
			t.Errorf("a filter by card let %s of kind %s through", h.ID, h.Kind)
		}
	}
}

// TestOffersAreOrdered holds that an ambiguous reading has several offers, of
// different quantities or trees, none twice.
func TestOffersAreOrdered(t *testing.T) {
	x := shippedIndex(t)
	hits := x.Find(Query{Text: "230 between neutral and hot"}).Hits
	seen := map[string]bool{}
	offered := 0
	for i, h := range hits {
		if i > 0 && h.Score > hits[i-1].Score {
			t.Errorf("place %d scores more than the one before", i+1)
		}
		if seen[h.ID] {
			t.Errorf("%s is found twice", h.ID)
		}
		seen[h.ID] = true
		if h.Quantity != "" {
			offered++
			if offered != i+1 {
				t.Errorf("the offer %s stands behind other hits", h.ID)
			}
		}
	}
	if offered < 3 {
		t.Errorf("%d offers, want 3 or more: %s", offered, list(hits))
	}
}

// TestOwnSourceIsSaid holds that where no generator and no inverter is said, a
// step for them does not come first, whatever danger a figure would show there.
func TestOwnSourceIsSaid(t *testing.T) {
	x := shippedIndex(t)
	for text, own := range map[string]bool{
		"outlet hot to neutral 83 V": false, "157 V on leg 2": false, "157 V leg 2 to neutral": false, "61 V neutral to ground": false,
		"83 on L1 and 157 on L2": false, "100 V leg 1 and 140 V leg 2": false,
		"on the generator the outlet reads 83 V": true, "157 V on leg 2 of the generator": true,
	} {
		hits := x.Find(Query{Text: text}).Hits
		if got := len(hits) > 0 && strings.HasPrefix(hits[0].ID, "own-source"); got != own {
			t.Errorf("%q: own source first: %v, want %v; found %s", text, got, own, list(hits))
		}
	}
}

// TestReadWithLoadsOn holds that a figure read with loads on is offered first
// where it is read so, though with loads off it would be a danger.
func TestReadWithLoadsOn(t *testing.T) {
	x := shippedIndex(t)
	got := offered(x, "the outlet reads 103 V while the heater runs")
	if len(got) < 2 || got[0] != "outlet.h-n@loaded 103 V" || got[1] != "outlet.h-n 103 V" {
		t.Errorf("offered as %v; want the outlet with loads on before the outlet without", got)
	}
}
