package content_test

import (
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// What a reading within the meter's error of a limit leads to: the figure shown
// decides, except at a danger limit and at the asking of what makes one count.
func TestReadingsOnALimit(t *testing.T) {
	lib := load.Shipped()
	for _, c := range []struct{ step, shows, label string }{
		{"pedestal#cover", "14.6", "live"},
		{"pedestal#cover", "14.2", "go on"},
		{"body-voltage#body-earth", "29.8", "stop, unplug"},
		{"body-voltage#body-earth", "14.6", "stop, unplug"},
		{"body-voltage#loads", "9.9", "below 10 V"},
		{"body-voltage#cover", "14.6", "live metal"},
		{"twelve-volt#mains", "4.6", "line voltage: stop"},
	} {
		s := lib.Forest.Step(faulttree.ParseRef(c.step, ""))
		var readings []faulttree.Reading
		for i, text := range strings.Fields(c.shows) {
			r := must.Have(faulttree.ParseReading(text, s.Measure[i].Quantity))(t)
			readings = append(readings, r)
		}
		out, err := s.Judge(readings, faulttree.DefaultMeter(), lib.Forest.Trees[s.Tree].DangerLimit)
		if err != nil || out.Label != c.label {
			t.Errorf("%s: %s leads to %q, %v; want %q", c.step, c.shows, out.Label, err, c.label)
		}
	}
}

// The service range ends at 127 V (ANSI C84.1, range B: +5.8 % of 120 V), and 125.6 V
// lies within it: no step of the walk may call it high. What the last reading shows above
// it is.
func TestASupplyBelowTheLimitIsNotHigh(t *testing.T) {
	forest := load.Shipped().Forest
	for drawing, high := range map[string]bool{"125.4": false, "131": true} {
		given := faulttree.Supplied{ActsDone: true, Readings: map[string][]faulttree.Reading{}, Choices: map[faulttree.Ref]string{{Tree: "pedestal", Step: "look"}: "whole"}}
		for id, text := range map[string]string{"meter.known-source": "121.0", "pedestal.l1-earth": "125.6", "pedestal.cover-earth": "0.3", "pedestal.g-earth": "0.3",
			"pedestal.l1-n": "125.6", "pedestal.l1-g": "125.5", "pedestal.l1-n@lowz": drawing} {
			r := must.Have(faulttree.ParseReading(text, forest.Quantities[id]))(t)
			given.Readings[id] = []faulttree.Reading{r}
		}
		w := must.Have(faulttree.Begin(forest, faulttree.Ref{Tree: "pedestal-30a"}, faulttree.Owner, faulttree.DefaultMeter()))(t)
		w, next, err := w.Supply(given)
		if err != nil || next != "" {
			t.Fatalf("at %v it wants %q, %v", w.At(), next, err)
		}
		f := forest.Step(w.At()).Finding
		if f.Signal > faulttree.Notice != high || slices.Contains(f.Faults, "high-supply") != high || len(f.Clears) > 0 == high {
			t.Errorf("125.6 V, and %s V to a meter that draws, ends at %v, %v, %v", drawing, w.At(), f.Signal, f.Faults)
		}
	}
}

// Where no voltage may be, a reading that may have reached the limit is live: every
// tree that asks for volts between pins of a pulled plug declares from where.
func TestVoltsOnPulledPinsHaveADangerLimit(t *testing.T) {
	for _, tree := range load.Shipped().Forest.Trees {
		for _, s := range tree.Steps {
			for _, v := range s.Measure {
				if q := v.Quantity; q.Unit == faulttree.VoltsAC && q.Has(faulttree.Unplugged) && strings.HasPrefix(q.Red, "plug.") {
					if limit, ok := tree.DangerLimit(q.ID); !ok || limit > 5*faulttree.One {
						t.Errorf("%s reads %s, which has the danger limit %v, %v", s.Ref(), q.ID, limit, ok)
					}
				}
			}
		}
	}
}
