package scripted

import (
	"context"
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/suspect"
)

// weights is vehicles of which nothing is read: in order, and with faults a and b.
type weights [3]float64

func (w weights) Cases() []suspect.Case {
	out := []suspect.Case{{Rig: "trailer", System: "mains", Weight: w[0]}}
	for i, fault := range []string{"a", "b"} {
		at := []faulttree.Place{faulttree.Supply, faulttree.Cord}[i]
		out = append(out, suspect.Case{Rig: "trailer", System: "mains", Weight: w[1+i], Faults: []suspect.PlacedFault{{Fault: fault, Place: at}}})
	}
	return out
}

func (w weights) nothing() ([]float32, error) {
	no := float32(math.NaN())
	return []float32{no, no, no}, nil
}

func (w weights) Column(context.Context, faulttree.Quantity) ([]float32, error) { return w.nothing() }

func (w weights) Seen(context.Context, string, string) ([]float32, error) { return w.nothing() }

func (w weights) Gone(context.Context, string, string) ([]float32, error) { return w.nothing() }

func (w weights) More(context.Context, []int, int) (suspect.Population, error) { return w, nil }

// What the readings do not hold is named where it is clearly likelier than that nothing is
// wrong and was tested; and where something is wrong all but certainly, whatever was.
func TestWhatIsNamed(t *testing.T) {
	s := &scripted{b: mark.Book{Rubric: rubric.Rubric{Held: 0.9, InDoubt: 0.05}}}
	for _, c := range []struct {
		shares weights // in order, a, b
		hazard faulttree.Signal
		want   bool
	}{
		{weights{0.08, 0.92, 0}, faulttree.Danger, true},   // held
		{weights{0.03, 0.87, 0.1}, faulttree.Danger, true}, // nobody finds no fault there
		{weights{0.06, 0.48, 0.46}, faulttree.Danger, true},
		{weights{0.12, 0.78, 0.1}, faulttree.Danger, false}, // a danger that nothing tested is open
		{weights{0.12, 0.78, 0.1}, faulttree.Notice, true},
		{weights{0.33, 0.51, 0.16}, faulttree.Notice, false}, // hardly likelier than that nothing is wrong
		{weights{0.6, 0.3, 0.1}, faulttree.Notice, false},
	} {
		describe := func(fault string, _ faulttree.Place) suspect.Described {
			if fault == suspect.NoFault {
				return suspect.Described{}
			}
			return suspect.Described{Hazard: c.hazard, RepairBy: fault}
		}
		b := must.Have(suspect.New(c.shares, faulttree.DefaultMeter(), describe).Belief(context.Background(), nil))(t)
		if got := s.finds(b, b.Suspects()); got != c.want {
			t.Errorf("of %v, %v, something is named: %v", c.shares, c.hazard, got)
		}
	}
}
