package content_test

import (
	"testing"

	"faultwright/faulttree"
)

// How many readings a tingle, and a GFCI that opens with the water heater, take, and how many of them touch something live, the
// proof of the meter among them. The first three are a practitioner's own count of
// these cases, at most 9, 8 and 4; the others are what the walk takes today. Before
// the first dead test only the proof is live.
func TestATingleAndATripTakeFewReadings(t *testing.T) {
	lib := shipped()
	for _, c := range []struct {
		file           string
		readings, live int
	}{
		{"body-cord-and-leak", 7, 1},
		{"body-leak", 7, 1},
		{"trips-element-leaks", 4, 1},
		{"body-bond-and-leak", 7, 1},
		{"body-adapter-and-leak", 7, 1},
		{"body-cord-open-twice", 9, 1},
		{"body-short-behind-heater", 6, 1},
		{"body-contactor-open", 11, 5},
		{"body-2", 11, 5},
	} {
		w, _ := walkFile(t, lib, c.file)
		readings, live, dead := 0, 0, 0
		for _, e := range w.Trail() {
			if len(e.Answer.Readings) == 0 {
				continue
			}
			for _, v := range lib.Forest.Step(e.Step).Measure {
				readings++
				switch {
				case v.Quantity.Exposure == faulttree.DeadTest:
					dead++
				case dead == 0 && !v.Quantity.OfMeter():
					t.Errorf("%s: %s is read before the first dead test", c.file, v.Quantity.ID)
					fallthrough
				default:
					live++
				}
			}
		}
		if readings != c.readings || live != c.live {
			t.Errorf("%s: %d readings, %d of them live; want %d and %d", c.file, readings, live, c.readings, c.live)
		}
	}
}
