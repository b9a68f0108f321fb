package vehicle

import (
	"fmt"
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Seen is how likely each choice of an observation is to be made before the
// vehicle, which has these faults (their ids): see
// [faulttree.Observation.Chances]. It is nil where the vehicle tells nothing:
// its facts rule the question out, its rig lacks a part that the question is
// about, or has nothing that the choices ask about.
func (w Walker) Seen(o *faulttree.Observation, faults []string) ([]float64, error) {
	if !TellsOf(o, w.Vehicle.Rig()) {
		return nil, nil
	}
	return w.SeenOf(o, o.Conditions(), faults)
}

// SeenOf is [Walker.Seen] for who asks of many vehicles, has the conditions at hand, and
// knows that these vehicles tell of the observation.
func (w Walker) SeenOf(o *faulttree.Observation, conditions []faulttree.Choice, faults []string) ([]float64, error) {
	var failed error
	chances := o.ChancesOf(conditions, w.observed(&failed), faults)
	return chances, failed
}

// TellsOf reports whether an observation can be made of the vehicles of a rig: by its
// facts, the parts that it asks for, and what its choices are about.
func TellsOf(o *faulttree.Observation, r *rig.Rig) bool {
	lacks := func(part string) bool { return len(r.Named(part)) == 0 }
	return !o.Needs.Unmet(func(id string) string { return r.Facts[id] }) && !slices.ContainsFunc(o.Parts, lacks) && asksOf(r, o.Conditions())
}

// asksOf reports whether a rig has a part, or points of a quantity, that some
// conditions ask about, or there are no conditions.
func asksOf(r *rig.Rig, conditions []faulttree.Choice) bool {
	part := func(name string) bool { return len(r.Named(name)) > 0 }
	return len(conditions) == 0 || slices.ContainsFunc(conditions, func(c faulttree.Choice) bool {
		return slices.ContainsFunc(c.Opened, part) || slices.ContainsFunc(c.Hot, part) ||
			slices.ContainsFunc(c.When, func(w faulttree.When) bool {
				return r.HasNode(w.Quantity.Red) && (w.Quantity.Black == "" || r.HasNode(w.Quantity.Black))
			})
	})
}

// Try is an intervention as it is tried on vehicles of one rig, one after the
// other. Make it with [NewTry]. It is for one goroutine.
type Try struct {
	from    *rig.Rig
	renews  []string
	after   *Vehicle          // of from, or of the rig that the vehicle is one of then
	taking  map[string]Taking // of after, by quantity
	renewed map[variant]variant
}

// variant is one way in which one fault is made.
type variant struct {
	fault *rig.Fault
	index int
}

// NewTry tries an intervention on vehicles of a rig. Rigs are all of the
// handbook: one of them is what the vehicle becomes where other facts hold. It
// is nil where it cannot be tried on vehicles of the rig, or changes nothing of
// them.
func NewTry(i *faulttree.Intervention, from *rig.Rig, rigs []*rig.Rig) (*Try, error) {
	return NewTryOn(i, from, rigs, New)
}

// NewTryOn is [NewTry] for who has a bench already for every rig.
func NewTryOn(i *faulttree.Intervention, from *rig.Rig, rigs []*rig.Rig, bench func(*rig.Rig) (*Vehicle, error)) (*Try, error) {
	fact := func(id string) string { return from.Facts[id] }
	to := from
	if len(i.Facts) > 0 {
		to = withFacts(from, i.Facts, rigs)
	}
	if to == nil || i.Needs.Unmet(fact) || to == from && !touches(i, from) {
		return nil, nil
	}
	after, err := bench(to)
	if err != nil {
		return nil, fmt.Errorf("the intervention %s: %w", i.ID, err)
	}
	after.Hold(i.Off, i.On, i.Unloaded)
	return &Try{from: from, renews: i.Renews, after: after, taking: map[string]Taking{}, renewed: map[variant]variant{}}, nil
}

// withFacts is the first rig, by id, of which these facts hold and all others of
// from; nil if there is none, or nothing changes.
func withFacts(from *rig.Rig, facts map[string]string, rigs []*rig.Rig) *rig.Rig {
	want := maps.Clone(from.Facts)
	if want == nil {
		want = map[string]string{}
	}
	maps.Copy(want, facts)
	if maps.Equal(want, from.Facts) {
		return nil
	}
	var found *rig.Rig
	for _, r := range rigs {
		if maps.Equal(r.Facts, want) && (found == nil || r.ID < found.ID) {
			found = r
		}
	}
	return found
}

// touches reports whether the intervention changes something that a rig has.
func touches(i *faulttree.Intervention, r *rig.Rig) bool {
	if i.Unloaded && len(r.Legs()) > 0 || slices.ContainsFunc(r.Switches, func(s rig.Switch) bool {
		return slices.Contains(i.Off, s.Name) || slices.Contains(i.On, s.Name)
	}) {
		return true
	}
	return slices.ContainsFunc(r.Parts, func(p rig.Part) bool {
		return slices.ContainsFunc(p.Names(), func(name string) bool { return slices.Contains(i.Renews, name) })
	})
}

// Gone reports whether what a reader of a tree complains about is gone after the
// intervention: of the conditions of its complaint none that the vehicle of w, of
// this setup, had is left. A complaint of another kind that comes of it is
// another matter. Had is false where it has no complaint, or the tree has none.
func (t *Try) Gone(w Walker, s rig.Setup, tree *faulttree.Tree) (gone, had bool, err error) {
	before, err := w.Has(tree)
	if err != nil || len(before) == 0 {
		return false, false, err
	}
	if err := t.after.Put(t.left(s)); err != nil {
		return false, false, err
	}
	after, err := Walker{Value: t.taken, Vehicle: t.after}.Has(tree)
	return !slices.ContainsFunc(after, func(i int) bool { return slices.Contains(before, i) }), true, err
}

// Has lists, by index, which conditions of the complaint of a tree the vehicle has.
func (w Walker) Has(tree *faulttree.Tree) ([]int, error) {
	var failed error
	has := tree.Has(w.observed(&failed))
	return has, failed
}

// taken is [Vehicle.Taken] of the vehicle after the intervention.
func (t *Try) taken(q faulttree.Quantity) (value float64, ok bool, err error) {
	how, known := t.taking[q.ID]
	if !known {
		how = t.after.Taking(q)
		t.taking[q.ID] = how
	}
	return how.Value()
}

// left is what is left of a setup.
func (t *Try) left(s rig.Setup) rig.Setup {
	to, out := t.after.Rig(), s
	if to != t.from {
		out = to.Like(s, t.from)
	}
	out.Faults = nil
	for _, a := range s.Faults {
		one := variant{a.Fault, a.Variant}
		r, known := t.renewed[one]
		if !known {
			r.fault, r.index = a.Fault.Renewed(a.Variant, t.from, t.renews, to)
			t.renewed[one] = r
		}
		if r.fault != nil {
			out.Faults = append(out.Faults, rig.Applied{Fault: r.fault, Variant: r.index, Severity: a.Severity})
		}
	}
	return out
}
