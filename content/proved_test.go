package content_test

import (
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// Of every step of the shipped handbook that proves the meter, what such a source shows
// proves it, and what a dead, weak, frozen or wrongly set meter shows does not: 120 V of a
// receptacle (ANSI C84.1: 114 to 126 V), 12.6 V of a full battery.
func TestWhatProvesTheMeter(t *testing.T) {
	lib := load.Shipped()
	f := lib.Forest
	steps := 0
	for _, id := range f.IDs() {
		for _, s := range f.Trees[id].Steps {
			if s.Kind != faulttree.KindMeasure || len(s.Measure) != 1 {
				continue
			}
			shows := map[string]bool{"0": false, "50": false, "150": false, "OL": false, "114": true, "120.0": true, "126": true}
			switch q := s.Measure[0].Quantity; q.Proves {
			case faulttree.ProvesVoltsDC:
				shows = map[string]bool{"0": false, "8.1": false, "24": false, "OL": false, "12.6": true}
			case faulttree.ProvesVoltsAC:
			default:
				continue
			}
			steps++
			for text, want := range shows {
				w := must.Have(faulttree.Begin(f, s.Ref(), faulttree.Qualified, faulttree.DefaultMeter()))(t)
				if w.Step().ID != s.ID {
					t.Fatalf("%s asks %s first", s.Ref(), w.Step().Ref())
				}
				w, err := w.Answer(faulttree.Answer{Readings: []faulttree.Reading{must.Have(faulttree.ParseReading(text, s.Measure[0].Quantity))(t)}})
				if err != nil {
					t.Fatal(s.Ref(), err)
				}
				if got := view.Proves(lib, w, 0); got != want {
					t.Errorf("%s: %s proves the meter: %v, want %v; it leads to %s", s.Ref(), text, got, want, w.Trail()[0].Next)
				}
			}
		}
	}
	if steps < 10 {
		t.Errorf("only %d steps prove the meter", steps)
	}
}
