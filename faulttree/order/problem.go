package order

import (
	"errors"
	"fmt"
	"math"
	"math/bits"

	"faultwright/faulttree/lists"
)

// MostQuestions is how many questions a problem may have.
const MostQuestions = 32

// Question can be asked once.
type Question struct {
	Cost  float64 // effort and exposure, in any unit; more than zero
	After Set     // questions that must have been asked before it
}

// Set is a set of questions, by the bits of their indices.
type Set uint32

// SetOf is the set of these questions.
func SetOf(questions ...int) Set {
	var s Set
	for _, q := range questions {
		s |= 1 << q
	}
	return s
}

// Has reports whether question q is in s.
func (s Set) Has(q int) bool { return s>>q&1 == 1 }

// Holds reports whether all of other are in s.
func (s Set) Holds(other Set) bool { return other&^s == 0 }

// Column is one thing that answers show, once all questions it needs were asked.
type Column struct{ Needs Set }

// Case is one combination of what the columns can show.
type Case struct {
	Shows  []uint8 // one for each column
	Result int
	Weight float64 // how often, against the other cases; not below zero
}

// Problem is what is to be asked, and what the answers can be.
type Problem struct {
	Questions []Question
	Columns   []Column
	Cases     []Case
}

// Check says what is wrong with p; nil if nothing is. A problem is wrong, too,
// where some result stays unknown although everything was asked.
func (p *Problem) Check() error {
	if len(p.Questions) > MostQuestions {
		return fmt.Errorf("%d questions are more than %d", len(p.Questions), MostQuestions)
	}
	all := Set(1)<<len(p.Questions) - 1
	for i, q := range p.Questions {
		if !(q.Cost > 0) || math.IsInf(q.Cost, 0) {
			return fmt.Errorf("question %d costs %v; it must cost more than zero", i, q.Cost)
		}
		if !all.Holds(q.After) || q.After.Has(i) {
			return fmt.Errorf("question %d comes after questions that are not there", i)
		}
	}
	if reached := p.closure(); reached != all {
		return fmt.Errorf("question %d comes after itself", bits.TrailingZeros32(uint32(all&^reached)))
	}
	for i, c := range p.Columns {
		if !all.Holds(c.Needs) {
			return fmt.Errorf("column %d needs questions that are not there", i)
		}
	}
	if len(p.Cases) == 0 {
		return errors.New("there are no cases")
	}
	seen := map[string]int{}
	for i, c := range p.Cases {
		if len(c.Shows) != len(p.Columns) {
			return fmt.Errorf("case %d shows %d columns of %d", i, len(c.Shows), len(p.Columns))
		}
		if !(c.Weight >= 0) || math.IsInf(c.Weight, 0) {
			return fmt.Errorf("case %d weighs %v; it must not weigh less than zero", i, c.Weight)
		}
		if first, ok := seen[string(c.Shows)]; ok && p.Cases[first].Result != c.Result {
			return fmt.Errorf("cases %d and %d show the same and lead to different results", first, i)
		} else if !ok {
			seen[string(c.Shows)] = i
		}
	}
	return nil
}

// closure is every question that can come to be asked.
func (p *Problem) closure() Set {
	var asked Set
	for range p.Questions {
		for i, q := range p.Questions {
			if asked.Holds(q.After) {
				asked |= 1 << i
			}
		}
	}
	return asked
}

// Plan says what to ask next, and then after each answer.
type Plan struct {
	Ask      int // the question; -1 where the result is known
	Result   int // where it is known
	Expected float64
	Then     []Branch
}

// Branch is what follows one way that a question can turn out.
type Branch struct {
	Shows []Shown // the columns that the question made known
	Share float64 // of the weight of the cases that were left before
	Plan  *Plan
}

// Shown is what a column shows.
type Shown struct {
	Column int
	Value  uint8
}

// entropy is that of the results of these cases, in bits.
func (p *Problem) entropy(cases []int) float64 {
	whole := p.weight(cases)
	if whole == 0 {
		return 0
	}
	by := map[int]float64{}
	for _, i := range cases {
		by[p.Cases[i].Result] += p.Cases[i].Weight
	}
	bits := 0.0
	for _, w := range by {
		if w > 0 {
			bits -= w / whole * math.Log2(w/whole)
		}
	}
	return bits
}

func (p *Problem) weight(cases []int) float64 {
	return lists.Sum(cases, func(i int) float64 { return p.Cases[i].Weight })
}
