package scene_test

import (
	"math"
	"math/cmplx"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

func taken(red, black string, volts float64) scene.Taken {
	v := faulttree.Amount(volts * float64(faulttree.One))
	return scene.Taken{Reading: faulttree.Reading{Low: v, High: v}, Quantity: faulttree.Quantity{
		ID: red + "-" + black + "@loaded", Title: red + " to " + black, Unit: faulttree.VoltsAC, Red: red, Black: black,
		Conditions: []faulttree.Condition{faulttree.Loaded}}}
}

// Readings made by the model itself at 10 Ω in the neutral and 800 W on L1 are
// met again from the dials' ordinary places.
func TestFitFindsTheReadersOwnValues(t *testing.T) {
	s := show(t)
	s.Choose("high-resistance-neutral")
	s.SetSeverity(10)
	s.SetLoad("l1", 800)
	v := look(t, s)
	n := v.Volts["panel.n"]
	read := []scene.Taken{
		taken("panel.l1", "panel.n", cmplx.Abs(v.Volts["panel.l1"]-n)),
		taken("panel.l2", "panel.n", cmplx.Abs(v.Volts["panel.l2"]-n)),
		taken("panel.n", "panel.g", cmplx.Abs(n-v.Volts["panel.g"])),
	}
	shown, err := scene.Why([]*rig.Rig{coach(t)}, scene.Book{Faults: catalogue(), Meter: faulttree.DefaultMeter()}, scene.Situation{Fault: "high-resistance-neutral", Taken: read})
	w := shown.Scene
	if err != nil || w == nil {
		t.Fatal(w, err)
	}
	rows, err := w.Compare(read)
	if err != nil {
		t.Fatal(err)
	}
	after := look(t, w)
	for i, name := range []string{"l1", "l2"} {
		if want, got := leg(v, name), leg(after, name); math.Abs(want-got) > 0.03*want {
			t.Errorf("%s was read as %.1f V, the model comes to %.1f V", name, want, got)
		}
		if rows[i].Taken == "" || rows[i].Model == "" || rows[i].Model == "—" {
			t.Errorf("row %+v", rows[i])
		}
	}
}

func TestWhyWithoutARig(t *testing.T) {
	shown, err := scene.Why([]*rig.Rig{coach(t)}, scene.Book{Faults: catalogue()}, scene.Situation{Fault: "meter-hold"})
	if shown.Scene != nil || err != nil {
		t.Errorf("a fault that fits nowhere has the scene %v, %v", shown.Scene, err)
	}
}
