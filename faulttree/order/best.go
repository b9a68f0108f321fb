package order

import "slices"

// Best is a plan of least expected cost. The work grows with three to the power
// of the number of questions; some eight are done in a moment.
func (p *Problem) Best() (*Plan, error) {
	return p.plan(func(s *search, left left) *Plan { return s.best(left) })
}

// Greedy is a plan that asks at each place what tells most about the result for
// its cost, by the entropy of the results. It is quick for many questions, and
// no cheaper than [Problem.Best].
func (p *Problem) Greedy() (*Plan, error) {
	return p.plan(func(s *search, left left) *Plan { return s.greedy(left) })
}

func (p *Problem) plan(find func(*search, left) *Plan) (*Plan, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	s := &search{Problem: p, known: map[string]*Plan{}}
	all := left{shown: make([]byte, len(p.Columns))}
	for i := range p.Cases {
		all.cases = append(all.cases, i)
	}
	for i, c := range p.Columns {
		if c.Needs == 0 { // shows before anything is asked
			all.shown[i] = 0
		}
	}
	return find(s, all), nil
}

// search is a problem with the plans found for what can be left of it.
type search struct {
	*Problem
	known map[string]*Plan // by what was asked and shown
}

// left is what is left once some questions were asked.
type left struct {
	asked Set
	shown []byte // by column what it shows, plus one; zero where it is not known
	cases []int
}

func (l left) key() string {
	return string(append(slices.Clone(l.shown), byte(l.asked), byte(l.asked>>8), byte(l.asked>>16), byte(l.asked>>24)))
}

// done is the plan where the result is known; nil where it is not.
func (s *search) done(l left) *Plan {
	result := s.Cases[l.cases[0]].Result
	for _, i := range l.cases[1:] {
		if s.Cases[i].Result != result {
			return nil
		}
	}
	return &Plan{Ask: -1, Result: result}
}

func (s *search) best(l left) *Plan {
	if p := s.done(l); p != nil {
		return p
	}
	key := l.key()
	if p := s.known[key]; p != nil {
		return p
	}
	var best *Plan
	for q, question := range s.Questions {
		if l.asked.Has(q) || !l.asked.Holds(question.After) {
			continue
		}
		p := &Plan{Ask: q, Expected: question.Cost}
		for _, part := range s.ask(l, q) {
			b := Branch{Shows: part.news, Share: part.share, Plan: s.best(part.left)}
			p.Expected += b.Share * b.Plan.Expected
			p.Then = append(p.Then, b)
			if best != nil && p.Expected >= best.Expected {
				break
			}
		}
		if best == nil || p.Expected < best.Expected {
			best = p
		}
	}
	s.known[key] = best
	return best
}

func (s *search) greedy(l left) *Plan {
	if p := s.done(l); p != nil {
		return p
	}
	ask, most := -1, 0.0
	before := s.entropy(l.cases)
	for q, question := range s.Questions {
		if l.asked.Has(q) || !l.asked.Holds(question.After) {
			continue
		}
		told := before
		for _, part := range s.ask(l, q) {
			told -= part.share * s.entropy(part.cases)
		}
		if told /= question.Cost; ask < 0 || told > most {
			ask, most = q, told
		}
	}
	p := &Plan{Ask: ask, Expected: s.Questions[ask].Cost}
	for _, part := range s.ask(l, ask) {
		b := Branch{Shows: part.news, Share: part.share, Plan: s.greedy(part.left)}
		p.Expected += b.Share * b.Plan.Expected
		p.Then = append(p.Then, b)
	}
	return p
}

// part is what is left after one way that a question turned out.
type part struct {
	left
	news  []Shown
	share float64
}

// ask parts what is left by what question q makes known.
func (s *search) ask(l left, q int) []part {
	asked := l.asked | 1<<q
	var columns []int
	for i, c := range s.Columns {
		if l.shown[i] == 0 && asked.Holds(c.Needs) {
			columns = append(columns, i)
		}
	}
	var parts []part
	at := map[string]int{}
	var news []byte
	for _, i := range l.cases {
		news = news[:0]
		for _, c := range columns {
			news = append(news, s.Cases[i].Shows[c])
		}
		k, ok := at[string(news)]
		if !ok {
			k = len(parts)
			at[string(news)] = k
			next := part{left: left{asked: asked, shown: slices.Clone(l.shown)}}
			for j, c := range columns {
				next.shown[c] = news[j] + 1
				next.news = append(next.news, Shown{c, news[j]})
			}
			parts = append(parts, next)
		}
		parts[k].cases = append(parts[k].cases, i)
	}
	whole := s.weight(l.cases)
	for k := range parts {
		if whole > 0 {
			parts[k].share = s.weight(parts[k].cases) / whole
		} else { // nothing left is likely: each case counts alike
			parts[k].share = float64(len(parts[k].cases)) / float64(len(l.cases))
		}
	}
	return parts
}
