package search

import (
	"slices"

	"faultwright/faulttree"
)

// probed is two points whose difference a query says was read, or one point and
// none for a clamp, the proof of a meter or the tips of its leads.
type probed struct {
	a, b point
	// Guessed: one of the points was not said in so many words, such as the soil
	// for "58 volts on the bumper". A figure that would look harmless there is
	// not filled in.
	guessed bool
}

// probedBy is the pair of points that a query speaks of. What was not said is
// taken only where everybody leaves it unsaid.
func probedBy(s said, f figure) (p probed, ok bool) {
	points := s.points
	for i := range points {
		if points[i].place == "" && points[i].contact != atBody && points[i].contact != atSoil {
			points = slices.Clone(points)
			points[i].place = s.site
		}
	}
	if len(points) == 0 && s.site != "" {
		points = []point{{place: s.site}}
	}
	switch len(points) {
	case 1:
		return probedAtOne(points[0], f)
	case 2:
		return probedAtTwo(points[0], points[1], f)
	case 0:
		if f.symbol == "V" && f.negative() && f.current != "AC" { // only a direct voltage has a sign
			return probed{point{contact: atPos, place: "battery"}, point{contact: atNeg, place: "battery"}, true}, true
		}
	}
	return probed{}, false
}

func probedAtOne(p point, f figure) (probed, bool) {
	direct := directPlace[p.place]
	switch {
	case p.contact == atLeads, p.contact == atTips, p.place == "meter":
		return probed{a: p}, true
	case f.symbol == "A":
		return probed{a: p}, true
	case f.symbol == "Ω":
		return probed{}, false
	case p.contact == atBody:
		return probed{p, point{contact: atSoil}, true}, true
	case p.contact == atHot && p.place == "": // "the trailer is live"
		return probed{}, false
	case p.contact == atHot, p.contact == atL1, p.contact == atL2:
		return probed{a: p, b: point{contact: atN, place: p.place}}, !direct
	case p.contact == atPos, p.contact == "" && direct:
		return probed{a: point{contact: atPos, place: p.place}, b: point{contact: atNeg, place: p.place}}, true
	case p.contact == "" && p.place == "panel" && f.low(): // the 12 V side of it, most likely
		return probed{point{contact: atPos, place: "dc"}, point{contact: atNeg, place: "dc"}, true}, true
	case p.contact == "" && usualPlace[p.place]:
		return probed{a: point{contact: atHot, place: p.place}, b: point{contact: atN, place: p.place}}, true
	}
	return probed{}, false
}

func probedAtTwo(a, b point, f figure) (probed, bool) {
	if b.contact == atBody {
		a, b = b, a
	}
	switch {
	case a.contact == atBody && b.contact == atGround: // the soil, or the receptacle's contact
		return probed{a, point{contact: map[bool]atom{true: atG, false: atSoil}[f.symbol == "Ω"]}, true}, true
	case a.contact == atBody && b.contact == "" && f.symbol == "Ω": // "plug to frame"
		return probed{a, point{contact: atG, place: b.place}, true}, true
	case b.contact == atGround:
		b.contact = atG
	}
	return probed{a: a, b: b}, a.contact != "" && b.contact != ""
}

// usualPlace holds where a voltage is hot to neutral unless something else is
// said; directPlace where it is direct.
var (
	usualPlace  = map[string]bool{"pedestal": true, "outlet": true, "panel": true, "generator": true, "inverter": true}
	directPlace = map[string]bool{"battery": true, "dc": true, "converter": true, "tow": true}
)

// fit is how well a quantity is what was probed, with ok false where it is
// something else. Reversed tells that the points were said the other way round.
func (p probed) fit(q faulttree.Quantity) (fit float64, reversed, ok bool) {
	red := pointOf(q.Red)
	if q.Black == "" || p.b == (point{}) {
		fit, ok = p.a.fit(red)
		return fit, false, ok && q.Black == "" && p.b == (point{})
	}
	black := pointOf(q.Black)
	unsaid := p.a.place == "" && p.b.place == "" && red.place != "" && black.place != ""
	if unsaid && (red.place != black.place || red.contact == black.contact) {
		return 0, false, false // from one place to another, or through an adapter, of which nothing was said
	}
	if fit, ok := fitBoth(p.a, p.b, red, black); ok {
		return fit, false, true
	}
	fit, ok = fitBoth(p.b, p.a, red, black)
	return fit, true, ok
}

// legTaken reports whether "hot", which the handbook has for L1, was taken for L2.
func (p probed) legTaken(q faulttree.Quantity) bool {
	onL2 := pointOf(q.Red).contact == atL2 || pointOf(q.Black).contact == atL2
	return onL2 && p.a.contact != atL2 && p.b.contact != atL2
}

// unsaidInsulation reports whether q tests the insulation of a place that
// nobody named: OL there says nothing of what lies behind an open breaker.
func (p probed) unsaidInsulation(q faulttree.Quantity) bool {
	ofGround := pointOf(q.Red).contact == atG && pointOf(q.Black).contact == atBody
	return q.Unit == faulttree.Ohms && !ofGround && p.a.place == "" && p.b.place == ""
}

func fitBoth(one, two, red, black point) (float64, bool) {
	a, ok1 := one.fit(red)
	b, ok2 := two.fit(black)
	return a + b, ok1 && ok2
}

// Costs of a place or a contact that the query does not name.
var unsaidPlace = map[string]float64{"": 0, "pedestal": 0.1, "outlet": 0.15, "plug": 0.2}

const unsaidElse = 0.45

// fit is how well a test point of the handbook is the point that was said.
func (p point) fit(at point) (fit float64, ok bool) {
	switch {
	case p.contact == at.contact:
	case p.contact == "" && at.contact != "" && at.contact != atBody && at.contact != atSoil && p.place == at.place: // a clamp around a cable
		fit = -0.3
	case p.contact == atHot && at.contact == atL1, p.contact == atL1 && at.contact == atHot && p.place != "":
		fit = -0.05
	case p.contact == atHot && at.contact == atL2:
		fit = -0.15
	default:
		return 0, false
	}
	switch {
	case p.place == at.place:
	case p.place == "panel" && at.place == "dc" && (p.contact == atPos || p.contact == atNeg):
	case p.place == "":
		cost, known := unsaidPlace[at.place]
		if !known {
			cost = unsaidElse
		}
		fit -= cost
	default:
		return 0, false
	}
	return fit, true
}

// conditionFit is how well the state in which a quantity is read is the state
// that was said. Ok is false where they are two different things: a body with
// the plug pulled is another body.
func conditionFit(q faulttree.Quantity, s said, p probed) (fit float64, ok bool) {
	has := func(c faulttree.Condition) bool { return slices.Contains(s.conditions, string(c)) }
	atPlace := func(places ...string) bool {
		return slices.Contains(places, p.a.place) || slices.Contains(places, p.b.place)
	}
	dead := q.Unit == faulttree.Ohms
	offSupply := atPlace("pedestal", "cord", "adapter", "meter") || q.Unit.Signed()
	for _, c := range q.Conditions {
		switch {
		case has(c), dead:
		case c == faulttree.Unplugged && atPlace("plug", "inlet"):
		case c == faulttree.Loaded:
			fit -= 0.5
		case c == faulttree.Rest:
			fit -= 0.1
		default:
			return 0, false
		}
	}
	for _, c := range s.conditions {
		switch c := faulttree.Condition(c); {
		case atom("+"+c) == stateLive && (dead || q.Has(faulttree.Unplugged)),
			atom("+"+c) == stateOff && !dead && !q.Unit.Signed() && !atPlace("meter"),
			(atom("+"+c) == stateDead || atom("+"+c) == statePoor) && (p.a.contact == atSoil || p.b.contact == atSoil):
			return 0, false
		case atom("+"+c) == stateLive, atom("+"+c) == stateOff, atom("+"+c) == stateDead, atom("+"+c) == statePoor:
		case q.Has(c), dead:
		case c == faulttree.Unplugged && !offSupply, c == faulttree.MainOff && !offSupply, c == faulttree.LowZ:
			return 0, false
		default:
			fit -= 0.5
		}
	}
	return fit, true
}

var contactNames = map[atom]string{
	atHot: "a hot contact", atL1: "the L1 contact", atL2: "the L2 contact", atN: "the neutral contact", atG: "the grounding contact",
	atPos: "positive", atNeg: "negative", atBody: "the body", atSoil: "the spike in the soil",
}

// String is the pair in words: "the body against the grounding contact".
func (p probed) String() string { return p.a.String() + " against " + p.b.String() }

func (p point) String() string {
	name := contactNames[p.contact]
	if p.place == "" {
		return name
	}
	if place, ok := map[string]string{"dc": "12 V panel", "tow": "tow connector", "feed": "incoming feeder"}[p.place]; ok {
		return name + " of the " + place
	}
	return name + " of the " + p.place
}
