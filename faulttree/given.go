package faulttree

import (
	"cmp"
	"iter"
	"maps"
	"slices"
	"strings"
)

// Beside is the walk with figures given beside it, by quantity: what a sheet of
// readings holds, asked for or not. They answer nothing by themselves; what of
// them may hurt is told by [Walk.Reached].
func (w Walk) Beside(given map[string][]Reading) Walk {
	if len(given) == 0 {
		return w
	}
	all := map[string][]Reading{}
	maps.Copy(all, w.given)
	for id, readings := range given {
		for _, r := range readings {
			if !slices.ContainsFunc(all[id], r.Same) {
				all[id] = append(slices.Clip(all[id]), r)
			}
		}
	}
	w.given = all
	return w
}

// Reached is a figure given beside a walk that may have reached a danger limit, or
// forbids the plug, and that no step of the walk has taken.
type Reached struct {
	Quantity Quantity
	Reading  Reading
	Tree     string // whose limit it is: the tree the walk is in, or another where that one declares none
	Limit    Amount
	Low      bool // it is below the limit: nothing is plugged in while the supply reads so
	High     bool // it is above the limit: nor while it reads so
}

// ForNow reports whether the figure forbids the plug only while the supply reads so.
func (r Reached) ForNow() bool { return r.Low || r.High }

// String words it: "Body to earth, 58 V, reaches the danger limit of 30 V".
func (r Reached) String() string {
	if r.Reading.Quality == OverRange {
		return r.Quantity.Title + ", OL, " + r.Says()
	}
	return r.Quantity.Title + ", " + r.Reading.Show(r.Quantity.Unit) + ", " + r.Says()
}

// Says is what the figure does with its limit: it reaches it, or may have, where it
// shows less and the error of the meter covers that; or it is too low or too high.
func (r Reached) Says() string {
	limit := "the danger limit of " + r.Limit.With(r.Quantity.Unit)
	switch {
	case r.Low:
		return "is below " + r.Limit.With(r.Quantity.Unit) + ", too little to plug in"
	case r.High:
		return "is above " + r.Limit.With(r.Quantity.Unit) + ", too much to plug in"
	case r.Reading.Quality == OverRange:
		return "counts as above " + limit
	case r.Reading.Low.Abs() < r.Limit && r.Reading.High.Abs() < r.Limit:
		return "may have reached " + limit
	}
	return "reaches " + limit
}

// Reached lists such figures: those by the limits of the tree the walk is in
// first, in the order in which they count.
func (w Walk) Reached() []Reached {
	if w.forest == nil {
		return nil
	}
	var out []Reached
	here := w.forest.Trees[w.at.Tree]
	ids := slices.Sorted(maps.Keys(w.given))
	if here != nil {
		order := here.Dangers()
		slices.SortStableFunc(ids, func(a, b string) int {
			return cmp.Compare(uint(slices.Index(order, a)), uint(slices.Index(order, b))) // -1, not declared, comes last
		})
	}
	for _, id := range ids {
		q, known := w.forest.Quantities[id]
		for i, r := range w.given[id] {
			x, warns := w.Reaches(q, r)
			switch {
			case !known || !warns || w.took(id, r):
			case x.ForNow() && (slices.ContainsFunc(w.given[id][i+1:], Reading.Numeric) || w.reads(id)): // it was read anew
			default:
				out = append(out, x)
			}
		}
	}
	return out
}

// Untaken yields the figures given beside the walk that no step of it has taken,
// by quantity.
func (w Walk) Untaken() iter.Seq2[Quantity, Reading] {
	return func(yield func(Quantity, Reading) bool) {
		for _, id := range slices.Sorted(maps.Keys(w.given)) {
			for _, r := range w.given[id] {
				if q, known := w.forest.Quantities[id]; known && !w.took(id, r) && !yield(q, r) {
					return
				}
			}
		}
	}
}

// Judged lists the readings that steps of the walk have taken and that may have
// reached the danger limit of the step's tree.
func (w Walk) Judged() []Reached {
	var out []Reached
	for _, e := range w.trail {
		s, t := w.Asked(e.Step), w.forest.Trees[e.Step.Tree]
		if s == nil || t == nil {
			continue
		}
		for q, r := range s.Readings(e.Answer) {
			if limit, declared := t.DangerLimit(q.ID); declared && w.meter.MayHurt(r, q, limit) {
				out = append(out, Reached{Quantity: q, Reading: r, Tree: t.ID, Limit: limit})
			}
		}
	}
	return out
}

// Reaches reports which danger limit a reading may have reached: that of the tree
// the walk is in where it declares one for the quantity, else the lowest of any
// other; or from which limit on nothing is plugged in, or below or above which.
func (w Walk) Reaches(q Quantity, r Reading) (x Reached, hurts bool) {
	if here := w.forest.Trees[w.at.Tree]; here != nil {
		if limit, declared := here.DangerLimit(q.ID); declared {
			return Reached{Quantity: q, Reading: r, Tree: here.ID, Limit: limit}, w.meter.MayHurt(r, q, limit)
		}
	}
	return w.forest.Warns(w.meter, q, r)
}

// Reaches reports which danger limit of any tree a reading may have reached: the
// lowest.
func (f *Forest) Reaches(m Meter, q Quantity, r Reading) (x Reached, hurts bool) {
	for _, id := range f.IDs() {
		limit, declared := f.Trees[id].DangerLimit(q.ID)
		if declared && m.MayHurt(r, q, limit) && (!hurts || limit < x.Limit) {
			x, hurts = Reached{Quantity: q, Reading: r, Tree: id, Limit: limit}, true
		}
	}
	return x, hurts
}

// took reports whether a step of the walk has taken this reading of a quantity.
func (w Walk) took(quantity string, r Reading) bool {
	return w.taken(quantity, r.Same)
}

// reads reports whether a step of the walk has taken a figure of a quantity.
func (w Walk) reads(quantity string) bool { return w.taken(quantity, Reading.Numeric) }

// taken reports whether a step of the walk has taken a reading of a quantity of which
// something holds.
func (w Walk) taken(quantity string, holds func(Reading) bool) bool {
	for _, e := range w.trail {
		s := w.Asked(e.Step)
		if s == nil {
			continue
		}
		for q, r := range s.Readings(e.Answer) {
			if q.ID == quantity && holds(r) {
				return true
			}
		}
	}
	return false
}

// warn puts what was given beside the walk, and hurts or forbids the plug, into its
// result: it is DANGER then, says so in place of anything milder, and clears nothing; where
// another walk judges the figure, that one comes first. What a tree wants done at
// once takes the place of what a milder finding wants done.
func (w Walk) warn(r Result) Result {
	f := &r.Finding
	reached := w.Reached()
	milder := f.Signal < Danger
	if len(reached) > 0 && milder {
		f.Sure = strings.TrimSpace("By the other readings this walk ended at “" + r.Title + "”. " + f.Sure)
		r.Title = "A reading that was given besides can hurt"
		if !slices.ContainsFunc(reached, func(x Reached) bool { return !x.ForNow() }) {
			r.Title = "A reading that was given besides forbids the plug"
		}
	}
	for i := len(reached) - 1; i >= 0; i-- { // so that the gravest stands first
		f.Signal, f.Clears = Danger, nil
		t := w.forest.Trees[reached[i].Tree]
		if s := t.Step(t.AtOnce[reached[i].Quantity.ID]); s != nil {
			if milder {
				f.FirstAction, milder = "", false
			}
			if !strings.HasPrefix(f.FirstAction, s.Title) {
				f.FirstAction = strings.TrimSpace(s.Title + ". " + f.FirstAction)
			}
			f.Sure = strings.TrimSpace(f.Sure + " Given besides: " + reached[i].String() + ".")
		} else if t.ID != w.at.Tree {
			f.FirstAction = strings.TrimSpace("First begin the walk “" + t.Title + "”: " + reached[i].String() + ". " + f.FirstAction)
		} else {
			f.Sure = strings.TrimSpace(f.Sure + " Given besides: " + reached[i].String() + ".")
		}
	}
	return r
}
