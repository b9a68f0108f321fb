package asking_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"faultwright/faulttree/asking"
	"faultwright/faulttree/must"
	"faultwright/faulttree/order"
)

// often is how many times each case of a test stands in its sample, so that
// chance counts little.
const often = 50

// sampleOf makes a sample of questions at these costs and of cases, given as what
// they show and their result, each often.
func sampleOf(costs []float64, cases ...[]int) *asking.Sample {
	s := &asking.Sample{Known: 1}
	for i, cost := range costs {
		s.Questions = append(s.Questions, asking.Question{Cost: cost})
		s.Columns = append(s.Columns, asking.Column{Needs: []int{i}})
	}
	for _, c := range cases {
		one := asking.Case{Result: c[len(c)-1], Otherwise: 100}
		for _, code := range c[:len(c)-1] {
			one.Shows = append(one.Shows, uint8(code))
		}
		for range often {
			s.Cases = append(s.Cases, one)
		}
	}
	return s
}

func grown(t testing.TB, s *asking.Sample) *asking.Plan {
	t.Helper()
	return must.Have(s.Grow(context.Background(), all(s), 1))(t)
}

func all(s *asking.Sample) []int {
	out := make([]int, len(s.Cases))
	for i := range out {
		out[i] = i
	}
	return out
}

// wantCost checks what a plan costs its cases in the mean, worked out by hand.
func wantCost(t *testing.T, s *asking.Sample, want float64) {
	t.Helper()
	if got := s.Mean(grown(t, s), all(s)); math.Abs(got-want) > 1e-9 {
		t.Errorf("it costs %v; want %v", got, want)
	}
}

// Half of the cases are a, a quarter b, a quarter c. The first question tells a,
// the second b from c, the third everything, for two and a half times as much. The
// first two cost 1 + 1/2.
func TestTheCheapestOrderIsFound(t *testing.T) {
	cases := [][]int{{1, 1, 1, 0}, {1, 2, 1, 0}, {2, 1, 2, 1}, {2, 2, 3, 2}}
	wantCost(t, sampleOf([]float64{1, 1, 2.5}, cases...), 1.5)
	wantCost(t, sampleOf([]float64{1, 1, 1.25}, cases...), 1.25) // cheap enough: everything at once
}

func TestGates(t *testing.T) {
	cases := [][]int{{1, 1, 1, 0}, {1, 2, 1, 0}, {2, 1, 2, 1}, {2, 2, 3, 2}}
	t.Run("after", func(t *testing.T) { // the third comes after the second: 1 + 1.25 is dearer than 1 + 1/2
		s := sampleOf([]float64{1, 1, 1.25}, cases...)
		s.Questions[2].After = []int{1}
		wantCost(t, s, 1.5)
	})
	t.Run("rank", func(t *testing.T) { // the first only when the second tells nothing: 1, then 1 in every case
		s := sampleOf([]float64{1, 1, 9}, cases...)
		s.Questions[0].Rank, s.Questions[2].Rank = 1, 1
		wantCost(t, s, 2)
	})
	t.Run("stop", func(t *testing.T) { // after a 2 the second may not be asked: one of b and c is taken for the other, and charged
		s := sampleOf([]float64{1, 1, 200}, cases...)
		s.Questions[0].Stops = []uint8{2}
		s.Questions[1].After = []int{0}
		s.Questions[2].After = []int{1}
		wantCost(t, s, 1+100.0/4)
		s.Questions[1].AfterStop = true
		wantCost(t, s, 1.5)
	})
	t.Run("last", func(t *testing.T) { // an a counts only once the fourth was asked, which tells nothing
		s := sampleOf([]float64{1, 1, 9, 3}, []int{1, 1, 1, 1, 0}, []int{1, 2, 1, 1, 0}, []int{2, 1, 2, 1, 1}, []int{2, 2, 3, 1, 2})
		s.Last = map[int]int{0: 3}
		wantCost(t, s, 1+0.5+3*0.5)
	})
	t.Run("not possible", func(t *testing.T) { // what cannot be asked costs nothing, and that it cannot is known
		wantCost(t, sampleOf([]float64{4}, []int{0, 0}, []int{1, 1}), 2)
	})
	t.Run("free", func(t *testing.T) { // what shows by itself costs nothing
		s := sampleOf([]float64{4})
		s.Columns = append(s.Columns, asking.Column{})
		for i := range 2 * often {
			s.Cases = append(s.Cases, asking.Case{Shows: []uint8{1, uint8(i % 2)}, Result: i % 2, Otherwise: 100})
		}
		wantCost(t, s, 0)
	})
	t.Run("sum", func(t *testing.T) { // neither answer alone tells, both together do
		s := sampleOf([]float64{1, 1})
		s.Columns = append(s.Columns, asking.Column{Needs: []int{0, 1}})
		for i := range 4 * often {
			a, b := i%2, i/2%2
			s.Cases = append(s.Cases, asking.Case{Shows: []uint8{uint8(1 + a), 1, uint8(1 + b)}, Result: b, Otherwise: 100})
		}
		s.Questions[1].After = []int{0}
		wantCost(t, s, 2)
	})
}

// A case that a plan takes for another is charged what finding out otherwise
// costs: one of ten is, where from nine in ten on a result counts as known.
func TestWhatIsTakenForAnotherIsCharged(t *testing.T) {
	s := sampleOf([]float64{1}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 0}, []int{1, 1})
	s.Known = 0.9
	wantCost(t, s, 10)
	s.Known = 0.95 // it is not known, but nothing tells more than the one question, which tells nothing: it is not asked
	wantCost(t, s, 10)
}

// A combination of answers that a plan never met counts as the nearest one.
func TestAnUnknownAnswerCountsAsTheNearest(t *testing.T) {
	s := sampleOf([]float64{1}, []int{1, 0}, []int{5, 1}, []int{9, 2})
	p := grown(t, s)
	for code, want := range map[uint8]int{2: 0, 4: 1, 6: 1, 8: 2, 200: 2} {
		if out := s.Walk(p, asking.Case{Shows: []uint8{code}}); out.Result != want || !slices.Equal(out.Asked, []int{0}) {
			t.Errorf("%d is taken for %+v; want %d", code, out, want)
		}
	}
}

// On 300 seeded problems without an error no plan costs less than the cheapest
// order that trying all of them finds (the package order), and few cost more:
// where no single question tells anything, a sample is left unknown.
func TestNoPlanIsCheaperThanTheCheapest(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	more := 0
	for n := range 300 {
		costs := []float64{1, 3, 1, 6}
		var cases [][]int
		p := &order.Problem{}
		for q, cost := range costs {
			p.Questions = append(p.Questions, order.Question{Cost: cost})
			p.Columns = append(p.Columns, order.Column{Needs: order.SetOf(q)})
		}
		seen := map[string]bool{}
		for range 6 {
			c := []int{1 + rng.IntN(3), 1 + rng.IntN(3), 1 + rng.IntN(3), 1 + rng.IntN(3)}
			if seen[fmt.Sprint(c)] {
				continue
			}
			seen[fmt.Sprint(c)] = true
			result := rng.IntN(3)
			cases = append(cases, append(c, result))
			p.Cases = append(p.Cases, order.Case{Shows: []uint8{uint8(c[0]), uint8(c[1]), uint8(c[2]), uint8(c[3])}, Result: result, Weight: 1})
		}
		cheapest := must.Have(p.Best())(t)
		s := sampleOf(costs, cases...)
		got := s.Mean(grown(t, s), all(s))
		if got < cheapest.Expected-1e-9 {
			t.Errorf("problem %d costs %v; the cheapest order costs %v", n, got, cheapest.Expected)
		}
		if got > cheapest.Expected+1e-9 {
			more++
		}
	}
	if more > 15 {
		t.Errorf("%d of 300 plans cost more than the cheapest", more)
	}
}

func TestASampleThatIsWrongIsRefused(t *testing.T) {
	for name, change := range map[string]func(*asking.Sample){
		"no cases":         func(s *asking.Sample) { s.Cases = nil },
		"no price":         func(s *asking.Sample) { s.Questions[0].Cost = 0 },
		"a column missing": func(s *asking.Sample) { s.Columns = nil },
		"another column":   func(s *asking.Sample) { s.Columns[0].Needs = nil },
		"a short case":     func(s *asking.Sample) { s.Cases[0].Shows = nil },
		"never known":      func(s *asking.Sample) { s.Known = 0 },
	} {
		s := sampleOf([]float64{1}, []int{1, 0})
		change(s)
		if _, err := s.Grow(context.Background(), []int{0}, 1); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// Where more questions are open than are tried in full, what follows counts: over
// 100 seeded samples of 10 questions plans that look ahead cost less in the mean
// than greedy ones, and more in few.
func TestLookingAheadGrowsCheaperPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 12))
	greedy, ahead, cheaper, dearer := 0.0, 0.0, 0, 0
	for range 100 {
		costs := make([]float64, 10)
		for i := range costs {
			costs[i] = []float64{1, 1, 3, 6, 8}[rng.IntN(5)]
		}
		var cases [][]int
		for result := range 12 {
			c := make([]int, len(costs))
			for i := range c {
				c[i] = 1 + rng.IntN(2)
			}
			cases = append(cases, append(c, result))
		}
		s := sampleOf(costs, cases...)
		plan := must.Have(s.GrowAhead(context.Background(), all(s)))(t)
		g, a := s.Mean(grown(t, s), all(s)), s.Mean(plan, all(s))
		greedy, ahead = greedy+g/100, ahead+a/100
		switch {
		case a < g-1e-9:
			cheaper++
		case a > g+1e-9:
			dearer++
		}
	}
	t.Logf("greedy %.3f, looking ahead %.3f; cheaper in %d, dearer in %d", greedy, ahead, cheaper, dearer)
	if ahead >= greedy || cheaper <= dearer {
		t.Errorf("greedy plans cost %v, those that look ahead %v; cheaper in %d, dearer in %d", greedy, ahead, cheaper, dearer)
	}
}

// Two results equally frequent are one bit, whatever each question may show; what
// shows by itself and tells them apart leaves what chance can take in so few
// cases: half a nat for each, shared by them all (Miller and Madow).
func TestBitsToBeFoundOut(t *testing.T) {
	s := sampleOf([]float64{1}, []int{1, 0}, []int{2, 0}, []int{1, 1}, []int{2, 1})
	if got := s.Bits(all(s)); math.Abs(got-1) > 1e-12 {
		t.Errorf("%v bits; want 1", got)
	}
	s.Columns = append(s.Columns, asking.Column{})
	for i := range s.Cases {
		s.Cases[i].Shows = append(s.Cases[i].Shows, uint8(s.Cases[i].Result))
	}
	if got, want := s.Bits(all(s)), 1/(2*math.Ln2)/float64(len(s.Cases)); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v bits once the result shows by itself; want %v", got, want)
	}
}
