package content_test

import (
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// The ordinary cases of the 12 V side take no more readings than a careful
// practitioner wrote beside each: the battery of a car, posts and panel on the
// supply, the same on the battery alone, and what decides. Line voltage is read
// only after a fuse that blew, and before "no fault shown".
func TestOrdinaryCasesOfTheTwelveVoltSideAreShort(t *testing.T) {
	for file, want := range map[string]struct{ readings, live int }{
		"twelve-volt-swollen":            {0, 0},
		"twelve-volt-fuse":               {2, 2},
		"twelve-volt-overcharge":         {2, 0},
		"twelve-volt-reversed":           {3, 0},
		"twelve-volt-converter-dead":     {4, 0},
		"twelve-volt-lithium-cut-off":    {5, 0},
		"twelve-volt-disconnect":         {6, 0},
		"twelve-volt-drained":            {7, 0},
		"twelve-volt-near-a-quarter":     {6, 0},
		"twelve-volt-corroded-clamp":     {7, 0},
		"twelve-volt-thin-wire":          {7, 0},
		"twelve-volt-over-the-chains":    {8, 0},
		"twelve-volt-healthy-lithium":    {10, 4},
		"twelve-volt-meter-not-on-volts": {3, 0},
	} {
		w, _ := walkFile(t, shipped(), file)
		asked := readingsOf(w)
		live := 0
		for _, q := range asked {
			if q.Exposure.Live() {
				live++
			}
		}
		if len(asked) != want.readings || live != want.live {
			t.Errorf("%s takes %d readings, %d of them live; want %d, %d", file, len(asked), live, want.readings, want.live)
		}
	}
}

// On the reader's own source the dead tests come first, and what is seen needs
// no reading. Counted beside a practitioner: proof, ground of source and outlet,
// bond; the source at its own receptacle; then one outlet, unloaded and loaded.
func TestOrdinaryCasesOfTheOwnSourceAreShort(t *testing.T) {
	for file, want := range map[string]struct{ readings, live int }{
		"own-source-gfci-opened":            {0, 0},
		"own-source-inverter-outlet-ground": {4, 1},
		"own-source-generator-like-filters": {5, 1},
		"own-source-generator-slow":         {5, 2},
		"own-source-no-output":              {6, 3},
		"own-source-inverter-floating":      {6, 4},
		"own-source-neutral-of-branch":      {7, 4},
		"own-source-outlet-reversed":        {9, 6},
		"own-source-way-poor":               {9, 6},
		"own-source-hot-gives-way":          {11, 8},
		"own-source-inverter-healthy":       {10, 8},
		"own-source-generator-healthy":      {11, 8},
	} {
		w, _ := walkFile(t, shipped(), file)
		asked, live, ohms := readingsOf(w), 0, false
		for _, q := range asked {
			switch {
			case q.Unit == faulttree.Ohms:
				ohms = true
			case q.Exposure.Live():
				if live++; !ohms && live > 1 {
					t.Errorf("%s reads %s before the first dead test", file, q.ID)
				}
			}
		}
		if len(asked) != want.readings || live != want.live {
			t.Errorf("%s takes %d readings, %d of them live; want %d, %d", file, len(asked), live, want.readings, want.live)
		}
	}
}

// readingsOf lists the quantities that a walk has asked for, in order, without
// those that could not be measured.
func readingsOf(w faulttree.Walk) []faulttree.Quantity {
	var out []faulttree.Quantity
	for _, e := range w.Trail() {
		for i, r := range e.Answer.Readings {
			if r.Quality != faulttree.NotPossible {
				out = append(out, w.Asked(e.Step).Measure[i].Quantity)
			}
		}
	}
	return out
}

// A reader on shore power who takes the walk for a source of one's own is told
// nothing of a source: what feeds the vehicle was not read.
func TestTheWalkForOnesOwnSourceClearsNoShorePower(t *testing.T) {
	in := strings.NewReader(`facts: {source: shore, service: 30a}
own-source#look: neither
meter.known-source: 119.8
ohm:outlet.g-body@unplugged: 0.1
outlet.h-n: 120.1
outlet.n-g: 0.1
outlet.h-n@loaded: 118.0
outlet.n-g@loaded: 0.5
`)
	lib := shipped()
	supplied, diags := load.Readings(in, "readings", lib.Forest)
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "own-source"}, faulttree.Owner, faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	if w, _, err = w.Supply(supplied); err != nil {
		t.Fatal(err)
	}
	if r, ended := w.Finding(); !ended || len(r.Finding.Clears) > 0 {
		t.Errorf("on shore power it ends in %s, %v, and clears %v", r.Ref, ended, r.Finding.Clears)
	}
}
