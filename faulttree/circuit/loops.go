package circuit

import (
	"fmt"
	"math"
)

// equations are linear ones between voltages, each solved for one of them.
type equations []equation

type equation struct {
	pivot int32
	terms map[int32]float64
}

// reduce takes from terms what the equations say, and returns the voltage with
// the largest part left, or -1 where nothing is: less than 1e-9 of the largest
// figure met.
func (q equations) reduce(terms map[int32]float64) int32 {
	largest := 0.0
	for _, v := range terms {
		largest = max(largest, math.Abs(v))
	}
	for _, known := range q {
		f := terms[known.pivot]
		if f == 0 {
			continue
		}
		for i, v := range known.terms {
			terms[i] -= f * v
			largest = max(largest, math.Abs(f*v))
		}
		delete(terms, known.pivot)
	}
	pivot, best := int32(-1), 1e-9*largest
	for i, v := range terms {
		if v = math.Abs(v); v > best || v == best && i < pivot {
			pivot, best = i, v
		}
	}
	return pivot
}

// add states another equation and reports whether it follows from the rest.
func (q *equations) add(terms map[int32]float64) (follows bool) {
	pivot := q.reduce(terms)
	if pivot < 0 {
		return true
	}
	divisor := terms[pivot]
	for i := range terms {
		terms[i] /= divisor
	}
	*q = append(*q, equation{pivot, terms})
	return false
}

// across is the voltage of a winding or source as terms, times a factor.
func (s *Solver) across(terms map[int32]float64, a, b int32, times float64) map[int32]float64 {
	terms[a] += times
	terms[b] -= times
	delete(terms, int32(s.matrix.n)) // a reference
	return terms
}

// exactLoops refuses exact voltages that leave no single solution: one that
// follows from others, or ratios that contradict each other, so that no
// voltage but zero fits a winding that nothing shorts.
func (s *Solver) exactLoops() error {
	var known equations
	var wound []tie
	for round := range 2 { // transformers without an exact short first
		for _, t := range s.ties {
			e := &s.net.elements[t.element]
			loose := e.Kind == Transformer && t.a != t.b && t.c != t.d
			if loose != (round == 0) {
				continue
			}
			terms := s.across(map[int32]float64{}, t.a, t.b, 1)
			if e.Kind == Transformer {
				s.across(terms, t.c, t.d, -e.Value)
			}
			if known.add(terms) {
				return fmt.Errorf("%s %s closes a loop of exact voltages; give it a resistance in series", e.Kind, e.Name)
			}
			if !loose {
				continue
			}
			wound = append(wound, t)
			for _, w := range wound {
				if known.reduce(s.across(map[int32]float64{}, w.a, w.b, 1)) < 0 {
					return fmt.Errorf("transformer %s closes a loop of exact voltages whose ratios contradict each other; give it a resistance in series", e.Name)
				}
			}
		}
	}
	return nil
}
