package shorthand

import (
	"slices"

	"faultwright/content/contact"
	"faultwright/faulttree"
)

// quantity is one that the handbook has, taken apart.
type quantity struct {
	faulttree.Quantity
	red, black contact.Point
	place      string // of the red point, else of the black one; "" for the body against the soil
	state      State  // "" for the meter's own
}

func newQuantity(q faulttree.Quantity, points map[string]faulttree.Point) quantity {
	out := quantity{Quantity: q, red: contact.PointOf(q.Red)}
	if q.Black != "" {
		out.black = contact.PointOf(q.Black)
	}
	if out.place = out.red.Place; out.place == "" {
		out.place = out.black.Place
	}
	at := points[q.Red].Place
	volts := q.Unit == faulttree.VoltsAC || q.Unit == faulttree.VoltsDC
	switch {
	case q.OfMeter():
		out.place = ""
	case q.Has(faulttree.Unplugged):
		out.state = PlugPulled
	case q.Has(faulttree.MainOff):
		out.state = MainOff
	case q.Has(faulttree.Rest):
		out.state = AtRest
	case q.Has(faulttree.Loaded):
		out.state = LoadsOn
	case volts && (at == faulttree.Supply || at == faulttree.Cord):
		out.state = NothingPluggedIn
	default:
		out.state = PluggedIn
	}
	return out
}

// known is what is known of a reading. Empty parts are not.
type known struct {
	points []contact.Point // as said
	a, b   contact.Point   // those that were probed; b is empty for a clamp and for the meter's own
	site   string          // of points that name no place
	words  words           // the state that was said
	unit   string
}

// placed reports whether a place was said.
func (k known) placed() bool { return k.site != "" || k.a.Place != "" || k.b.Place != "" }

// pair reports whether a quantity is read between the two points. Reversed
// tells that they were said the other way round.
func (k known) pair(q quantity) (ok, reversed bool) {
	if k.b == (contact.Point{}) || q.Black == "" {
		return k.b == (contact.Point{}) && q.Black == "" && k.touches(k.a, q.red), false
	}
	a, b := k.a, k.b
	if (a.Place == "" && !whole(a) || b.Place == "" && !whole(b)) && k.site == "" && !oneplace(q) {
		return false, false // read between two places, and neither was said
	}
	if k.touches(a, q.red) && k.touches(b, q.black) {
		return true, false
	}
	return k.touches(b, q.red) && k.touches(a, q.black), true
}

// whole reports whether a point has no place.
func whole(p contact.Point) bool { return p.Contact == contact.Body || p.Contact == contact.Soil }

// oneplace reports whether the contacts of q stand in one place and are two.
func oneplace(q quantity) bool {
	return whole(q.red) || whole(q.black) || q.red.Place == q.black.Place && q.red.Contact != q.black.Contact
}

// touches reports whether a point of the handbook is the one that was said. "Hot"
// alone is taken for L1, as the handbook calls it.
func (k known) touches(said, at contact.Point) bool {
	place := said.Place
	if place == "" && !whole(said) {
		place = k.site
	}
	direct := said.Contact == contact.Pos || said.Contact == contact.Neg
	switch {
	case place == "panel" && direct:
		place = "dc"
	case whole(said):
		return said.Contact == at.Contact && (said.Place == "" || said.Place == at.Place)
	}
	if place == "tow" && said.Contact == contact.G {
		said.Contact = contact.Neg
	}
	if place != "" && place != at.Place {
		return false
	}
	return said.Contact == at.Contact || said.Contact == contact.Hot && at.Contact == contact.L1 ||
		said.Contact == contact.L1 && at.Contact == contact.Hot && place != ""
}

// stands reports whether the state in which q is read is the one that was said.
// What was not said may be any, but low impedance is said.
func (k known) stands(q quantity) bool {
	has := func(a contact.Atom) bool { c, _ := a.Condition(); return slices.Contains(k.words.Conditions, c) }
	dead := q.Unit == faulttree.Ohms
	if q.Has(faulttree.LowZ) != has("+lowz") && !dead {
		return false
	}
	if q.OfMeter() {
		return true
	}
	unplugged, loaded := has("+unplugged"), has("+loaded")
	switch {
	case (has(contact.Off) || has(contact.Dead)) && !dead && !unplugged,
		has(contact.Unreliable) && (q.red.Contact == contact.Soil || q.black.Contact == contact.Soil):
		return false
	}
	switch q.state {
	case NothingPluggedIn:
		return !has(contact.Plugged) && !loaded && !has("+main-off")
	case PlugPulled:
		return !has(contact.Plugged) && !has(contact.Live) && !has("+main-off") && (!loaded || unplugged || k.unit == "Ω")
	case PluggedIn:
		return !unplugged && !loaded && !has("+main-off") && !has("+rest")
	case LoadsOn:
		live := has(contact.Plugged) || has(contact.Live)
		return !unplugged && !has("+main-off") && !has("+rest") && !k.words.LoadsOff && (loaded || !live)
	case MainOff:
		return has("+main-off") || !unplugged && !loaded && !has(contact.Live) && !has(contact.Plugged)
	}
	return !unplugged && !loaded && !has("+main-off") && !has(contact.Live) && !has(contact.Plugged) // at rest
}

// measured reports whether the unit is that of q.
func (k known) measured(q quantity) bool { return k.unit == "" || k.unit == q.Unit.Symbol() }

// fitting lists the quantities for which all of the tests hold.
func (r *Reader) fitting(tests ...func(quantity) bool) []quantity {
	var out []quantity
	for _, q := range r.quantities {
		if !slices.ContainsFunc(tests, func(test func(quantity) bool) bool { return !test(q) }) {
			out = append(out, q)
		}
	}
	return out
}

func (k known) between(q quantity) bool { ok, _ := k.pair(q); return ok }

// distinct lists what key says of the quantities, each once, in their order.
func distinct[T comparable](list []quantity, key func(quantity) T) []T {
	var out []T
	for _, q := range list {
		if k := key(q); !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

func placeOf(q quantity) string    { return q.place }
func stateOf(q quantity) State     { return q.state }
func idOf(q quantity) string       { return q.ID }
func unitSymbol(q quantity) string { return q.Unit.Symbol() }
