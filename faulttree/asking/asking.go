// Package asking finds, from a sample of cases, an order of asking that costs
// little: what to ask first, and then after each answer, until the result is
// known. It knows nothing of vehicles.
//
// A [Sample] is cases whose answers and result are known. Two cases may show the
// same and have different results, as readings with an error do, so a result
// counts as known from a share of the cases on, or where nothing tells more.
// [Sample.Grow] makes a [Plan] from some cases, and [Sample.Mean] measures it on
// others: a plan is never judged by the cases it was grown from, to which it is
// overfitted. A case that the plan takes for
// another is charged what finding out otherwise costs.
//
// Where at most [MostExact] questions are open the plan is the cheapest there is
// for the cases it is grown from; where more are, each time what tells
// most for its cost.
//
// A [Lookahead] makes no plan: it says what to ask next, looking some questions
// ahead, of cases that weigh differently.
package asking

import (
	"errors"
	"fmt"
)

// Question can be asked once.
type Question struct {
	Cost      float64 // more than zero
	After     []int   // questions that must have been asked before it
	Rank      int     // it is asked only where no question of a lower rank tells anything
	Stops     []uint8 // codes after which only questions are asked that say AfterStop
	AfterStop bool
}

// Column is one thing that answers show, once all questions it needs were asked.
// One that needs none shows before anything is asked.
type Column struct{ Needs []int }

// Case is one case of a sample.
type Case struct {
	Shows     []uint8 // a code by column; those of single questions come first, 0 where it cannot be asked, which costs nothing
	Result    int
	Otherwise float64 // what it costs to find the result out in another way
}

// Sample is questions, what their answers show, and cases.
type Sample struct {
	Questions []Question
	Columns   []Column // column i of the first len(Questions) is what question i alone shows
	Cases     []Case
	Known     float64 // the share of the cases left from which on their result counts as known, below 1
	// Last says of a result which question must have been asked before it counts,
	// -1 or nothing for none.
	Last map[int]int
}

// Check says what is wrong with s; nil if nothing is.
func (s *Sample) Check() error {
	if len(s.Cases) == 0 {
		return errors.New("there are no cases")
	}
	if len(s.Columns) < len(s.Questions) {
		return fmt.Errorf("%d questions have %d columns", len(s.Questions), len(s.Columns))
	}
	if !(s.Known > 0 && s.Known <= 1) {
		return fmt.Errorf("a result counts as known from a share of %v on; expected more than 0, at most 1", s.Known)
	}
	for i, q := range s.Questions {
		if !(q.Cost > 0) {
			return fmt.Errorf("question %d costs %v; it must cost more than zero", i, q.Cost)
		}
		if c := s.Columns[i].Needs; len(c) != 1 || c[0] != i {
			return fmt.Errorf("column %d is not what question %d shows", i, i)
		}
	}
	for i, c := range s.Cases {
		if len(c.Shows) != len(s.Columns) || c.Result < 0 {
			return fmt.Errorf("case %d shows %d columns of %d, and its result is %d", i, len(c.Shows), len(s.Columns), c.Result)
		}
	}
	return nil
}

// Plan says what to ask next, and then after each answer. Its first question
// may be none, and its columns those that show by themselves.
type Plan struct {
	Ask    int // the question; -1 where none is asked
	Result int // where none is asked
	then   map[string]*Plan
	shows  []int // columns that the question makes known, by which then goes on
}

// Outcome is how a plan deals with one case.
type Outcome struct {
	Result int
	Asked  []int // in order, what could not be asked left out
	Cost   float64
}

// Walk follows the plan through a case. A combination of answers that the plan
// never met counts as the nearest one that it did.
func (s *Sample) Walk(p *Plan, c Case) Outcome {
	out := Outcome{Result: -1}
	for p != nil {
		if p.Ask >= 0 && c.Shows[p.Ask] != 0 {
			out.Asked = append(out.Asked, p.Ask)
			out.Cost += s.Questions[p.Ask].Cost
		}
		if p.then == nil {
			out.Result = p.Result
			break
		}
		p = p.next(shown(c, p.shows))
	}
	return out
}

// next is where the plan goes on after what was shown, or what is nearest to it
// by its codes.
func (p *Plan) next(shown string) *Plan {
	if next := p.then[shown]; next != nil {
		return next
	}
	nearest, least := "", -1
	for key := range p.then {
		d := 0
		for i := range len(key) {
			d += max(int(key[i])-int(shown[i]), int(shown[i])-int(key[i]))
		}
		if least < 0 || d < least || d == least && key < nearest {
			nearest, least = key, d
		}
	}
	return p.then[nearest]
}

// Charged is what a case costs by a plan: what was asked, and if another result
// was found than its own, what finding it out otherwise costs besides.
func (s *Sample) Charged(p *Plan, c Case) (cost float64, right bool) {
	out := s.Walk(p, c)
	if out.Result == c.Result {
		return out.Cost, true
	}
	return out.Cost + c.Otherwise, false
}

// Mean is [Sample.Charged] in the mean of some cases of s.
func (s *Sample) Mean(p *Plan, cases []int) float64 {
	sum := 0.0
	for _, i := range cases {
		cost, _ := s.Charged(p, s.Cases[i])
		sum += cost
	}
	return sum / float64(max(1, len(cases)))
}

// shown is what a case shows in some columns.
func shown(c Case, columns []int) string {
	b := make([]byte, len(columns))
	for i, k := range columns {
		b[i] = c.Shows[k]
	}
	return string(b)
}
