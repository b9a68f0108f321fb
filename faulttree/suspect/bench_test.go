package suspect

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// manyCases is 20,000 vehicles with 60 faults, and 40 quantities read of the
// first of them.
func manyCases(t testing.TB) (*Reasoner, []Evidence) {
	random := rand.New(rand.NewPCG(7, 7))
	const cases, faults = 20_000, 60
	p := &table{columns: map[string][]float32{}}
	for i := range cases {
		c := Case{Rig: "coach", System: "mains", Weight: 1}
		if f := i % faults; f > 0 {
			c.Faults = []PlacedFault{{Fault: fmt.Sprint("fault ", f), Place: faulttree.Places()[f%3]}}
		}
		p.cases = append(p.cases, c)
	}
	var evidence []Evidence
	for _, place := range []string{"pedestal", "plug", "cord", "panel"} {
		for _, pair := range []string{"l1-n", "l2-n", "l1-l2", "l1-g", "l2-g", "n-g"} {
			evidence = append(evidence, read(t, place+"."+pair, "119 V"), read(t, "ohm:"+place+"."+pair+"@unplugged", "45 kΩ"))
		}
	}
	evidence = evidence[:40]
	for _, e := range evidence {
		column := make([]float32, cases)
		for i := range column {
			column[i] = float32(115 + 10*random.Float64())
			if e.Quantity.Unit == faulttree.Ohms {
				column[i] = float32(math.Exp(15 * random.Float64()))
			}
		}
		p.columns[e.Quantity.ID] = column
	}
	a := CommonPractice()
	a.More = 0
	return New(p, faulttree.DefaultMeter(), func(fault string, place faulttree.Place) Described {
		return Described{RepairBy: fault[len(fault)-1:], Hazard: faulttree.Danger}
	}).Assuming(a), evidence
}

// BenchmarkFurtherReading is a belief of 40 readings, weighed all anew, and all
// that a page says of it; beside it, to compare machines, as many logarithms.
func BenchmarkFurtherReading(b *testing.B) {
	r, evidence := manyCases(b)
	b.Run("belief", func(b *testing.B) {
		for b.Loop() {
			believe(b, r, evidence...)
		}
	})
	b.Run("page", func(b *testing.B) {
		for b.Loop() {
			belief := believe(b, r, evidence...)
			belief.Suspects()
			belief.Open()
		}
	})
	b.Run("baseline", func(b *testing.B) {
		sum := 0.0
		for b.Loop() {
			for i := range 40 * 20_000 {
				sum += math.Log(float64(i + 1))
			}
		}
		_ = sum
	})
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			must.Have(New(r.pool.Population, r.meter, r.describe).Belief(context.Background(), nil))(b)
		}
	})
}
