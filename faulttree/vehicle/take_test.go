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
		// a meter shows the same, to its digits
		show := func(a vehicle.Asked, at faulttree.Quantity) (faulttree.Reading, error) {
			value, _, err := a.Value(at)
			amount := faulttree.Amount(math.Round(value*10)) * faulttree.One / 10
			return faulttree.Reading{Quality: faulttree.Steady, Low: amount, High: amount}, err
		}
		if r, err := v.Typed(q, show); err != nil || math.Abs(r.High.Float()-want) > 0.05 {
			t.Errorf("%s: %s V is typed, %v; want %v", take, r.High, err, want)
		}
	}
	ol := func(a vehicle.Asked, at faulttree.Quantity) (faulttree.Reading, error) {
		if at.Red == "panel.l1" {
			return faulttree.Reading{Quality: faulttree.Steady, Low: faulttree.One, High: faulttree.One}, nil
		}
		return faulttree.Reading{Quality: faulttree.OverRange}, nil
	}
	q := hot
	for take, want := range map[string]faulttree.Quality{"highest of [l1, l2]": faulttree.OverRange, "lowest of [l1, l2]": faulttree.Steady} {
		q.Take, _ = faulttree.ParseTake(take)
		if r, err := v.Typed(q, ol); err != nil || r.Quality != want {
			t.Errorf("%s of 1 and OL: %v, %v", take, r, err)
		}
	}
	none := faulttree.Quantity{Unit: faulttree.VoltsAC, Red: "ladder.l1", Black: "panel.n"}
	if _, ok, err := v.Taken(none); ok || err != nil {
		t.Errorf("a point that is not there reads something: %v", err)
	}
}
