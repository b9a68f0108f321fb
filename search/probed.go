package search

import (
	"slices"

	"faultwright/content/contact"
	"faultwright/faulttree"
)

// probed is two points whose difference a query says was read, or one point and
// none for a clamp, the proof of a meter or the tips of its leads.
type probed struct {
	a, b contact.Point
	// Guessed: one of the points was not said in so many words, such as the soil
	// for "58 volts on the bumper". A figure that would look harmless there is
	// not filled in.
	guessed bool
}

// probedBy is the pair of points that a query speaks of. What was not said is
// taken only where everybody leaves it unsaid.
func probedBy(s contact.Said, f figure) (p probed, ok bool) {
	points := s.Points
	for i := range points {
		if points[i].Place == "" && points[i].Contact != contact.Body && points[i].Contact != contact.Soil {
			points = slices.Clone(points)
			points[i].Place = s.Site
		}
	}
	if len(points) == 0 && s.Site != "" {
		points = []contact.Point{{Place: s.Site}}
	}
	switch len(points) {
	case 1:
		return probedAtOne(points[0], f)
	case 2:
		return probedAtTwo(points[0], points[1], f)
	case 0:
		if f.symbol == "V" && f.negative() && f.current != "AC" { // only a direct voltage has a sign
			return probed{contact.Point{Contact: contact.Pos, Place: "battery"}, contact.Point{Contact: contact.Neg, Place: "battery"}, true}, true
		}
	}
	return probed{}, false
}

func probedAtOne(p contact.Point, f figure) (probed, bool) {
	direct := directPlace[p.Place]
	switch {
	case p.Contact == contact.Leads, p.Contact == contact.Tips, p.Place == "meter":
		return probed{a: p}, true
	case f.symbol == "A":
		return probed{a: p}, true
	case f.symbol == "Ω":
		return probed{}, false
	case p.Contact == contact.Body:
		return probed{p, contact.Point{Contact: contact.Soil}, true}, true
	case p.Contact == contact.Hot && p.Place == "": // "the trailer is live"
		return probed{}, false
	case p.Contact == contact.Hot, p.Contact == contact.L1, p.Contact == contact.L2:
		return probed{a: p, b: contact.Point{Contact: contact.N, Place: p.Place}}, !direct
	case p.Contact == contact.Pos, p.Contact == "" && direct:
		return probed{a: contact.Point{Contact: contact.Pos, Place: p.Place}, b: contact.Point{Contact: contact.Neg, Place: p.Place}}, true
	case p.Contact == "" && p.Place == "panel" && f.low(): // the 12 V side of it, most likely
		return probed{contact.Point{Contact: contact.Pos, Place: "dc"}, contact.Point{Contact: contact.Neg, Place: "dc"}, true}, true
	case p.Contact == "" && usualPlace[p.Place]:
		return probed{a: contact.Point{Contact: contact.Hot, Place: p.Place}, b: contact.Point{Contact: contact.N, Place: p.Place}}, true
	}
	return probed{}, false
}

func probedAtTwo(a, b contact.Point, f figure) (probed, bool) {
	if b.Contact == contact.Body {
		a, b = b, a
	}
	switch {
	case a.Contact == contact.Body && b.Contact == contact.GroundWord: // the soil, or the receptacle's contact
		return probed{a, contact.Point{Contact: map[bool]contact.Atom{true: contact.G, false: contact.Soil}[f.symbol == "Ω"]}, true}, true
	case a.Contact == contact.Body && b.Contact == "" && f.symbol == "Ω": // "plug to frame"
		return probed{a, contact.Point{Contact: contact.G, Place: b.Place}, true}, true
	case b.Contact == contact.GroundWord:
		b.Contact = contact.G
	}
	return probed{a: a, b: b}, a.Contact != "" && b.Contact != ""
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
	red := contact.PointOf(q.Red)
	if q.Black == "" || p.b == (contact.Point{}) {
		fit, ok = fitPoint(p.a, red)
		return fit, false, ok && q.Black == "" && p.b == (contact.Point{})
	}
	black := contact.PointOf(q.Black)
	unsaid := p.a.Place == "" && p.b.Place == "" && red.Place != "" && black.Place != ""
	if unsaid && (red.Place != black.Place || red.Contact == black.Contact) {
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
	onL2 := contact.PointOf(q.Red).Contact == contact.L2 || contact.PointOf(q.Black).Contact == contact.L2
	return onL2 && p.a.Contact != contact.L2 && p.b.Contact != contact.L2
}

// unsaidInsulation reports whether q tests the insulation of a place that
// nobody named: OL there says nothing of what lies behind an open breaker.
func (p probed) unsaidInsulation(q faulttree.Quantity) bool {
	ofGround := contact.PointOf(q.Red).Contact == contact.G && contact.PointOf(q.Black).Contact == contact.Body
	return q.Unit == faulttree.Ohms && !ofGround && p.a.Place == "" && p.b.Place == ""
}

func fitBoth(one, two, red, black contact.Point) (float64, bool) {
	a, ok1 := fitPoint(one, red)
	b, ok2 := fitPoint(two, black)
	return a + b, ok1 && ok2
}

// Costs of a place or a contact that the query does not name.
var unsaidPlace = map[string]float64{"": 0, "pedestal": 0.1, "outlet": 0.15, "plug": 0.2}

const unsaidElse = 0.45

// fitPoint is how well a test point of the handbook is the point that was said.
func fitPoint(p, at contact.Point) (fit float64, ok bool) {
	switch {
	case p.Contact == at.Contact:
	case p.Contact == "" && at.Contact != "" && at.Contact != contact.Body && at.Contact != contact.Soil && p.Place == at.Place: // a clamp around a cable
		fit = -0.3
	case p.Contact == contact.Hot && at.Contact == contact.L1, p.Contact == contact.L1 && at.Contact == contact.Hot && p.Place != "":
		fit = -0.05
	case p.Contact == contact.Hot && at.Contact == contact.L2:
		fit = -0.15
	default:
		return 0, false
	}
	switch {
	case p.Place == at.Place:
	case p.Place == "panel" && at.Place == "dc" && (p.Contact == contact.Pos || p.Contact == contact.Neg):
	case p.Place == "":
		cost, known := unsaidPlace[at.Place]
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
func conditionFit(q faulttree.Quantity, s contact.Said, p probed) (fit float64, ok bool) {
	has := func(c faulttree.Condition) bool { return slices.Contains(s.Conditions, string(c)) }
	atPlace := func(places ...string) bool {
		return slices.Contains(places, p.a.Place) || slices.Contains(places, p.b.Place)
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
	for _, said := range s.Conditions {
		c, state := faulttree.Condition(said), contact.Atom("+"+said)
		live, poor := state == contact.Live || state == contact.Plugged, state == contact.Dead || state == contact.Unreliable
		switch {
		case live && (dead || q.Has(faulttree.Unplugged)),
			state == contact.Off && !dead && !q.Unit.Signed() && !atPlace("meter"),
			poor && (p.a.Contact == contact.Soil || p.b.Contact == contact.Soil):
			return 0, false
		case live, poor, state == contact.Off:
		case q.Has(c), dead:
		case c == faulttree.Unplugged && !offSupply, c == faulttree.MainOff && !offSupply, c == faulttree.LowZ:
			return 0, false
		default:
			fit -= 0.5
		}
	}
	return fit, true
}

// String is the pair in words: "the body against the grounding contact".
func (p probed) String() string { return p.a.String() + " against " + p.b.String() }
