package asking

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Lookahead is what is still to be told about cases that weigh differently, for
// choosing what to ask next: see [Lookahead.Rank].
type Lookahead struct {
	Questions []Question
	Cases     []Weighted
	Asked     []int // questions asked already
	Stopped   bool  // only questions are asked that say AfterStop
	// Known is the share of the weight from which on a result counts as known,
	// below which it is asked for; 0 stands for all of it.
	Known float64
	// Draws is how many draws the cases stand for together, so that what chance
	// tells in so few is not counted; 0 where the cases are all there are.
	Draws float64
	// Least is how many bits a question must tell to be proposed: one that tells
	// less does not keep others of a higher rank waiting.
	Least float64
	// Depth is how many questions are looked ahead; 0 for as many as little work
	// allows, two or more.
	Depth int
}

// Weighted is one case of a [Lookahead].
type Weighted struct {
	Shows  []uint8 // a code by question; 0 where it cannot be asked, which costs nothing
	Result int
	Weight float64 // how often, against the other cases; not below zero
}

// Candidate is a question that may be asked next, and is worth it.
type Candidate struct {
	Ask int
	For int // the question for whose sake it is asked: itself, or one that comes after it
	// Bits is by how much the answer is expected to lessen the entropy of the result,
	// and Cost what asking is expected to cost: of For, with all that must come before
	// it.
	Bits, Cost float64
	// BitsAhead and CostAhead are the same with the questions that follow, each
	// time the one that tells most for its cost, as far as was looked.
	BitsAhead, CostAhead float64
}

// Check says what is wrong with l; nil if nothing is.
func (l *Lookahead) Check() error {
	whole := 0.0
	for i, q := range l.Questions {
		if !(q.Cost > 0) || math.IsInf(q.Cost, 0) {
			return fmt.Errorf("question %d costs %v; it must cost more than zero", i, q.Cost)
		}
		if slices.ContainsFunc(q.After, l.none) {
			return fmt.Errorf("question %d comes after one that is not there", i)
		}
	}
	if q := circle(l.Questions); q >= 0 {
		return fmt.Errorf("question %d comes after itself", q)
	}
	for i, c := range l.Cases {
		if len(c.Shows) != len(l.Questions) || c.Result < 0 {
			return fmt.Errorf("case %d shows %d answers to %d questions, and its result is %d", i, len(c.Shows), len(l.Questions), c.Result)
		}
		if !(c.Weight >= 0) || math.IsInf(c.Weight, 0) {
			return fmt.Errorf("case %d weighs %v; it must not weigh less than zero", i, c.Weight)
		}
		whole += c.Weight
	}
	switch {
	case !(whole > 0):
		return errors.New("no case weighs anything")
	case slices.ContainsFunc(l.Asked, l.none):
		return errors.New("a question was asked that is not there")
	case !(l.Known >= 0 && l.Known <= 1):
		return fmt.Errorf("a result counts as known from a share of %v on; expected at most 1", l.Known)
	case !(l.Draws >= 0) || !(l.Least >= 0) || l.Depth < 0:
		return fmt.Errorf("%v draws, %v bits at least, %d questions ahead; expected none below zero", l.Draws, l.Least, l.Depth)
	}
	return nil
}

func (l *Lookahead) none(q int) bool { return q < 0 || q >= len(l.Questions) }

// circle is a question that can never be asked, because it comes after itself or
// after one that does; -1 where there is none.
func circle(questions []Question) int {
	asked := make([]bool, len(questions))
	for range questions {
		for q, question := range questions {
			asked[q] = asked[q] || !slices.ContainsFunc(question.After, func(before int) bool { return !asked[before] })
		}
	}
	return slices.Index(asked, false)
}

// After is what is still to be told once a question has shown a code.
func (l *Lookahead) After(question int, code uint8) *Lookahead {
	next := *l
	next.Asked = append(slices.Clip(l.Asked), question)
	next.Stopped = l.Stopped || slices.Contains(l.Questions[question].Stops, code)
	next.Cases = nil
	whole, left := 0.0, 0.0
	for _, c := range l.Cases {
		whole += c.Weight
		if c.Shows[question] == code {
			next.Cases = append(next.Cases, c)
			left += c.Weight
		}
	}
	if whole > 0 {
		next.Draws = l.Draws * left / whole
	}
	return &next
}
