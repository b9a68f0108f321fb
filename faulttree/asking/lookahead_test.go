package asking_test

import (
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree/asking"
	"faultwright/faulttree/must"
	"faultwright/faulttree/order"
)

// diagnosis is the published and independently computed examples; the tests below
// name its rows.
const diagnosis = "../../testdata/reference/diagnosis.yaml"

// wantRow fails where a row of the examples does not hold a text, so that no value
// below is another than the table's.
func wantRow(t *testing.T, row string, holds ...string) {
	t.Helper()
	text := must.Have(os.ReadFile(diagnosis))(t)
	_, line, _ := strings.Cut(string(text), "\n"+row+":")
	line, _, _ = strings.Cut(line, "\n")
	for _, h := range holds {
		if !strings.Contains(line, h) {
			t.Errorf("%s of %s does not hold %q", row, diagnosis, h)
		}
	}
}

// lookahead is questions at these costs over cases given as the answers' codes, the
// result and the weight.
func lookahead(costs []float64, cases ...[]float64) *asking.Lookahead {
	l := &asking.Lookahead{}
	for _, cost := range costs {
		l.Questions = append(l.Questions, asking.Question{Cost: cost})
	}
	for _, c := range cases {
		n := len(costs)
		one := asking.Weighted{Result: int(c[n]), Weight: c[n+1]}
		for _, code := range c[:n] {
			one.Shows = append(one.Shows, uint8(code))
		}
		l.Cases = append(l.Cases, one)
	}
	return l
}

func ranked(t testing.TB, l *asking.Lookahead) []asking.Candidate {
	t.Helper()
	return must.Have(l.Rank(context.Background()))(t)
}

// followed is what asking the first of what is ranked costs in the mean until
// nothing is left to tell, and the weight of the cases that then share their
// result with others of another.
func followed(t testing.TB, l *asking.Lookahead) (cost, untold float64) {
	t.Helper()
	whole, by := 0.0, map[int]float64{}
	for _, c := range l.Cases {
		whole += c.Weight
		by[c.Result] += c.Weight
	}
	next := ranked(t, l)
	if len(next) == 0 {
		for _, w := range by {
			if w < whole {
				untold += w
			}
		}
		return 0, untold
	}
	q := next[0].Ask
	codes := map[uint8]float64{}
	for _, c := range l.Cases {
		if codes[c.Shows[q]] += c.Weight; c.Shows[q] != 0 {
			cost += l.Questions[q].Cost * c.Weight / whole
		}
	}
	for _, code := range slices.Sorted(maps.Keys(codes)) {
		if codes[code] > 0 {
			c, u := followed(t, l.After(q, code))
			cost += c * codes[code] / whole
			untold += u
		}
	}
	return cost, untold
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %v; want %v", what, got, want)
	}
}

// Three multipliers feed two adders; F = X + Y is 10 and not 12, G = Y + Z is 12
// as it should be. What each of the four smallest diagnoses makes of X, Y and Z is
// worked out by hand: two times three is six, unless the box before it is at fault,
// or F and G demand another value.
func TestThreeMultipliersAndTwoAdders(t *testing.T) {
	wantRow(t, "polybox", "prior: 0.01", "X: 0.999928, Y: 0.080793, Z: 0.045415", "entropy: 1.080793")
	const p = 0.01
	one, two := p*math.Pow(1-p, 4), p*p*math.Pow(1-p, 3)
	l := lookahead([]float64{1, 1, 1},
		[]float64{6, 6, 6, 0, one}, // A1
		[]float64{4, 6, 6, 1, one}, // M1
		[]float64{6, 4, 6, 2, two}, // A2 and M2
		[]float64{6, 4, 8, 3, two}) // M2 and M3
	got := ranked(t, l)
	gains := map[int]float64{}
	for _, c := range got {
		gains[c.Ask] = c.Bits
	}
	near(t, "X", gains[0], 0.999928, 1e-6)
	near(t, "Y", gains[1], 0.080793, 1e-6)
	near(t, "Z", gains[2], 0.045415, 1e-6)
	if got[0].Ask != 0 || len(got) != 3 {
		t.Errorf("it ranks %+v; want X first of three", got)
	}
	near(t, "the entropy", got[0].BitsAhead, 1.080793, 1e-6) // all of it is told in the end
}

// fiveState is the table of five states and five tests.
func fiveState(t *testing.T) *asking.Lookahead {
	wantRow(t, "five_state", "p: [0.70, 0.01, 0.02, 0.10, 0.17]", "s1: [0,1,0,0,1], s2: [0,0,1,1,0], s3: [1,0,0,1,1], s4: [1,1,0,0,0]",
		"entropy: 1.306297", "optimum: 2.12, greedy: 2.71, two_step: 2.18", "[0.841465, 0.680077, 0.141441, 0.529361, 0.499916]")
	return lookahead([]float64{1, 1, 1, 1, 1},
		[]float64{1, 1, 1, 1, 1, 0, 0.70}, []float64{1, 2, 1, 1, 2, 1, 0.01}, []float64{1, 1, 2, 2, 1, 2, 0.02},
		[]float64{2, 1, 1, 2, 2, 3, 0.10}, []float64{2, 2, 1, 1, 1, 4, 0.17})
}

func TestFiveStatesAhead(t *testing.T) {
	l := fiveState(t)
	for _, c := range ranked(t, l) {
		near(t, fmt.Sprintf("the gain of test %d", c.Ask), c.Bits, []float64{0.841465, 0.680077, 0.141441, 0.529361, 0.499916}[c.Ask], 1e-6)
		near(t, "the entropy", c.BitsAhead, 1.306297, 1e-6)
	}
	for depth, want := range map[int]float64{0: 2.12, 1: 2.71, 2: 2.18} { // to the end, one ahead, two ahead
		l.Depth = depth
		cost, untold := followed(t, l)
		near(t, fmt.Sprintf("the cost at depth %d", depth), cost, want, 1e-9)
		if untold != 0 {
			t.Errorf("at depth %d a weight of %v is not told apart", depth, untold)
		}
	}
}

// A chain of equally likely parts, of which one is at fault: a probe behind each
// but the last tells whether it lies before. Halving is best.
func TestHalfSplit(t *testing.T) {
	wantRow(t, "half_split", "{8: 3.0, 12: 3.6667, 16: 4.0, 23: 4.6087}")
	for parts, want := range map[int]float64{8: 3.0, 12: 3.6667, 16: 4.0, 23: 4.6087} {
		l := &asking.Lookahead{}
		for range parts - 1 {
			l.Questions = append(l.Questions, asking.Question{Cost: 1})
		}
		for part := range parts {
			c := asking.Weighted{Result: part, Weight: 1}
			for probe := range parts - 1 {
				c.Shows = append(c.Shows, uint8(1+max(0, min(1, part-probe))))
			}
			l.Cases = append(l.Cases, c)
		}
		cost, _ := followed(t, l)
		near(t, fmt.Sprint("the number of probes into ", parts), cost, want, 5e-5)
	}
}

// One of three parts is at fault, and is found by exchanging them one after the
// other: least is expected to be spent by probability over cost (Heckerman, Breese
// and Rommelse 1995). A fourth, hardly likely, keeps the last one from being known
// without being tried.
func TestRepairsByProbabilityOverCost(t *testing.T) {
	wantRow(t, "repair_order", "p: [0.20, 0.35, 0.45], c: [10, 40, 30]", "best: [a, c, b]", "acb: 48.00, cab: 49.50, cba: 54.00, abc: 55.50, bac: 60.00, bca: 61.50")
	repairs := func() *asking.Lookahead {
		return lookahead([]float64{10, 40, 30},
			[]float64{2, 1, 1, 0, 0.20}, []float64{1, 2, 1, 1, 0.35}, []float64{1, 1, 2, 2, 0.45}, []float64{1, 1, 1, 3, 1e-6})
	}
	if got := ranked(t, repairs()); got[0].Ask != 0 {
		t.Errorf("it begins with %d; want a", got[0].Ask)
	}
	if got := ranked(t, repairs().After(0, 1)); got[0].Ask != 2 {
		t.Errorf("after a comes %d; want c", got[0].Ask)
	}
	cost, _ := followed(t, repairs())
	near(t, "the order that it finds", cost, 48.00, 1e-3)
	for name, want := range map[string]float64{"acb": 48.00, "cab": 49.50, "cba": 54.00, "abc": 55.50, "bac": 60.00, "bca": 61.50} {
		l := repairs()
		for i := 1; i < 3; i++ { // one after the other
			q := &l.Questions[name[i]-'a']
			q.After = append(q.After, int(name[i-1]-'a'))
		}
		cost, _ := followed(t, l)
		near(t, name, cost, want, 1e-3)
	}
}

func TestGatesAhead(t *testing.T) {
	// The first tells everything; so do the second and the third together.
	three := func() *asking.Lookahead {
		return lookahead([]float64{1, 4, 4},
			[]float64{1, 1, 1, 0, 1}, []float64{2, 1, 2, 1, 1}, []float64{3, 2, 1, 2, 1}, []float64{4, 2, 2, 3, 1})
	}
	asks := func(l *asking.Lookahead) (out []int) {
		for _, c := range ranked(t, l) {
			out = append(out, c.Ask)
		}
		return out
	}
	want := func(t *testing.T, l *asking.Lookahead, want ...int) {
		t.Helper()
		if got := asks(l); !slices.Equal(got, want) {
			t.Errorf("it ranks %v; want %v", got, want)
		}
	}
	t.Run("none", func(t *testing.T) { want(t, three(), 0, 1, 2) })
	t.Run("after", func(t *testing.T) { // what must come before is asked first, and paid for
		l := three()
		l.Questions[0].After = []int{2}
		want(t, l, 2, 1)
		if c := ranked(t, l)[0]; c.For != 0 || c.Cost != 5 || c.Bits != 2 {
			t.Errorf("it ranks %+v; want the third for the sake of the first, two bits at a cost of 5", c)
		}
		l.Asked = []int{2}
		want(t, l, 0, 1)
	})
	t.Run("after what tells nothing", func(t *testing.T) { // a proof
		l := lookahead([]float64{1, 1}, []float64{1, 1, 0, 1}, []float64{1, 2, 1, 1})
		want(t, l, 1)
		l.Questions[1].After = []int{0}
		want(t, l, 0)
	})
	t.Run("rank", func(t *testing.T) { // only when the others tell nothing
		l := three()
		l.Questions[0].Rank = 1
		want(t, l, 1, 2)
		want(t, l.After(1, 1), 2)
		l.Cases = slices.DeleteFunc(l.Cases, func(c asking.Weighted) bool { return c.Result > 0 && c.Result < 3 })
		want(t, l, 1, 2)
		for i := range l.Cases {
			l.Cases[i].Shows[1], l.Cases[i].Shows[2] = 1, 1
		}
		want(t, l, 0)
	})
	t.Run("rank of two together", func(t *testing.T) { // neither tells by itself, both do
		l := lookahead([]float64{1, 1, 1}, []float64{1, 1, 1, 0, 1}, []float64{1, 2, 2, 1, 1}, []float64{2, 1, 2, 1, 1}, []float64{2, 2, 1, 0, 1})
		l.Questions[2].Rank = 1
		want(t, l, 0, 1)
	})
	t.Run("stopped", func(t *testing.T) {
		l := three()
		l.Stopped = true
		want(t, l)
		l.Questions[1].AfterStop = true
		want(t, l, 1)
		l.Questions[1].After = []int{2} // what must come before may not be asked either
		want(t, l)
	})
	t.Run("stops", func(t *testing.T) { // after a 2 of the second the rest is not asked
		l := three()
		l.Questions[0].Rank = 1
		l.Questions[1].Stops = []uint8{2}
		want(t, l.After(1, 2))
		want(t, l.After(1, 1), 2)
		for _, c := range ranked(t, l) {
			if bits := []float64{0, 1.5, 2}[c.Ask]; math.Abs(c.BitsAhead-bits) > 1e-9 { // the second cuts the third off in half of the cases
				t.Errorf("it ranks %+v; want %v bits", c, bits)
			}
		}
	})
}

// What does not make the result known any better is never ranked, and where it is
// known nothing is.
func TestWhatTellsNothingIsNotAsked(t *testing.T) {
	l := lookahead([]float64{1, 1, 1}, // the first is always the same, the second has nothing to do with the result
		[]float64{1, 1, 1, 0, 1}, []float64{1, 2, 1, 0, 1}, []float64{1, 1, 2, 1, 1}, []float64{1, 2, 2, 1, 1})
	if got := ranked(t, l); len(got) != 1 || got[0].Ask != 2 {
		t.Errorf("it ranks %+v; want the third alone", got)
	}
	if got := ranked(t, l.After(2, 1)); len(got) != 0 {
		t.Errorf("the result is known, and it ranks %+v", got)
	}
	l = lookahead([]float64{1}, []float64{1, 0, 95}, []float64{2, 1, 5})
	l.Known = 0.95
	if got := ranked(t, l); len(got) != 0 {
		t.Errorf("the result counts as known, and it ranks %+v", got)
	}
	l.Known = 0.96
	if got := ranked(t, l); len(got) != 1 {
		t.Errorf("it ranks %+v; want the one question", got)
	}
}

// What tells less than is worth asking is not ranked, and holds up nothing.
func TestWhatTellsTooLittleHoldsUpNothing(t *testing.T) {
	l := lookahead([]float64{1, 1}, []float64{1, 1, 0, 50}, []float64{2, 1, 0, 40}, []float64{1, 2, 1, 50}, []float64{2, 2, 1, 60})
	l.Questions[1].Rank = 1
	if got := ranked(t, l); len(got) != 1 || got[0].Ask != 0 || got[0].Bits > 0.03 {
		t.Errorf("it ranks %+v; want the first, which tells little", got)
	}
	l.Least = 0.03
	if got := ranked(t, l); len(got) != 1 || got[0].Ask != 1 {
		t.Errorf("it ranks %+v; want the second", got)
	}
}

// What nobody can ask costs nothing, and that it cannot be asked is known.
func TestWhatCannotBeAskedCostsNothing(t *testing.T) {
	l := lookahead([]float64{4}, []float64{0, 0, 3}, []float64{1, 1, 1})
	if got := ranked(t, l); len(got) != 1 || got[0].Cost != 1 {
		t.Errorf("it ranks %+v; want a cost of 1", got)
	}
}

// Codes that were drawn have nothing to do with the result; in few draws they seem
// to, and that is not counted.
func TestWhatChanceTellsIsNotCounted(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	seems, counted := 0.0, 0.0
	for range 200 {
		l := lookahead([]float64{1})
		l.Draws, l.Depth = 60, 1
		for i := range 60 {
			l.Cases = append(l.Cases, asking.Weighted{Shows: []uint8{uint8(1 + rng.IntN(5))}, Result: i % 4, Weight: 1})
		}
		for _, c := range ranked(t, l) {
			counted += c.Bits / 200
		}
		l.Draws = 0
		for _, c := range ranked(t, l) {
			seems += c.Bits / 200
		}
	}
	near(t, "what chance seems to tell", seems, 4*3/(2*math.Ln2*60), 0.02) // Miller and Madow 1955
	if counted > seems/3 {
		t.Errorf("chance is counted as %v bits of %v in the mean", counted, seems)
	}
}

// On 300 seeded problems what is ranked first, followed to the end, costs no less
// than the cheapest order there is, and but for two of them no more than asking
// each time what tells most for its cost (both by the package order, which shares
// no code with this one). Looking only two ahead costs less in the mean of them,
// too, and more in one of ten.
func TestLookingAheadLiesBetweenBestAndGreedy(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 11))
	var best, greedy, end, two float64
	atBest, worse, dearer := 0, 0, 0
	for n := 0; n < 300; n++ {
		l, p := drawnProblem(rng)
		b, err := p.Best()
		if err != nil {
			n--
			continue
		}
		g, _ := p.Greedy()
		cost, untold := followed(t, l)
		l.Depth = 2
		short, _ := followed(t, l)
		best, greedy, end, two = best+b.Expected, greedy+g.Expected, end+cost, two+short
		if untold > 0 {
			t.Errorf("problem %d: a weight of %v is not told apart", n, untold)
		}
		if cost < b.Expected-1e-9 || short < b.Expected-1e-9 {
			t.Errorf("problem %d costs %v, two ahead %v; the cheapest order costs %v", n, cost, short, b.Expected)
		}
		if cost > g.Expected+1e-9 {
			worse++
		}
		if cost < b.Expected+1e-9 {
			atBest++
		}
		if short > g.Expected+1e-9 {
			dearer++
		}
	}
	t.Logf("best %.4f, to the end %.4f (the best itself in %d, dearer than greedy in %d), two ahead %.4f (dearer than greedy in %d), greedy %.4f", best/300, end/300, atBest, worse, two/300, dearer, greedy/300)
	if atBest < 280 || worse > 3 {
		t.Errorf("%d of 300 cost what the cheapest order costs, %d more than the greedy one", atBest, worse)
	}
	if two > greedy || dearer > 45 {
		t.Errorf("two ahead costs %v in all, greedy %v; in %d it is dearer", two, greedy, dearer)
	}
}

// drawnProblem is the same problem for both packages. No two cases show the same,
// and all weigh something.
func drawnProblem(rng *rand.Rand) (*asking.Lookahead, *order.Problem) {
	l, p := &asking.Lookahead{}, &order.Problem{}
	for i := range 3 + rng.IntN(4) {
		cost := []float64{1, 1, 3, 3, 6, 8}[rng.IntN(6)]
		q, o := asking.Question{Cost: cost}, order.Question{Cost: cost}
		if i > 0 && rng.IntN(5) == 0 {
			before := rng.IntN(i)
			q.After, o.After = []int{before}, order.SetOf(before)
		}
		l.Questions, p.Questions = append(l.Questions, q), append(p.Questions, o)
		p.Columns = append(p.Columns, order.Column{Needs: order.SetOf(i)})
	}
	seen := map[string]bool{}
	for range 4 + rng.IntN(6) {
		c := asking.Weighted{Result: rng.IntN(5), Weight: float64(1 + rng.IntN(10))}
		for range l.Questions {
			c.Shows = append(c.Shows, uint8(1+rng.IntN(3)))
		}
		if !seen[string(c.Shows)] {
			seen[string(c.Shows)] = true
			l.Cases, p.Cases = append(l.Cases, c), append(p.Cases, order.Case{Shows: c.Shows, Result: c.Result, Weight: c.Weight})
		}
	}
	return l, p
}

func TestALookaheadThatIsWrongIsRefused(t *testing.T) {
	for name, change := range map[string]func(*asking.Lookahead){
		"costs 0":         func(l *asking.Lookahead) { l.Questions[0].Cost = 0 },
		"not there":       func(l *asking.Lookahead) { l.Questions[0].After = []int{7} },
		"after itself":    func(l *asking.Lookahead) { l.Questions[0].After, l.Questions[1].After = []int{1}, []int{0} },
		"0 answers":       func(l *asking.Lookahead) { l.Cases[0].Shows = nil },
		"weighs -1":       func(l *asking.Lookahead) { l.Cases[0].Weight = -1 },
		"no case weighs":  func(l *asking.Lookahead) { l.Cases = nil },
		"was asked":       func(l *asking.Lookahead) { l.Asked = []int{2} },
		"known from":      func(l *asking.Lookahead) { l.Known = 1.5 },
		"questions ahead": func(l *asking.Lookahead) { l.Depth = -1 },
	} {
		l := lookahead([]float64{1, 2}, []float64{1, 1, 0, 1}, []float64{2, 1, 1, 1})
		change(l)
		if _, err := l.Rank(context.Background()); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Sixty results and forty questions of five answers each, five hundred cases.
func BenchmarkRank(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	l := &asking.Lookahead{Draws: 512}
	for range 40 {
		l.Questions = append(l.Questions, asking.Question{Cost: 1 + float64(rng.IntN(8))})
	}
	for range 512 {
		c := asking.Weighted{Result: rng.IntN(60), Weight: 1}
		for q := range l.Questions {
			c.Shows = append(c.Shows, uint8(1+(c.Result*(q+3)/7+rng.IntN(2))%5))
		}
		l.Cases = append(l.Cases, c)
	}
	for b.Loop() {
		ranked(b, l)
	}
}
