package vehicle_test

import (
	"fmt"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// below is a condition on volts.
func below(volts faulttree.Amount) faulttree.Choice {
	return faulttree.Choice{When: []faulttree.When{{Quantity: hot, Span: faulttree.Span{From: faulttree.Lowest, Below: volts * faulttree.One}}}}
}

// dark is a tree for those whose panel shows less than 100 V.
var dark = &faulttree.Tree{ID: "dark", Complaint: []faulttree.Choice{below(100), {Sees: true, Opened: []string{"breaker"}}}}

// The neutral pin is open: by Ohm's law nothing is at the panel, and another pin
// mends it, another feeder does not, and with the plug out it is dark anyway.
func TestTriedAgainstOhmsLaw(t *testing.T) {
	v := stand(t)
	r := v.Rig()
	open := &rig.Fault{ID: "open", Variants: []rig.Variant{{Edits: []rig.Edit{{Kind: rig.Open, Parts: []string{"feeder"}}, {Kind: rig.Open, Parts: []string{"pin.n"}}}}}}
	pin := &rig.Fault{ID: "pin", Variants: []rig.Variant{{Edits: []rig.Edit{{Kind: rig.Open, Parts: []string{"pin.n"}}}}}}
	short := &rig.Fault{ID: "short", Variants: []rig.Variant{{Edits: []rig.Edit{{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "0"}, Ohms: rig.EditValue{Fixed: 1}}}}}}
	for _, test := range []struct {
		fault *rig.Fault
		i     faulttree.Intervention
		want  string
	}{
		{pin, faulttree.Intervention{ID: "pin", Renews: []string{"pin.n"}}, "gone"},
		{pin, faulttree.Intervention{ID: "feeder", Renews: []string{"feeder"}}, "still there"},
		{pin, faulttree.Intervention{ID: "nothing", Renews: []string{"ladder"}}, "cannot be tried"},
		{pin, faulttree.Intervention{ID: "plug", Off: []string{"plug"}}, "still there"},
		{open, faulttree.Intervention{ID: "pin", Renews: []string{"pin.n"}}, "still there"},
		{open, faulttree.Intervention{ID: "both", Renews: []string{"pin.n", "feeder"}}, "gone"},
		{short, faulttree.Intervention{ID: "group", Renews: []string{"panel"}}, "gone"},
		{short, faulttree.Intervention{ID: "loads", Unloaded: true}, "still there"}, // 120 V / 1.5 Ω are more than 15 A
		{nil, faulttree.Intervention{ID: "pin", Renews: []string{"pin.n"}}, "no complaint"},
		{nil, faulttree.Intervention{ID: "ruled-out", Needs: faulttree.Needs{"source": {"shore"}}, Renews: []string{"pin.n"}}, "no complaint"},
		{nil, faulttree.Intervention{ID: "other", Facts: map[string]string{"source": "generator"}}, "cannot be tried"},
	} {
		var s rig.Setup
		if test.fault != nil {
			s.Faults = []rig.Applied{test.fault.Ordinary(0)}
		}
		must.Do(t, v.Put(s))
		got := "cannot be tried"
		try := must.Have(vehicle.NewTry(&test.i, r, []*rig.Rig{r}))(t)
		if try != nil {
			gone, had, err := try.Gone(vehicle.Walker{Vehicle: v, Value: v.Taken}, s, dark)
			if err != nil {
				t.Fatal(err)
			}
			got = map[bool]string{true: "gone", false: "still there"}[gone]
			if !had {
				got = "no complaint"
			}
		}
		if got != test.want {
			t.Errorf("%s: %s; expected %s", test.i.ID, got, test.want)
		}
	}
}

// With the loads off, 25 A no longer run through the breaker of 15 A.
func TestHeldLoadsStayOff(t *testing.T) {
	v := stand(t)
	values := v.Rig().Values()
	v.Rig().ShareWatts(values, "l1", 3000)
	s := rig.Setup{Values: values}
	must.Do(t, v.Put(s))
	for _, test := range []struct {
		i    faulttree.Intervention
		want bool
	}{
		{faulttree.Intervention{ID: "loads", Unloaded: true}, true},
		{faulttree.Intervention{ID: "plug", Off: []string{"plug"}}, true},
		{faulttree.Intervention{ID: "on", On: []string{"plug"}}, false},
	} {
		try := must.Have(vehicle.NewTry(&test.i, v.Rig(), nil))(t)
		if gone, had, err := try.Gone(vehicle.Walker{Vehicle: v, Value: v.Taken}, s, dark); gone != test.want || !had || err != nil {
			t.Errorf("%s: gone %v, had %v, %v", test.i.ID, gone, had, err)
		}
	}
}

// What is seen of a dead panel and of a live one; how often wet weather is told
// of, by Bayes' rule for two answers: 10/(10+3) with the fault, 1/(1+3) without.
func TestSeenByConditionsAndFaults(t *testing.T) {
	v := stand(t)
	w := vehicle.Walker{Value: v.Taken, Vehicle: v}
	lamps := &faulttree.Observation{ID: "lamps", Choices: []faulttree.Sight{{ID: "dim", Any: []faulttree.Choice{below(100)}, Often: 1}, {ID: "other", Often: 1}}}
	weather := &faulttree.Observation{ID: "weather", Choices: []faulttree.Sight{{ID: "wet", Often: 1, Favours: map[string]float64{"soaked": 10}}, {ID: "dry", Often: 3}}}
	ladder := &faulttree.Observation{ID: "ladder", Choices: []faulttree.Sight{{ID: "up", Often: 1, Any: []faulttree.Choice{{Sees: true, Opened: []string{"ladder"}}}}, {ID: "down", Often: 1}}}
	check := func(o *faulttree.Observation, faults []string, want string) {
		t.Helper()
		if got, err := w.Seen(o, faults); fmt.Sprintf("%.4f", got) != want || err != nil {
			t.Errorf("%s: %.4f, %v; expected %s", o.ID, got, err, want)
		}
	}
	check(lamps, nil, "[0.0000 1.0000]")
	check(weather, []string{"soaked", "other"}, "[0.7692 0.2308]")
	check(weather, nil, "[0.2500 0.7500]")
	check(ladder, nil, "[]")
	lamps.Parts = []string{"heater", "ladder"}
	check(lamps, nil, "[]")
	lamps.Parts = []string{"heater"}
	v.Hold([]string{"plug"}, nil, false)
	check(lamps, nil, "[0.5000 0.5000]")
}
