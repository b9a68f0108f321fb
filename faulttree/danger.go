package faulttree

import (
	"maps"
	"slices"

	"faultwright/faulttree/lists"
)

// DangerLimit tells the value at and above which a quantity can hurt, if it has
// one.
type DangerLimit func(quantityID string) (Amount, bool)

// DangerLimit is the value at and above which a quantity can hurt.
func (t *Tree) DangerLimit(quantity string) (Amount, bool) {
	name, ok := t.Danger[quantity]
	if !ok {
		return 0, false
	}
	l, ok := t.Limits[name]
	return l.Value, ok
}

// Dangers lists the quantities that have a danger limit, in the order in which
// they count where several readings hurt at once: as declared, any others by id.
func (t *Tree) Dangers() []string {
	out := slices.DeleteFunc(slices.Clone(t.Gravest), func(id string) bool { return t.Danger[id] == "" })
	for _, id := range slices.Sorted(maps.Keys(t.Danger)) {
		out = lists.With(out, id)
	}
	return out
}

// Harmful lists the amounts of q that can hurt at a danger limit: those at or
// above it and, where the unit has a sign, those as far below zero, for a
// direct voltage hurts whichever way round the leads are.
func (q Quantity) Harmful(limit Amount) []Span {
	spans := []Span{{limit, Highest}}
	if q.Unit.Signed() {
		spans = append(spans, Span{Lowest, 1 - limit})
	}
	return spans
}

// Harmless is the amounts of q that are not [Quantity.Harmful].
func (q Quantity) Harmless(limit Amount) Span {
	if q.Unit.Signed() {
		return Span{1 - limit, limit}
	}
	return Span{Lowest, limit}
}

// MayHurt reports whether a reading of q may have reached a danger limit: any
// value it can mean on this meter is harmful, or the meter was over range. A
// reading that was not possible says nothing, and is not reported.
func (m Meter) MayHurt(r Reading, q Quantity, limit Amount) bool {
	return r.Quality == OverRange || r.Numeric() && slices.ContainsFunc(q.Harmful(limit), m.Span(r, q).Overlaps)
}

// counted is what a reading counts as where it is judged.
type counted struct {
	low, high Amount // what the display showed; the same unless it wandered
	hurts     bool   // it may have reached the danger limit of its quantity
	raised    bool   // it did not show that: low and high are the limit instead
}

// counted is the one rule of what a reading counts as, in measure steps, weigh
// steps and charts: what it shows, or the danger limit that it may have reached.
// OL counts as [OverTop]; a reading that was not possible as nothing.
func (m Meter) counted(r Reading, q Quantity, danger DangerLimit) counted {
	c := counted{low: OverTop, high: OverTop}
	if r.Numeric() {
		c.low, c.high = q.Judged(r.Low, r.High)
	}
	limit, limited := danger(q.ID)
	if !limited || !m.MayHurt(r, q, limit) {
		return c
	}
	c.hurts = true
	if harmless := q.Harmless(limit); harmless.Contains(c.low) && harmless.Contains(c.high) {
		if c.high < 0 {
			limit = -limit
		}
		c.low, c.high, c.raised = limit, limit, true
	}
	return c
}
