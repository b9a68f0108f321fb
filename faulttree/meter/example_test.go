package meter_test

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
)

// outlet is a circuit of 119.94 V.
type outlet struct{}

func (outlet) Measure(q faulttree.Quantity, _ bench.Input) (bench.Measured, error) {
	return bench.Measured{Value: 119.94, Defined: true}, nil
}

func Example() {
	m := meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	q := faulttree.Quantity{ID: "outlet.h-n", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
	for _, reach := range []faulttree.Amount{0, 60 * faulttree.One, 1000 * faulttree.One} {
		m.Setting.Range = reach
		s, err := m.Read(outlet{}, q)
		fmt.Println(s.Text, s.Unit, s.Reading.Quality, err)
	}
	// Output:
	// 119.9 V steady <nil>
	// OL V over-range <nil>
	// 120 V steady <nil>
}
