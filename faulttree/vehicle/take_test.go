package vehicle_test

import (
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Of several readings the one counts that the quantity says. With its heater on
// the cottage reads 120 V · 10 / 10.511 by Ohm's law, without it 120 V; its
// second leg stands at 90 V whatever is on.
func TestTheReadingThatCounts(t *testing.T) {
	r := cottage()
	r.Params = append(r.Params, rig.Param{Name: "second", Unit: rig.Volts, Value: 90, From: 90, To: 90})
	second := rig.NewPart("second", rig.Source, "panel.l2", "panel.n")
	second.Params[rig.AttrVolts] = len(r.Params) - 1
	r.Parts = append(r.Parts, second)
	v, err := vehicle.New(r)
	if err != nil {
		t.Fatal(err)
	}
	loaded := 120 * 10 / 10.511
	for take, want := range map[string]float64{
		"highest of [loads off, each load]":                         120,
		"lowest of [loads off, all loads]":                          loaded,
		"farthest from the first of [loads off, each load]":         loaded,
		"lowest of [l1, l2]":                                        90,
		"farthest from the first of [l1, l2, loads off, each load]": 90,
		"highest of [l1, l2]":                                       loaded,
		"highest of [frame, step]":                                  loaded,
		"lowest of [l1, l2, a, b, c]":                               90,
	} {
		q := hot
		q.Conditions = []faulttree.Condition{faulttree.Loaded}
		if q.Take, err = faulttree.ParseTake(take); err != nil {
			t.Fatal(err)
		}
		if got, ok, err := v.Taken(q); err != nil || !ok || math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: %v, %v, %v; want %v", take, got, ok, err, want)
		}
	}
	none := faulttree.Quantity{Unit: faulttree.VoltsAC, Red: "ladder.l1", Black: "panel.n"}
	if _, ok, err := v.Taken(none); ok || err != nil {
		t.Errorf("a point that is not there reads something: %v", err)
	}
}
