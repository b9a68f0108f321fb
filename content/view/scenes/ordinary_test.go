package scenes_test

import (
	"context"
	"slices"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// Ordinary cases, and what a careful practitioner would think of first, reading the
// same list. Common practice, no source; 120/240 V against two legs of a wye
// stands in the split-phase and wye table of the reference values.
func TestWhatAPractitionerThinksOfFirst(t *testing.T) {
	fifty, thirty := map[string]string{"service": "50a", "source": "shore", "adapter": "none"}, map[string]string{"service": "30a", "source": "shore", "adapter": "none"}
	pedestal := "at the pedestal, nothing plugged in: "
	cases := []struct {
		facts map[string]string
		list  string
		fault string // among those of the first suspect; "" for a sound one
		place faulttree.Place
		least float64 // its share, that of all its places where none is expected
	}{
		{fifty, pedestal + "L1-L2 208, L1-N 120, L2-N 120", "wye-208", faulttree.Supply, 0.7},
		{fifty, pedestal + "L1-L2 0.3, L1-N 120, L2-N 120", "same-leg", faulttree.Supply, 0.6},
		{fifty, pedestal + "L1-L2 120, L1-N 120, L2-N 0.2", "open-hot-l2", faulttree.Supply, 0.7},
		{fifty, pedestal + "L1-L2 240, L1-N 120, L2-N 120, L1-G 120, L2-G 120, N-G 0.1", "", "", 0.15},
		{thirty, pedestal + "L1-N 118, L1-G 118, N-G 0.2", "", "", 0.15},
		{thirty, pedestal + "L1-N 238, L1-G 119, N-G 119", "240-on-30a", faulttree.Supply, 0.6},
		{thirty, pedestal + "L1-N 120, L1-G 0.4, N-G 120", "reversed-polarity", faulttree.Supply, 0.6},
		{thirty, pedestal + "L1-N 121, L1-G 4, N-G 62", "open-ground", faulttree.Supply, 0.5},
		{fifty, "at the panel, loads on: L1-N 59, L2-N 177, L1-L2 236", "open-neutral", "", 0.7},
		{thirty, pedestal + "L1-N 0, L1-G 0, N-G 0", "supply-dead", faulttree.Supply, 0.5},
	}
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	for _, c := range cases {
		v := must.Have(r.Belief(context.Background(), told(t, c.facts, c.list)))(t)
		first := v.Suspects()[0]
		want := c.fault
		if want == "" {
			want = suspect.NoFault
		}
		share := first.Share
		if c.place == "" {
			share = 0
			for _, s := range v.Suspects() {
				if s.Faults[0] == want {
					share += s.Share
				}
			}
		}
		placed := c.place == "" || slices.Equal(first.Places, []faulttree.Place{c.place})
		if !slices.Contains(first.Faults, want) || !placed || share < c.least {
			t.Errorf("%s\n    first is %.2f %v %v, expected %s (%s) with %.2f", c.list, share, first.Faults, first.Places, want, c.place, c.least)
			for _, s := range v.Suspects()[1:5] {
				t.Logf("    then %.2f %v %v", s.Share, s.Faults, s.Places)
			}
		}
	}
}
