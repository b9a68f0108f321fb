package suspect

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// Where few cases fit, more are drawn of what may fit, and the shares come near to
// those of a large population, also where by chance the few speak for one fault
// alone. A second belief finds them drawn.
func TestMoreIsDrawnWhereFewFit(t *testing.T) {
	// the neutral is a contact of some ohms, or open with almost equal loads
	evidence := []Evidence{read(t, "panel.l1-n", "108 V"), read(t, "panel.l2-n", "131 V"), read(t, "panel.n-g", "11.6 V")}
	want := shareOf(believe(t, New(toy(8000, 20), faulttree.DefaultMeter(), toyFaults), evidence...), "poor-neutral", faulttree.Supply)
	astray := 0
	for seed := range uint64(5) {
		small, calls := toy(12, 21+seed), 0
		small.more = func(near []int, n int) Population {
			calls++
			if n != len(near)*CommonPractice().More {
				t.Errorf("%d further draws of %d strata", n, len(near))
			}
			for _, i := range near {
				if c := small.cases[i]; c.System != "mains" {
					t.Errorf("more is drawn of %+v, of which nothing was read", c)
				}
			}
			return small.further(rand.New(rand.NewPCG(3, 3)), near, n)
		}
		r := New(small, faulttree.DefaultMeter(), toyFaults)
		b := believe(t, r, evidence...)
		if got := shareOf(b, "poor-neutral", faulttree.Supply); math.Abs(got-want) > 0.1 {
			t.Errorf("the poor contact has %.3f; with a large population %.3f", got, want)
		}
		if n := len(b.Cases()); calls != 1 || n <= len(small.cases) || !reflect.DeepEqual(b.Cases()[0].Faults, small.cases[0].Faults) {
			t.Errorf("after %d calls the belief weighs %d cases", calls, n)
		}
		if again := believe(t, r, evidence...); calls != 1 || !reflect.DeepEqual(again.Shares(), b.Shares()) {
			t.Errorf("the same belief once more draws again, %d calls", calls)
		}
		believe(t, r)
		none := believe(t, r.Assuming(Assumed{Wrong: 0.02, NoneFits: 0.01}), evidence...)
		if calls != 1 {
			t.Error("more is drawn although nothing was read, or none was to be drawn")
		}
		if math.Abs(shareOf(none, "poor-neutral", faulttree.Supply)-want) > 0.3 {
			astray++
		}
	}
	if astray == 0 {
		t.Error("the few cases come near by themselves: this test shows nothing")
	}
}

// failing is a population that cannot be worked out.
type failing struct{ *table }

var errUnsolved = errors.New("the circuit cannot be solved")

func (failing) Column(context.Context, faulttree.Quantity) ([]float32, error) {
	return nil, errUnsolved
}

// short is a population whose columns have too few entries.
type short struct{ *table }

func (short) Column(context.Context, faulttree.Quantity) ([]float32, error) {
	return make([]float32, 3), nil
}

// inOneGo is a population that solves what it is asked for in one go.
type inOneGo struct {
	*table
	asked *[]string
}

func (p inOneGo) Columns(_ context.Context, qs ...faulttree.Quantity) error {
	for _, q := range qs {
		*p.asked = append(*p.asked, q.ID)
	}
	return nil
}

// Readings taken together are solved together; one that could not be taken is not
// solved at all.
func TestReadingsAreSolvedTogether(t *testing.T) {
	var asked []string
	r := New(inOneGo{toy(5, 1), &asked}, faulttree.DefaultMeter(), toyFaults)
	none := read(t, "panel.n-g", "0 V")
	none.Reading = faulttree.NotTaken("no key to the panel")
	believe(t, r, read(t, "panel.l1-n", "119 V"), none, read(t, "panel.l2-n", "119 V"))
	if len(asked) < 2 || asked[0] != "panel.l1-n" || asked[1] != "panel.l2-n" || slices.Contains(asked, "panel.n-g") {
		t.Errorf("asked together: %v", asked)
	}
}

// So is what is asked whether it may be read.
func TestWhatIsPermittedIsSolvedTogether(t *testing.T) {
	first, second := "ohm:plug.n-cord.n@unplugged", "ohm:plug.l1-n@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, first, faulttree.DeadTest), exposed(t, second, faulttree.DeadTest)}, []string{first}, []string{second})
	p := twoFaults("a", "b", map[string][3]float64{first: {math.Inf(1), 0.1, 0.1}, second: {9, 9, 12}})
	var asked []string
	b := believe(t, New(inOneGo{p, &asked}, faulttree.DefaultMeter(), toyFaults))
	may := must.Have(b.Permitted(context.Background(), NewRules(f, faulttree.Owner), Reader{}, f.Quantities[first], f.Quantities[second]))(t)
	if len(may) != 2 || !slices.Equal(asked, []string{first, second}) {
		t.Errorf("%d may be read; asked together: %v", len(may), asked)
	}
}

func TestErrorsOfThePopulationComeBack(t *testing.T) {
	e := read(t, "panel.l1-n", "119 V")
	if _, err := New(failing{toy(5, 1)}, faulttree.DefaultMeter(), toyFaults).Belief(context.Background(), []Evidence{e}); !errors.Is(err, errUnsolved) {
		t.Errorf("the error is %v", err)
	}
	if _, err := New(short{toy(5, 1)}, faulttree.DefaultMeter(), toyFaults).Belief(context.Background(), []Evidence{e}); err == nil {
		t.Error("a column of 3 entries is taken for 40 cases")
	}
}

// A population without a case has no suspects, and nothing of it fits.
func TestEmptyPopulation(t *testing.T) {
	b := believe(t, New(&table{}, faulttree.DefaultMeter(), toyFaults), read(t, "panel.l1-n", "119 V"))
	if len(b.Suspects())+len(b.Open())+len(b.Systems()) > 0 {
		t.Errorf("it has %v and %v", b.Suspects(), b.Open())
	}
}

// What was tried counts as what was read: the complaint is gone, or still there,
// and a vehicle that never had it is a fifth as likely as the others are in the mean,
// whichever it was.
func TestWhatWasTried(t *testing.T) {
	p := &table{}
	at := func(place faulttree.Place) []PlacedFault { return []PlacedFault{{Fault: "open-ground", Place: place}} }
	p.add(Case{Faults: at(faulttree.Cord), Weight: 1}, map[string]float64{"another-cord/half-dead": 1})
	p.add(Case{Faults: at(faulttree.Supply), Weight: 1}, map[string]float64{"another-cord/half-dead": 0})
	p.add(Case{Weight: 1}, nil)
	r := New(p, faulttree.DefaultMeter(), toyFaults)
	gone := believe(t, r, Evidence{Tried: &Tried{"another-cord", "half-dead", true}}).Shares()
	still := believe(t, r, Evidence{Tried: &Tried{"another-cord", "half-dead", false}}).Shares()
	if gone[0] < 50*gone[1] || still[1] < 50*still[0] {
		t.Errorf("gone: %v; still there: %v", gone, still)
	}
	if math.Abs(gone[2]-0.1/1.1) > 0.01 || math.Abs(still[2]-0.1/1.1) > 0.01 {
		t.Errorf("a sound vehicle has %v once it is gone and %v where it is still there; expected 0.09", gone[2], still[2])
	}
	told := believe(t, r, Evidence{Tried: &Tried{"another-cord", "half-dead", true}, Told: true, Doubtful: true}).Shares()
	if told[1] <= gone[1] {
		t.Errorf("told in doubt it says as much: %v, %v", told, gone)
	}
}
