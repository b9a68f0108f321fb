package order

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// fiveState is the table of five states and five tests of
// testdata/reference/diagnosis.yaml, worked out there by other means.
type fiveState struct {
	P                                 []float64
	Fail                              map[string][]uint8
	Entropy, Huffman, Optimum, Greedy float64
	Gains                             []float64
}

func readFiveState(t *testing.T) (fiveState, *Problem) {
	t.Helper()
	text := must.Have(os.ReadFile("../../testdata/reference/diagnosis.yaml"))(t)
	_, line, _ := strings.Cut(string(text), "\nfive_state:")
	line, _, _ = strings.Cut(line, "\n")
	// numbers are those after a key, up to the next word
	numbers := func(key string) []float64 {
		_, rest, found := strings.Cut(line, key+":")
		if !found {
			t.Fatalf("the table has no %s", key)
		}
		var out []float64
		for _, word := range strings.FieldsFunc(rest, func(r rune) bool { return strings.ContainsRune(" ,[]{}", r) }) {
			n, err := strconv.ParseFloat(word, 64)
			if err != nil {
				break
			}
			out = append(out, n)
		}
		return out
	}
	table := fiveState{
		P: numbers(" p"), Fail: map[string][]uint8{}, Gains: numbers("gains"),
		Entropy: numbers("entropy")[0], Huffman: numbers("huffman")[0], Optimum: numbers("optimum")[0], Greedy: numbers("greedy")[0],
	}
	for i := range table.P {
		state := fmt.Sprint("s", i)
		for _, n := range numbers(state) {
			table.Fail[state] = append(table.Fail[state], uint8(n))
		}
	}
	p := &Problem{}
	for i := range table.Gains {
		p.Questions = append(p.Questions, Question{Cost: 1})
		p.Columns = append(p.Columns, Column{Needs: SetOf(i)})
	}
	for i, weight := range table.P {
		p.Cases = append(p.Cases, Case{Shows: table.Fail["s"+string(rune('0'+i))], Result: i, Weight: weight})
	}
	return table, p
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

func TestFiveStates(t *testing.T) {
	want, p := readFiveState(t)
	best := must.Have(p.Best())(t)
	if !near(best.Expected, want.Optimum) {
		t.Errorf("the best plan asks %v, want %v", best.Expected, want.Optimum)
	}
	greedy := must.Have(p.Greedy())(t)
	if !near(greedy.Expected, want.Greedy) {
		t.Errorf("the greedy plan asks %v, want %v", greedy.Expected, want.Greedy)
	}
	if got := p.entropy([]int{0, 1, 2, 3, 4}); !near(got, want.Entropy) {
		t.Errorf("entropy %v, want %v", got, want.Entropy)
	}
	if best.Expected < want.Huffman {
		t.Errorf("the best plan is below Huffman's %v", want.Huffman)
	}
}

// drawn is a problem with up to five questions of two or three outcomes, columns
// that need several of them, gates, and cases of which some weigh nothing.
func drawn(r *rand.Rand) *Problem {
	p := &Problem{}
	n := 1 + r.IntN(5)
	var outcomes []int
	for i := range n {
		q := Question{Cost: 1 + float64(r.IntN(8))}
		if i > 0 && r.IntN(4) == 0 {
			q.After = SetOf(r.IntN(i))
		}
		p.Questions = append(p.Questions, q)
		p.Columns = append(p.Columns, Column{Needs: SetOf(i)})
		outcomes = append(outcomes, 2+r.IntN(2))
	}
	sum := n > 1 && r.IntN(2) == 0
	if sum { // whether the first two show the same
		p.Columns = append(p.Columns, Column{Needs: SetOf(0, 1)})
	}
	combinations := 1
	for _, o := range outcomes {
		combinations *= o
	}
	for k := range combinations {
		if r.IntN(3) == 0 {
			continue // cannot be
		}
		c := Case{Result: r.IntN(4), Weight: float64(r.IntN(5))}
		for _, o := range outcomes {
			c.Shows = append(c.Shows, uint8(k%o))
			k /= o
		}
		if sum {
			same := uint8(0)
			if c.Shows[0] == c.Shows[1] {
				same = 1
			}
			c.Shows = append(c.Shows, same)
		}
		p.Cases = append(p.Cases, c)
	}
	return p
}

// least is the least expected cost by trying every plan, with nothing kept and
// nothing shared with the code under test but the problem itself.
func least(p *Problem, asked Set, cases []Case) float64 {
	known, whole := true, 0.0
	for _, c := range cases {
		known = known && c.Result == cases[0].Result
		whole += c.Weight
	}
	if known {
		return 0
	}
	best := math.Inf(1)
	for q := range p.Questions {
		if asked.Has(q) || p.Questions[q].After&^asked != 0 {
			continue
		}
		groups := map[string][]Case{}
		for _, c := range cases {
			key := ""
			for i, column := range p.Columns {
				if (asked|SetOf(q))&column.Needs == column.Needs {
					key += string(rune('a' + c.Shows[i]))
				}
			}
			groups[key] = append(groups[key], c)
		}
		cost := p.Questions[q].Cost
		for _, g := range groups {
			share := float64(len(g)) / float64(len(cases))
			if whole > 0 {
				share = 0
				for _, c := range g {
					share += c.Weight / whole
				}
			}
			cost += share * least(p, asked|SetOf(q), g)
		}
		best = min(best, cost)
	}
	return best
}

// The best plan costs what trying all plans finds, is no dearer than the greedy
// one, and where all costs are one and all answers two, no cheaper than the
// entropy.
func TestBestIsLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 10))
	tried := 0
	for tried < 1000 {
		p := drawn(r)
		if p.Check() != nil {
			continue
		}
		tried++
		best := must.Have(p.Best())(t)
		greedy := must.Have(p.Greedy())(t)
		if want := least(p, 0, p.Cases); !near(best.Expected, want) {
			t.Fatalf("problem %d: the best plan costs %v, all plans tried %v\n%+v", tried, best.Expected, want, p)
		}
		if greedy.Expected < best.Expected-1e-9 {
			t.Fatalf("problem %d: the greedy plan costs %v, less than the best %v", tried, greedy.Expected, best.Expected)
		}
		follow(t, p, best)
		follow(t, p, greedy)
	}
}

// follow walks every case down a plan: it must end at the case's own result, ask
// nothing twice and nothing too early, and cost what the plan expects.
func follow(t *testing.T, p *Problem, plan *Plan) {
	t.Helper()
	spent, whole := 0.0, 0.0
	for i, c := range p.Cases {
		var asked Set
		cost, at := 0.0, plan
	ask:
		for at.Ask >= 0 {
			if asked.Has(at.Ask) || !asked.Holds(p.Questions[at.Ask].After) {
				t.Fatalf("question %d is asked after %b", at.Ask, asked)
			}
			asked |= SetOf(at.Ask)
			cost += p.Questions[at.Ask].Cost
		branch:
			for _, b := range at.Then {
				for _, s := range b.Shows {
					if c.Shows[s.Column] != s.Value {
						continue branch
					}
				}
				at = b.Plan
				continue ask
			}
			t.Fatalf("case %d has no way on from question %d", i, at.Ask)
		}
		if at.Result != c.Result {
			t.Fatalf("case %d ends at %d, not %d", i, at.Result, c.Result)
		}
		spent, whole = spent+c.Weight*cost, whole+c.Weight
	}
	if whole > 0 && !near(spent/whole, plan.Expected) {
		t.Fatalf("the plan expects %v and costs %v", plan.Expected, spent/whole)
	}
}

func TestGainsOfFiveStates(t *testing.T) {
	want, p := readFiveState(t)
	s := &search{Problem: p}
	all := left{shown: make([]byte, len(p.Columns)), cases: []int{0, 1, 2, 3, 4}}
	for q, gain := range want.Gains {
		got := p.entropy(all.cases)
		for _, part := range s.ask(all, q) {
			got -= part.share * p.entropy(part.cases)
		}
		if !near(got, gain) {
			t.Errorf("test %d tells %v bits, want %v", q, got, gain)
		}
	}
}

func TestCheck(t *testing.T) {
	good := func() *Problem {
		return &Problem{
			Questions: []Question{{Cost: 1}, {Cost: 2}},
			Columns:   []Column{{Needs: SetOf(0)}, {Needs: SetOf(1)}},
			Cases:     []Case{{Shows: []uint8{0, 0}}, {Shows: []uint8{1, 0}, Result: 1, Weight: 1}},
		}
	}
	must.Do(t, good().Check())
	for name, c := range map[string]struct {
		change func(*Problem)
		says   string
	}{
		"free":       {func(p *Problem) { p.Questions[1].Cost = 0 }, "question 1 costs 0"},
		"not number": {func(p *Problem) { p.Questions[0].Cost = math.NaN() }, "question 0 costs NaN"},
		"circle":     {func(p *Problem) { p.Questions[0].After, p.Questions[1].After = SetOf(1), SetOf(0) }, "question 0 comes after itself"},
		"itself":     {func(p *Problem) { p.Questions[0].After = SetOf(0) }, "not there"},
		"no such":    {func(p *Problem) { p.Questions[0].After = SetOf(5) }, "not there"},
		"column":     {func(p *Problem) { p.Columns[0].Needs = SetOf(9) }, "column 0 needs"},
		"short":      {func(p *Problem) { p.Cases[1].Shows = nil }, "case 1 shows 0 columns of 2"},
		"negative":   {func(p *Problem) { p.Cases[1].Weight = -1 }, "case 1 weighs -1"},
		"none":       {func(p *Problem) { p.Cases = nil }, "no cases"},
		"same":       {func(p *Problem) { p.Cases[1].Shows = []uint8{0, 0} }, "cases 0 and 1 show the same"},
		"many":       {func(p *Problem) { p.Questions = make([]Question, MostQuestions+1) }, "33 questions"},
	} {
		p := good()
		c.change(p)
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
		if _, err := p.Best(); err == nil {
			t.Errorf("%s: a plan was made", name)
		}
	}
}
