package scene_test

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/scene"
)

// Two loads in series across 240 V: 60 V on one leg, 180 V on the other
// (arithmetic). Only the leg that is too high is a danger, and of the places at
// which it is so the sentence names one.
func TestDangersOfALeg(t *testing.T) {
	b := scene.Book{BodyLimit: 30 * faulttree.One, Limits: []scene.Limit{
		{Red: "inlet.l2", Black: "inlet.n", From: 140 * faulttree.One, Burns: true},
		{Red: "panel.l1", Black: "panel.n", From: 140 * faulttree.One, Burns: true},
		{Red: "panel.l2", Black: "panel.n", From: 140 * faulttree.One, Burns: true},
		{Red: "pedestal.g", Black: "earth", From: 15 * faulttree.One},
	}}
	nodes, why := b.Dangers(map[string]complex128{
		"panel.l1": 120, "panel.l2": -120, "panel.n": 60, "inlet.l2": -120, "inlet.n": 60, "body": 31, "earth": 0, "pedestal.g": 1,
	})
	for node, want := range map[string]bool{"panel.l1": false, "panel.l2": true, "panel.n": true, "inlet.l2": true, "body": true, "pedestal.g": false} {
		if nodes[node] != want {
			t.Errorf("%s is a danger: %v", node, nodes[node])
		}
	}
	if len(why) != 2 || !strings.Contains(why[0], "L2 to neutral") || !strings.Contains(why[0], "180") || !strings.Contains(why[1], "The body stands 31") {
		t.Errorf("it says %q", why)
	}
}

// Of two points between which a voltage hurts, the one that stands off earth is the
// danger: a neutral at 0.9 V is none because the ground beside it has 58.8 V.
func TestDangerIsWhatStandsOffEarth(t *testing.T) {
	b := scene.Book{Limits: []scene.Limit{{Red: "outlet.n", Black: "outlet.g", From: 15 * faulttree.One}}}
	for _, off := range []string{"outlet.n", "outlet.g"} {
		volts := map[string]complex128{"outlet.n": 0.9, "outlet.g": 0.9}
		volts[off] = 58.8
		if nodes, _ := b.Dangers(volts); len(nodes) != 1 || !nodes[off] {
			t.Errorf("with 58.8 V at %s the dangers are %v", off, nodes)
		}
	}
}

// A voltage that a meter may read as reaching a limit is a danger before it does: 1.2 %
// + 5 counts at 29.8 V is more than 0.2 V. One that it cannot is none.
func TestDangersWithinTheError(t *testing.T) {
	b := scene.Book{Meter: faulttree.DefaultMeter(), BodyLimit: 30 * faulttree.One}
	for volts, want := range map[complex128]bool{25: false, 29.86: true, 29.86i: true, 30: true} {
		nodes, why := b.Dangers(map[string]complex128{"body": volts, "earth": 0})
		if nodes["body"] != want || (len(why) > 0) != want {
			t.Errorf("%v V: %v, %q", volts, nodes, why)
		}
	}
}

// A reading within the meter's error of a limit may have reached it, whichever
// way round the probes are; 1.2 % + 5 counts at 139 V is more than 1 V.
func TestDangerBetween(t *testing.T) {
	b := scene.Book{Meter: faulttree.DefaultMeter(), Limits: []scene.Limit{{Red: "panel.l2", Black: "panel.n", From: 140 * faulttree.One, Burns: true}}}
	for text, want := range map[string]bool{"120.0": false, "139.2": true, "177.5": true} {
		r := must.Have(faulttree.ParseReading(text, faulttree.Quantity{Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: faulttree.Highest}))(t)
		if _, hurts := b.DangerBetween("panel.n", "panel.l2", r); hurts != want {
			t.Errorf("%s V is a danger: %v", text, hurts)
		}
	}
	if _, hurts := b.DangerBetween("panel.l1", "panel.n", faulttree.Reading{}); hurts {
		t.Error("two points without a limit are a danger")
	}
}

// Letters stand for wires; the pedestal's own metal has a name.
func TestAPointIsNamedAsItIsCalled(t *testing.T) {
	for point, want := range map[string]string{"pedestal.cover": "Pedestal cover stands", "pedestal.l1": "Pedestal L1 stands", "pedestal.g": "Pedestal ground stands"} {
		if got := (scene.Limit{Red: point, Black: "earth"}).Sentence("119.5 V"); !strings.HasPrefix(got, want) {
			t.Errorf("%s: %q", point, got)
		}
	}
}
