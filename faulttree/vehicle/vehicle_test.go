package vehicle_test

import (
	"fmt"
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// cottage is 120 V behind a feeder of 0.5 Ω, a plug, and a heater of 1440 W
// (10 Ω at 120 V) behind a breaker of 1 mΩ that opens beyond 15 A.
func cottage() *rig.Rig {
	r := &rig.Rig{ID: "cottage", Title: "A cottage", Switches: []rig.Switch{{Name: "plug", Title: "the plug"}}}
	number := func(name string, u rig.ParamUnit, value, to float64) int {
		r.Params = append(r.Params, rig.Param{Name: name, Unit: u, Value: value, From: value, To: max(value, to)})
		return len(r.Params) - 1
	}
	r.Hertz, r.Celsius = number("hertz", rig.Hertz, 60, 0), number("celsius", rig.Celsius, 20, 0)
	part := func(kind rig.Kind, name, a, b string) *rig.Part {
		r.Parts = append(r.Parts, rig.NewPart(name, kind, a, b))
		return &r.Parts[len(r.Parts)-1]
	}
	part(rig.Source, "utility", "utility.l1", "0").Params[rig.AttrVolts] = number("utility", rig.Volts, 120, 0)
	part(rig.Joint, "feeder", "utility.l1", "pedestal.l1").Params[rig.AttrOhms] = number("feeder", rig.Ohms, 0.5, 0)
	part(rig.Joint, "bond", "pedestal.n", "0").Params[rig.AttrOhms] = number("bond", rig.Ohms, 0, 0)
	breaker := part(rig.Breaker, "breaker", "pedestal.l1", "panel.l1")
	breaker.Switch = "plug"
	breaker.Params[rig.AttrOhms], breaker.Params[rig.AttrTrip] = number("breaker", rig.Ohms, 0.001, 0), number("breaker.trip", rig.Amperes, 15, 0)
	pin := part(rig.Joint, "pin.n", "pedestal.n", "panel.n")
	pin.Switch = "plug"
	pin.Params[rig.AttrOhms] = number("pin.n", rig.Ohms, 0.01, 0)
	heater := part(rig.Load, "heater", "panel.l1", "panel.n")
	heater.Leg = "l1"
	heater.Params[rig.AttrWatts], heater.Params[rig.AttrAtVolts] = number("heater", rig.Watts, 1440, 3000), number("heater.at", rig.Volts, 120, 0)
	return r
}

func stand(t testing.TB) *vehicle.Vehicle {
	t.Helper()
	r := cottage()
	if list := r.Check(); list.HasErrors() {
		t.Fatal(list)
	}
	return must.Have(vehicle.New(r))(t)
}

var hot = faulttree.Quantity{ID: "panel.l1-n", Unit: faulttree.VoltsAC, Red: "panel.l1", Black: "panel.n"}

// Two readings of one vehicle: as it stands with the heater on, and as a
// quantity asks, without loads. By Ohm's law the heater's 10 Ω take
// 120 V · 10 / 10.511.
func TestAsItStandsAndAsAsked(t *testing.T) {
	v := stand(t)
	v.Turn("l1", true)
	m, err := v.Measure(hot, bench.HighImpedance)
	if got, ok := m.Number(hot.Unit); err != nil || !ok || math.Abs(got-120*10/10.511) > 1e-3 {
		t.Errorf("as it stands: %v V, %v, %v", got, ok, err)
	}
	if got, ok, err := v.Asked(v.Legs()).Value(hot); err != nil || !ok || math.Abs(got-120) > 1e-3 {
		t.Errorf("as asked, loads off: %v V, %v, %v", got, ok, err)
	}
	loaded := hot
	loaded.Conditions = []faulttree.Condition{faulttree.Loaded}
	if got, _, err := v.Asked(v.Legs()).Value(loaded); err != nil || math.Abs(got-120*10/10.511) > 1e-3 {
		t.Errorf("as asked, loads on: %v V, %v", got, err)
	}
	v.Throw("plug", false)
	if volts, ok, err := v.Volts("panel.l1"); err != nil || ok && volts != 0 {
		t.Errorf("unplugged the panel stands at %v, %v, %v", volts, ok, err)
	}
	if v.Throw("ladder", true) {
		t.Error("a switch that is not there was thrown")
	}
	if st := v.State(); !st.Off["plug"] || !st.Loads["l1"] {
		t.Errorf("it stands %+v", st)
	}
}

// What has opened is looked up anew after the vehicle is given other numbers:
// 3000 W draw 25 A, beyond the breaker's 15 A.
func TestOpenedFollowsTheNumbers(t *testing.T) {
	v := stand(t)
	if open, err := v.Opened("breaker"); open || err != nil {
		t.Fatalf("the breaker of an ordinary vehicle stands open: %v, %v", open, err)
	}
	values := v.Rig().Values()
	v.Rig().ShareWatts(values, "l1", 3000)
	must.Do(t, v.Put(rig.Setup{Values: values}))
	if open, err := v.Opened("breaker"); !open || err != nil {
		t.Errorf("at 25 A the breaker stands open: %v, %v", open, err)
	}
}

// A walk goes both ways where the choice is free, one way where a reading or an
// open breaker decides it.
func TestWalkerAnswers(t *testing.T) {
	v := stand(t)
	choice := func(id string) faulttree.Choice {
		return faulttree.Choice{ID: id, Text: id, Exit: faulttree.Exit{Text: id, To: faulttree.Ref{Tree: "t", Step: id}}}
	}
	end := func(id string) *faulttree.Step {
		return &faulttree.Step{Tree: "t", ID: id, Kind: faulttree.KindFinding}
	}
	look := &faulttree.Step{Tree: "t", ID: "look", Kind: faulttree.KindObserve, Choices: []faulttree.Choice{choice("a"), choice("b")}}
	tree := &faulttree.Tree{ID: "t", Start: "look", Steps: []*faulttree.Step{look, end("a"), end("b")}}
	tree.Index()
	asked := v.Asked(v.Legs())
	ends := func() (ids []string) {
		w := must.Have(faulttree.Begin(&faulttree.Forest{Trees: map[string]*faulttree.Tree{"t": tree}}, faulttree.Ref{Tree: "t"}, faulttree.Owner, faulttree.DefaultMeter()))(t)
		walks := must.Have(vehicle.Walker{Value: asked.Value, Vehicle: v}.Ends(w))(t)
		for _, end := range walks {
			ids = append(ids, end.At().Step)
		}
		return ids
	}
	if got := fmt.Sprint(ends()); got != "[b a]" {
		t.Errorf("a free choice ends at %s", got)
	}
	volt := faulttree.One
	look.Choices[0].When = []faulttree.When{{Quantity: hot, Span: faulttree.Span{From: faulttree.Lowest, Below: 100 * volt}}}
	look.Choices[1].When = []faulttree.When{{Quantity: hot, Span: faulttree.Span{From: 100 * volt, Below: faulttree.Highest}}}
	if got := fmt.Sprint(ends()); got != "[b]" {
		t.Errorf("at 120 V the walk ends at %s", got)
	}
	look.Choices[0].When, look.Choices[1].When = nil, nil
	look.Choices[0].Sees, look.Choices[0].Opened, look.Choices[1].Sees = true, []string{"breaker"}, true
	if got := fmt.Sprint(ends()); got != "[b]" {
		t.Errorf("with no breaker open the walk ends at %s", got)
	}
}

// A heater turned on loads the feeder.
func Example() {
	v, err := vehicle.New(cottage())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, on := range []bool{false, true} {
		v.Turn("l1", on)
		m, err := v.Measure(hot, bench.HighImpedance)
		if err != nil {
			fmt.Println(err)
			return
		}
		volts, _ := m.Number(hot.Unit)
		fmt.Println(faulttree.VoltsAC.Symbol(), math.Round(10*volts)/10)
	}
	// Output:
	// V 120
	// V 114.2
}
