package suspect

import (
	"slices"
	"strings"

	"faultwright/faulttree"
)

// Rules is what may be proposed to readers of a role, and what must be read
// before it: worked out once from what the trees of a handbook do.
type Rules struct {
	forest *faulttree.Forest
	role   faulttree.Role
	before map[string][]string // by quantity, what every tree that asks it asks first
	limits map[string]faulttree.Amount
	ids    []string // the quantities that may be proposed at all
	covers []string // what is read before a live contact that no tree asks
	checks []string // volts that prove a pulled plug dead
}

// NewRules is the rules of a handbook. An owner is asked only for what some tree
// asks of an owner, a qualified person for every quantity.
func NewRules(f *faulttree.Forest, role faulttree.Role) *Rules {
	r := &Rules{forest: f, role: role, before: f.Before(role), limits: map[string]faulttree.Amount{}}
	for _, t := range f.Trees {
		for _, id := range t.Dangers() {
			if limit, ok := t.DangerLimit(id); ok {
				if least, known := r.limits[id]; !known || limit < least {
					r.limits[id] = limit
				}
			}
		}
	}
	for _, id := range f.Quantities.IDs() {
		_, asked := r.before[id]
		if q := f.Quantities[id]; (asked || role == faulttree.Qualified) && !q.OfMeter() {
			r.ids = append(r.ids, id)
			if asked && q.Unit != faulttree.Ohms && q.Has(faulttree.Unplugged) {
				r.checks = append(r.checks, id)
			}
		}
	}
	r.covers = r.always()
	return r
}

// always is what has a danger limit and is read, in every tree, before most live
// contacts of the supply: metal that is touched on the way.
func (r *Rules) always() []string {
	times, live := map[string]int{}, 0
	for id := range r.before {
		if !r.live(id) || r.forest.Quantities[id].Exposure != faulttree.AtSupply {
			continue
		}
		live++
		for _, first := range r.before[id] {
			if r.live(first) && r.limited(first) {
				times[first]++
			}
		}
	}
	var out []string
	for id, n := range times {
		if 2*n > live {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

func (r *Rules) limited(id string) bool { _, ok := r.limits[id]; return ok }

// live reports whether a quantity is a live contact other than the proof of the
// meter.
func (r *Rules) live(id string) bool { return touchesLive(r.forest.Quantities[id]) }

func touchesLive(q faulttree.Quantity) bool { return q.Exposure.Live() && !q.OfMeter() }

// gate is a quantity that must have been read before another.
type gate struct {
	id  string
	why reason
}

// reason is why a quantity comes before another, and so what opens the gate.
type reason uint8

const (
	touched  reason = iota // metal that is touched on the way: read, or there is none
	deadPins               // volts that prove pins dead: below their danger limit
	proof                  // the spike, tried on a live contact: a voltage that can hurt
)

// opens reports whether a reading of a gate opens it.
func (r *Rules) opens(g gate, reading faulttree.Reading, m faulttree.Meter) bool {
	if reading.Quality == faulttree.NotPossible {
		return g.why == touched
	}
	switch g.why {
	case deadPins:
		return !r.stops(r.forest.Quantities[g.id], reading, m)
	case proof:
		return reading.Numeric() && reading.Low >= r.forest.Touch.From
	}
	return true
}

// gates lists what must be read before q: pins in volts before ohms, what is
// touched on the way to a live contact before it, and the spike tried before
// anything is read to it on the vehicle. What the facts rule out is left out.
func (r *Rules) gates(q faulttree.Quantity, known faulttree.Known) []gate {
	first, asked := r.before[q.ID]
	if !asked {
		first = append(slices.Clone(r.covers), r.checksOf(q)...)
	}
	var out []gate
	for _, id := range first {
		p := r.forest.Quantities[id]
		switch {
		case !met(p.Needs, known) || p.OfMeter():
		case q.Unit == faulttree.Ohms && p.Unit != faulttree.Ohms && p.Has(faulttree.Unplugged):
			out = append(out, gate{id, deadPins})
		case touchesLive(q) && touchesLive(p) && r.limited(id):
			out = append(out, gate{id, touched})
		}
	}
	if spike := r.forest.Quantities.Proving(faulttree.ProvesSpike); spike.ID != "" && spike.ID != q.ID && touchesLive(q) && !q.OffVehicle && q.Black == spike.Black {
		out = append(out, gate{spike.ID, proof})
	}
	return out
}

// met reports whether what is needed is known to be so.
func met(n faulttree.Needs, known faulttree.Known) bool {
	for fact, choices := range n {
		if !slices.Contains(choices, known(fact)) {
			return false
		}
	}
	return true
}

// checksOf lists the volts that prove dead the contacts on which q is read in
// ohms, where no tree says it: those that trees ask on the same plug, else the same
// pair in volts, else those at its red point.
func (r *Rules) checksOf(q faulttree.Quantity) []string {
	if q.Unit != faulttree.Ohms || !q.Has(faulttree.Unplugged) {
		return nil
	}
	var out []string
	for _, id := range r.checks {
		p := r.forest.Quantities[id]
		if slices.ContainsFunc([]string{q.Red, q.Black}, func(point string) bool { return point == p.Red || neighbours(point, p.Red) }) {
			out = append(out, id)
		}
	}
	if volts := strings.TrimPrefix(q.ID, "ohm:"); len(out) == 0 && r.forest.Quantities[volts].ID == volts {
		return []string{volts}
	}
	if len(out) > 0 {
		return out
	}
	for _, id := range r.forest.Quantities.IDs() {
		if p := r.forest.Quantities[id]; p.Unit == faulttree.VoltsAC && p.Has(faulttree.Unplugged) && (p.Red == q.Red || p.Black == q.Red) {
			out = append(out, id)
		}
	}
	return out
}

// stops reports whether a reading may have reached the danger limit of any tree.
func (r *Rules) stops(q faulttree.Quantity, reading faulttree.Reading, m faulttree.Meter) bool {
	limit, ok := r.limits[q.ID]
	return ok && m.MayHurt(reading, q, limit)
}

// afterStop reports whether q may still be proposed after a STOP: to an owner
// nothing live.
func (r *Rules) afterStop(q faulttree.Quantity) bool {
	return q.AllowedAfterStop() && (r.role == faulttree.Qualified || !touchesLive(q))
}
