package search

import (
	"context"
	"os"
	"slices"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// A column of a chart is offered as a step that measures is: with the figure,
// judged by the chart, and what hurts first. What the words rule out is not.
func TestColumnsOfAChartAreOffered(t *testing.T) {
	lib := load.FS(context.Background(), os.DirFS("../testdata/pedestal"))
	must.Do(t, lib.Diagnostics.Err())
	x := must.Have(Build(context.Background(), lib))(t)
	for _, c := range []struct{ text, id, reading string }{
		{"118 volts L1 to neutral at the pedestal", "pedestal#readings/l1-n", "118 V"},
		{"58 volts from the ground contact of the pedestal to a spike", "pedestal#readings/g-earth", "58 V"},
		{"OL from the ground contact of the pedestal to a spike", "pedestal#readings/g-earth", "OL"},
		{"0 V between L1 and L2 of the pedestal", "pedestal#readings/l1-l2", "0 V"},
		{"neutral to ground of the pedestal wanders 1 to 3 volts", "pedestal#readings/n-g", "1 V to 3 V"},
		{"50 amp pedestal: 80 V on L2 to neutral", "pedestal#readings/l2-n", "80 V"},
		{"30 amp pedestal: 0 V between L1 and L2", "", ""}, // there is no L2
		{"27 volts DC from L1 to neutral of the pedestal", "pedestal#readings/l1-n", ""},
		{"12,000 volts from L1 to neutral of the pedestal", "pedestal#readings/l1-n", ""},
	} {
		hits := x.Find(Query{Text: c.text}).Hits
		offered := slices.DeleteFunc(slices.Clone(hits), func(h Hit) bool { return h.Quantity == "" })
		switch {
		case c.id == "" && len(offered) > 0:
			t.Errorf("%q: %s is offered", c.text, list(offered))
		case c.id == "":
		case len(offered) == 0 || hits[0].ID != c.id || hits[0].Reading != c.reading:
			t.Errorf("%q: want %s with %q first, found %s", c.text, c.id, c.reading, list(hits))
		case x.stepOf(hits[0]) == nil || x.stepOf(hits[0]).Measure[0].Quantity.ID != hits[0].Quantity:
			t.Errorf("%q: no step of the forest is called %s, or it measures something else than %s", c.text, hits[0].ID, hits[0].Quantity)
		}
	}
}

// Whatever hurts at a column is judged DANGER there, as TestDangerLeadsToItsJudge
// holds for steps: 30 V is the touch limit of NAVEDTRA 14097, and 29.8 V may have
// reached it on an ordinary meter.
func TestAColumnThatHurtsIsOfferedFirst(t *testing.T) {
	lib := load.FS(context.Background(), os.DirFS("../testdata/pedestal"))
	x := must.Have(Build(context.Background(), lib))(t)
	tree := lib.Forest.Trees["pedestal"]
	for text, hurts := range map[string]bool{"58": true, "30": true, "29.8": true, "12": false} {
		hits := x.Find(Query{Text: "pedestal L1 to neutral 120 V, pedestal ground to the spike " + text + " V"}).Hits
		if len(hits) < 2 || (hits[0].ID == "pedestal#readings/g-earth") != hurts {
			t.Errorf("%s V: found %s", text, list(hits))
			continue
		}
		at := slices.IndexFunc(hits, func(h Hit) bool { return h.ID == "pedestal#readings/g-earth" })
		if at < 0 {
			t.Errorf("%s V is not offered: %s", text, list(hits))
			continue
		}
		s := x.stepOf(hits[at])
		r := must.Have(faulttree.ParseReading(text, s.Measure[0].Quantity))(t)
		out, err := s.Judge([]faulttree.Reading{r}, faulttree.DefaultMeter(), tree.DangerLimit)
		if err != nil || (out.Signal == faulttree.Danger) != hurts {
			t.Errorf("%s V is judged %v, %v", text, out.Signal, err)
		}
	}
}
