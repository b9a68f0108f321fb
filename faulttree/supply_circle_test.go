package faulttree

import (
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// A tree that leads in a circle is an error of its author; supplying readings
// to it ends all the same.
func TestSupplyEndsInACircle(t *testing.T) {
	q := Quantity{ID: "panel.l1-n", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	again := Exit{Text: "measure", To: Ref{"circle", "measure"}}
	tree := &Tree{ID: "circle", Start: "measure", Steps: []*Step{{
		Tree: "circle", ID: "measure", Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: q}},
		Branches: []Branch{{Exit: again}}, OverRange: again, NotPossible: again,
	}}}
	tree.Index()
	w, err := Begin(&Forest{Quantities: Quantities{q.ID: q}, Trees: map[string]*Tree{"circle": tree}}, Ref{"circle", "measure"}, Owner, DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	r := must.Have(ParseReading("118", q))(t)
	if _, _, err = w.Supply(Supplied{Readings: map[string][]Reading{q.ID: {r}}}); err == nil || !strings.Contains(err.Error(), "in a circle at step circle#measure") {
		t.Errorf("supplied to a circle: %v", err)
	}
}
