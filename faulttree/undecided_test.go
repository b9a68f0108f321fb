package faulttree

import (
	"reflect"
	"testing"
)

// undecidedForest compares one alternating voltage at 3 V, at a danger limit of 30 V and
// in a band from 127 V to 140 V, a resistance at 0.3 Ω and a difference of two at 6 V.
func undecidedForest() *Forest {
	earth := Quantity{ID: "body-earth", Unit: VoltsAC, Range: 600 * One}
	other := Quantity{ID: "g-earth", Unit: VoltsAC, Range: 600 * One}
	cord := Quantity{ID: "ohm:cord", Unit: Ohms, Range: 600 * One}
	volts := &Step{Tree: "t", ID: "volts", Kind: KindMeasure, Measure: []Variable{{Quantity: earth}, {Quantity: other}, {Quantity: cord}},
		Derive: []Derived{{Name: "apart", Terms: []Term{{Var: 0, Factor: 1}, {Var: 1, Factor: -1}}, Unit: VoltsAC}},
		Branches: []Branch{
			{Bounds: []Bound{{0, Span{Lowest, 3 * One}, noPos}}},
			{Bounds: []Bound{{0, Span{30 * One, Highest}, noPos}}},
			{Bounds: []Bound{{0, Span{127 * One, 140 * One}, noPos}}},
			{Bounds: []Bound{{2, Only(Lowest, 3*One/10), noPos}}},
			{Bounds: []Bound{{3, Only(6*One, Highest), noPos}}},
		}}
	return &Forest{
		Trees: map[string]*Tree{"t": {ID: "t", Steps: []*Step{volts}, Danger: map[string]string{"body-earth": "touch"},
			Limits: map[string]Limit{"touch": {Value: 30 * One}}}},
		Quantities: Quantities{earth.ID: earth, other.ID: other, cord.ID: cord},
	}
}

// What a meter cannot decide, worked by hand: four times its error is more than lies
// between the limit and nothing, or the other end of the band.
func TestLimitsThatAMeterCannotDecide(t *testing.T) {
	ordinary := DefaultMeter()
	coarse := DefaultMeter() // 2000 counts: 20 and 200 V, 2000 V in steps of 1 V beyond
	coarse.FullScale, coarse.ACVolts = 2000, Accuracy{3 * One, 10}
	bad := ordinary
	bad.ACVolts = Accuracy{40 * One, 5}
	listed := withRanges(t, Range{Ohms, 60 * One, One / 100, Accuracy{One, 2}})
	short := withRanges(t, Range{VoltsAC, 20 * One, One / 100, Accuracy{One, 3}}, Range{Ohms, 60 * One, One / 100, Accuracy{One, 2}})
	for _, c := range []struct {
		name string
		of   Meter
		want []Undecided
	}{
		// 0.9 % of 0.3 Ω and 1 count of 0.1 Ω; of the voltages 4 × 0.086 V is less than 3 V.
		{"ordinary", ordinary, []Undecided{{Limit: 3 * One / 10, Error: 102_700_000, Apart: 3 * One / 10, Unit: Ohms}}},
		// 1 % of 0.3 Ω and 2 counts of 0.01 Ω: 4 × 0.023 Ω.
		{"fine ohms", listed, nil},
		// Beyond 20 V it shows OL: that tells 127 V from 140 V as little as 20.1 V from 30 V.
		{"ends at 20 V", short, []Undecided{
			{Danger: true, Above: true, From: 20 * One, Limit: 30 * One, Error: 410_000_000, Apart: 30 * One, Unit: VoltsAC},
			{Above: true, Limit: 127 * One, Error: 2_024_000_000, Apart: 13 * One, Other: 140 * One, Unit: VoltsAC},
			{Above: true, Limit: 140 * One, Error: 2_180_000_000, Apart: 13 * One, Other: 127 * One, Unit: VoltsAC},
		}},
		// Volts read in steps of 0.1 V: 3 % and 1 V. A difference of two on the 600 V range: 2 × 10 V.
		{"coarse", coarse, []Undecided{
			{Sum: "apart", Limit: 6 * One, Error: 20 * One, Apart: 6 * One, Unit: VoltsAC},
			{Limit: 3 * One, Error: 1_090_000_000, Apart: 3 * One, Unit: VoltsAC},
			{Limit: 127 * One, Error: 4_810_000_000, Apart: 13 * One, Other: 140 * One, Unit: VoltsAC},
			{Limit: 140 * One, Error: 5_200_000_000, Apart: 13 * One, Other: 127 * One, Unit: VoltsAC},
			{Limit: 3 * One / 10, Error: 1_002_700_000, Apart: 3 * One / 10, Unit: Ohms},
		}},
		// 40 % and 5 counts: 1.4 times 21.40 V is 29.96 V, and 0.05 V beyond it reaches 30 V.
		{"bad", bad, []Undecided{
			{Danger: true, From: 21_400_000_000, Limit: 30 * One, Error: 12_050_000_000, Apart: 30 * One, Unit: VoltsAC},
			{Limit: 3 * One, Error: 1_250_000_000, Apart: 3 * One, Unit: VoltsAC},
			{Limit: 127 * One, Error: 51_300_000_000, Apart: 13 * One, Other: 140 * One, Unit: VoltsAC},
			{Limit: 140 * One, Error: 56_500_000_000, Apart: 13 * One, Other: 127 * One, Unit: VoltsAC},
			{Limit: 3 * One / 10, Error: 102_700_000, Apart: 3 * One / 10, Unit: Ohms},
		}},
	} {
		got := undecidedForest().Undecided(c.of)
		if len(got) != len(c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
			continue
		}
		for i := range got {
			have := got[i]
			have.Tree, have.Of = "", Quantity{}
			if !reflect.DeepEqual(have, c.want[i]) {
				t.Errorf("%s: %+v, want %+v", c.name, have, c.want[i])
			}
		}
	}
}

// The figure that counts as over a danger limit is the first that a walk takes so.
func TestWhereADangerLimitCounts(t *testing.T) {
	q := undecidedForest().Quantities["body-earth"]
	for _, limit := range []Amount{5 * One, 15 * One, 30 * One, 132 * One} {
		m := DefaultMeter()
		from := m.CountsFrom(q, limit)
		digit := m.Count(limit, q.Unit)
		shown := func(a Amount) Reading { return Reading{Low: a, High: a, Resolution: digit} }
		if !m.MayHurt(shown(from), q, limit) || m.MayHurt(shown(from-digit), q, limit) || from > limit {
			t.Errorf("%s V counts from %s V", limit, from)
		}
	}
	useless := DefaultMeter()
	useless.ACVolts = Accuracy{100 * One, 6000}
	if from := useless.CountsFrom(q, 30*One); from != 0 {
		t.Errorf("on a meter that may be off by 60 V a danger of 30 V counts from %s V", from)
	}
}
