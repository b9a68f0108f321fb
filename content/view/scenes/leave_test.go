package scenes_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
)

// Where no vehicle agrees it is said what to leave open, the fewest facts first, and
// that what is left is not quite this vehicle; nothing is drawn from another silently.
func TestNoVehicleSaysWhatToLeaveOpen(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	for _, c := range []struct {
		facts map[string]string
		want  []string
		says  string
	}{
		{map[string]string{"service": "50a", "source": "shore"}, nil, ""},
		{map[string]string{"service": "15a"}, []string{"[service]"}, "Service: 15 or 20 A. What was read is kept. Leave Service open"},
		{map[string]string{"service": "30a", "source": "generator"}, []string{"[service]", "[source]"}, "Leave Service open, and it is weighed among the nearest: “A coach on its own generator”."},
		{map[string]string{"service": "15a", "adapter": "yes", "source": "inverter"}, []string{"[adapter service]", "[service source]"}, "Leave Adapter and Service open"},
		{map[string]string{"source": "somewhere else"}, []string{"[source]"}, "Leave Source open"},
	} {
		a := view.Account{Facts: c.facts}
		var got []string
		for _, l := range r.Leaves(a) {
			got = append(got, fmt.Sprint(l.Facts))
			if _, err := r.Belief(context.Background(), l.From(a)); err != nil {
				t.Errorf("%v: with %v left open: %v", c.facts, l.Facts, err)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%v: to leave open is %v, want %v", c.facts, got, c.want)
		}
		_, err := r.Belief(context.Background(), a)
		if none := errors.Is(err, drawn.ErrNoRig); none != (len(c.want) > 0) {
			t.Errorf("%v: the error is %v", c.facts, err)
		}
		if says := r.NoVehicle(a); !strings.Contains(says, c.says) || strings.Contains(says, "None of them is quite this vehicle.") != (len(c.want) > 0) {
			t.Errorf("%v: it says %q, want %q in it", c.facts, says, c.says)
		}
	}
}

// A reading that no vehicle of the facts has counts for nothing, and that is said.
func TestWhatNoVehicleHasIsNotWeighed(t *testing.T) {
	r := scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
	list := "panel, loads on: L1-N 96\ndc.pos-neg: 11.2"
	for _, c := range []struct{ service, want string }{
		{"50a", "Not weighed: “12 V panel: positive to negative”. No vehicle of this handbook with these facts has it; leave Service open to weigh it."},
		{"30a", ""}, {"", ""},
	} {
		v := must.Have(r.Suspects(context.Background(), told(t, map[string]string{"service": c.service}, list)))(t)
		if v.NotWeighed != c.want || !strings.Contains(v.Text(), c.want) {
			t.Errorf("service %q: it says %q, want %q", c.service, v.NotWeighed, c.want)
		}
	}
}
