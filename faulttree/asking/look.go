package asking

import (
	"math"
	"slices"
)

// look is a [Lookahead] laid out for counting: the codes of each question by case,
// numbered without gaps. Bits and prices in it are those of all cases, by weight.
type look struct {
	l       *Lookahead
	codes   [][]uint8 // by question, then case: a number from 0
	many    []int     // by question, how many codes it has
	cannot  []int     // by question, the number of the code that it cannot be asked; -1 where there is none
	stops   [][]bool  // by question and code
	result  []int     // by case
	weight  []float64
	results int
	whole   float64 // the weight of all cases
	least   float64 // bits that count as something
	after   [][]int // by question, all that must come before it, in an order that works
	merged  map[string]*merged
	numbers []int // scratch, as table
	table   []float64
	work    int
}

// state is what is left once some questions were asked.
type state struct {
	cases   []int
	result  []int // by case of it, numbered anew
	results int
	weight  float64
	bits    float64 // entropy of the result, for all its weight
	most    float64 // the weight of the likeliest result
	asked   []bool
	stopped bool
}

// choice is a question behind all that must come before it, in order.
type choice struct {
	asks        []int
	rank        int
	bits, price float64
}

func (c choice) worth() float64 { return c.bits / c.price }

func newLook(l *Lookahead) *look {
	k := &look{l: l, after: closures(l.Questions), merged: map[string]*merged{}}
	numbers := map[int]int{}
	var kept []Weighted
	for _, c := range l.Cases {
		if c.Weight == 0 {
			continue
		}
		if _, met := numbers[c.Result]; !met {
			numbers[c.Result] = len(numbers)
		}
		kept = append(kept, c)
		k.result = append(k.result, numbers[c.Result])
		k.weight = append(k.weight, c.Weight)
		k.whole += c.Weight
	}
	k.results, k.least = len(numbers), max(leastTold, l.Least)*k.whole
	k.numbers = make([]int, k.results)
	for q, question := range l.Questions {
		var number [256]int // one more than the number of a code
		column, stops := make([]uint8, len(kept)), []bool(nil)
		for i, c := range kept {
			code := c.Shows[q]
			if number[code] == 0 {
				stops = append(stops, slices.Contains(question.Stops, code))
				number[code] = len(stops)
			}
			column[i] = uint8(number[code] - 1)
		}
		k.codes, k.many, k.stops = append(k.codes, column), append(k.many, len(stops)), append(k.stops, stops)
		k.cannot = append(k.cannot, number[0]-1)
	}
	return k
}

// first is the state that the lookahead describes.
func (k *look) first() *state {
	s := &state{asked: make([]bool, len(k.l.Questions)), stopped: k.l.Stopped}
	for _, q := range k.l.Asked {
		s.asked[q] = true
	}
	for i := range k.result {
		s.cases = append(s.cases, i)
	}
	k.weigh(s)
	return s
}

// weigh fills in what the cases of s are together.
func (k *look) weigh(s *state) {
	number := k.numbers[:k.results] // one more than that of a result
	clear(number)
	by := k.cleared(k.results)
	s.result = make([]int, len(s.cases))
	for at, i := range s.cases {
		r := k.result[i]
		if number[r] == 0 {
			s.results++
			number[r] = s.results
		}
		s.result[at] = number[r] - 1
		by[number[r]-1] += k.weight[i]
	}
	inner := 0.0
	for _, w := range by[:s.results] {
		s.weight += w
		s.most = max(s.most, w)
		inner += timesLog(w)
	}
	s.bits = timesLog(s.weight) - inner
}

// cleared is the table for counting, with so many cells set to zero.
func (k *look) cleared(cells int) []float64 {
	if len(k.table) < cells {
		k.table = make([]float64, cells)
	}
	clear(k.table[:cells])
	return k.table[:cells]
}

func timesLog(w float64) float64 {
	if w <= 0 {
		return 0
	}
	return w * math.Log(w) * (1 / math.Ln2)
}

// known reports whether the result counts as known at s.
func (k *look) known(s *state) bool {
	share := k.l.Known
	if share == 0 {
		share = 1
	}
	return s.most >= share*s.weight*(1-1e-12)
}

// choices lists what may be asked at s, with what must come before it.
func (k *look) choices(s *state) []choice {
	var out []choice
	for q := range k.l.Questions {
		if c, ok := k.choice(s, q); ok && k.tell(s, &c) {
			out = append(out, c)
		}
	}
	return out
}

// choice is q with what must still come before it; false where that may not be
// asked.
func (k *look) choice(s *state, q int) (choice, bool) {
	if s.asked[q] {
		return choice{}, false
	}
	c := choice{rank: k.l.Questions[q].Rank}
	for _, before := range k.after[q] {
		if !s.asked[before] {
			c.asks = append(c.asks, before)
		}
	}
	c.asks = append(c.asks, q)
	for _, a := range c.asks {
		if s.stopped && !k.l.Questions[a].AfterStop {
			return choice{}, false
		}
		c.rank = max(c.rank, k.l.Questions[a].Rank)
	}
	return c, true
}

// tell fills in what a choice tells and costs at s; false where nobody can ask it,
// or all answer alike.
func (k *look) tell(s *state, c *choice) bool {
	t := k.count(s, k.merge(c.asks))
	c.bits, c.price = s.bits-t.left-k.chance(s, t), t.price
	return t.parts > 1 && t.price > 0
}

// merged is questions asked one after the other as one: what all together answer,
// and what they cost in each case. Behind an answer that stops only those are asked
// that may be.
type merged struct {
	codes []int
	many  int
	price []float64
}

func (k *look) merge(asks []int) *merged {
	key := make([]byte, 0, 2*len(asks))
	for _, q := range asks {
		key = append(key, byte(q>>8), byte(q))
	}
	if m := k.merged[string(key)]; m != nil {
		return m
	}
	m := &merged{codes: make([]int, len(k.result)), price: make([]float64, len(k.result))}
	number := map[string]int{}
	answers := make([]byte, 2*len(asks)) // of each question, whether it was asked, and its code
	for i := range m.codes {
		clear(answers)
		stopped := false
		for n, q := range asks {
			code := k.codes[q][i]
			if stopped && !k.l.Questions[q].AfterStop {
				continue
			}
			answers[2*n], answers[2*n+1] = 1, code
			if int(code) != k.cannot[q] {
				m.price[i] += k.weight[i] * k.l.Questions[q].Cost
			}
			stopped = stopped || k.stops[q][code]
		}
		code, met := number[string(answers)]
		if !met {
			code = len(number)
			number[string(answers)] = code
		}
		m.codes[i] = code
	}
	m.many = len(number)
	k.merged[string(key)] = m
	return m
}

// partition is how answers part a state: into how many parts, with how many results
// in all of them together, how many bits are left, and what asking costs.
type partition struct {
	parts, cells int
	left, price  float64
}

// count is how the answers to some questions part s.
func (k *look) count(s *state, m *merged) (t partition) {
	k.work += len(s.cases)
	table := k.cleared(m.many * s.results)
	for at, i := range s.cases {
		table[m.codes[i]*s.results+s.result[at]] += k.weight[i]
		t.price += m.price[i]
	}
	for code := range m.many {
		sum, inner := 0.0, 0.0
		for _, w := range table[code*s.results : (code+1)*s.results] {
			if w > 0 {
				t.cells++
				sum += w
				inner += timesLog(w)
			}
		}
		if sum == 0 {
			continue
		}
		t.parts++
		t.left += timesLog(sum) - inner
	}
	return t
}

// chance is the bits that chance alone seems to tell (Miller and Madow, of what
// was met): half a nat of a draw for each result in each part beyond the one that
// each result and each part must have.
func (k *look) chance(s *state, t partition) float64 {
	if k.l.Draws == 0 {
		return 0
	}
	return float64(max(0, t.cells-t.parts-s.results+1)) / (2 * math.Ln2) * k.whole / k.l.Draws
}

// best is what tells most for its cost at s, of the lowest rank at which anything
// does; false where nothing tells anything.
func (k *look) best(s *state) (choice, bool) {
	var best choice
	found := false
	for _, c := range k.choices(s) {
		switch {
		case c.bits <= k.least:
		case !found, c.rank < best.rank, c.rank == best.rank && c.worth() > best.worth()*(1+1e-12):
			best, found = c, true
		}
	}
	return best, found
}

// ask is the states after a choice. Where one answer stops, the rest of the choice
// is asked only where it may be.
func (k *look) ask(s *state, c choice) []*state {
	front := []*state{s}
	for _, q := range c.asks {
		var next []*state
		for _, p := range front {
			if p.stopped && !k.l.Questions[q].AfterStop {
				next = append(next, p)
			} else {
				next = append(next, k.part(p, q)...)
			}
		}
		front = next
	}
	return front
}

// part is the states after the answers to q.
func (k *look) part(s *state, q int) []*state {
	asked := slices.Clone(s.asked)
	asked[q] = true
	by := make([]*state, k.many[q])
	for _, i := range s.cases {
		code := k.codes[q][i]
		if by[code] == nil {
			by[code] = &state{asked: asked, stopped: s.stopped || k.stops[q][code]}
		}
		by[code].cases = append(by[code].cases, i)
	}
	out := slices.DeleteFunc(by, func(p *state) bool { return p == nil })
	for _, p := range out {
		k.weigh(p)
	}
	return out
}
