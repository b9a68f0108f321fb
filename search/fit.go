package search

import (
	"faultwright/faulttree"
)

// fit is how well a quantity is what a query speaks of; ok is false where it
// can not be.
func fit(q faulttree.Quantity, f figure, s said) (score float64, ok bool) {
	if f.symbol != "" && f.symbol != q.Unit.Symbol() {
		return 0, false
	}
	if f.wrongCurrent(q) { // offered without the reading: the dial stood wrong
		score -= 0.7
	}
	if f.symbol == "" { // a bare number is volts, until ohms are the only way
		score -= map[string]float64{"Ω": 0.8, "A": 2}[q.Unit.Symbol()]
	}
	red, redPlace := contactOf(q.Red)
	black, blackPlace := contactOf(q.Black)
	free := []atom{red, black}
	if q.Black == "" {
		free = free[:1]
	}
	matched := 0
	for _, c := range s.contacts {
		best, at := 0.0, -1
		for i, p := range free {
			if m := c.matches(p, s); m > best {
				best, at = m, i
			}
		}
		if at < 0 {
			return 0, false
		}
		score += 3 * best
		free = append(free[:at:at], free[at+1:]...)
		matched++
	}
	for _, p := range free {
		switch cost, known := unsaid[p]; {
		case p == atL1 && black == atL2 || p == atL2 && red == atL1:
			score -= 1 // one leg alone is measured to neutral
		case p == atEarth && s.has(atBody):
			score -= 0.2 // "on the bumper" is measured to the spike
		case p == atBody && q.Unit == faulttree.Ohms && s.has(atG):
			score -= 0.4
		case p == atG && q.Unit == faulttree.Ohms && s.has(atBody):
			score -= 0.2 // continuity of the ground comes first
		case known:
			score -= cost
		default:
			score--
		}
	}
	for _, place := range s.places {
		switch {
		case place == redPlace || place == blackPlace:
			score += 2
			matched++
		case directPlace[place] != q.Unit.Signed():
			return 0, false // a battery is no receptacle
		default:
			score -= 1.6
		}
	}
	if matched == 0 {
		return 0, false
	}
	return score - placeCost(s, redPlace, blackPlace) - conditionCost(q, s), score > 0
}

// wrongCurrent reports whether the figure says AC where the quantity is DC, or
// the reverse.
func (f figure) wrongCurrent(q faulttree.Quantity) bool {
	direct := q.Unit.Signed()
	return q.Unit != faulttree.Ohms && (f.current == "AC" && direct || f.current == "DC" && !direct)
}

var directPlace = map[string]bool{"battery": true, "dc": true, "converter": true, "tow": true}

// placeCost counts the places of a quantity that the query does not name.
func placeCost(s said, places ...string) float64 {
	cost := 0.0
	for i, p := range places {
		if p == "" || contains(s.places, p) || i > 0 && p == places[0] {
			continue
		}
		if c, ok := unsaidPlace[p]; ok {
			cost += c
		} else {
			cost += 0.9
		}
	}
	return cost
}

func conditionCost(q faulttree.Quantity, s said) float64 {
	cost := 0.0
	for _, c := range q.Conditions {
		switch {
		case contains(s.conditions, string(c)):
			cost--
		case c == faulttree.Unplugged && q.Unit == faulttree.Ohms: // always dead
		default:
			cost += unsaidCondition[c]
		}
	}
	for _, c := range s.conditions {
		if !q.Has(faulttree.Condition(c)) {
			cost += 0.4
		}
	}
	return cost
}
