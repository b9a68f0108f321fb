package scenes

import (
	"cmp"
	"context"
	"slices"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// EnoughToConclude is the share of a belief that one thing to be done has to hold
// before somebody concludes. Common practice, no source.
const EnoughToConclude = 0.9

// Solved says whether what a scenario permits to find out can solve it.
type Solved struct {
	Readings int                 // how many readings and trials were weighed
	Share    float64             // what the belief gives to what is to be done about the truth
	Else     []string            // what else fits, by its title, the likeliest first
	Rest     []faulttree.FaultAt // the faults of that
	Open     []suspect.Open      // dangers that nothing permitted rules out, other than the truth
}

// Held reports whether the belief holds what is to be done about the truth.
func (s Solved) Held() bool { return s.Share >= EnoughToConclude }

// Solve weighs what a scenario permits to find out, by its switches and its role,
// with a meter that is used as it should be, as far as somebody with care may come:
// first the readings that trees ask, and what may be tried, then every other that can be
// taken, where those do not do.
func (r *Reasoning) Solve(ctx context.Context, s *content.Scenario) (Solved, error) {
	c := CaseOf(r.lib, s)
	tried, err := r.trials(c, s)
	if err != nil {
		return Solved{}, err
	}
	var best Solved
	for i, qs := range Permitted(r.lib, s) {
		now, err := r.withCare(ctx, s, qs, tried)
		if err != nil {
			return Solved{}, err
		}
		if i == 0 || now.Share > best.Share {
			best = now
		}
		if best.Held() || len(Hidden(r.lib, s)) == 0 { // nothing clears a vehicle in order, however much is read
			break
		}
	}
	return best, nil
}

// solveSoon is [Reasoning.Solve], or what the readings of the scenario's own tree alone
// say where they solve it: a learner waits for it, and most is spent on all others.
func (r *Reasoning) solveSoon(ctx context.Context, s *content.Scenario) (Solved, error) {
	tree := r.lib.Forest.Tree(s.Tree)
	if tree == nil || len(Hidden(r.lib, s)) == 0 {
		return r.Solve(ctx, s)
	}
	own := slices.DeleteFunc(Permitted(r.lib, s)[0], func(q faulttree.Quantity) bool {
		return !slices.ContainsFunc(tree.Steps, func(step *faulttree.Step) bool { return step.Measures(q.ID) >= 0 })
	})
	if solved, err := r.withCare(ctx, s, own, nil); err != nil || solved.Held() {
		return solved, err
	}
	return r.Solve(ctx, s)
}

// withCare weighs what somebody with care comes to find out of some quantities, and of what
// may be tried: of what is permitted by all that was read before (see
// [suspect.Belief.Permitted]) the least exposed first, until the truth is held or nothing is
// left that may be taken.
func (r *Reasoning) withCare(ctx context.Context, s *content.Scenario, qs []faulttree.Quantity, tried []suspect.Evidence) (Solved, error) {
	read, err := r.readAll(s, qs)
	if err != nil {
		return Solved{}, err
	}
	a := view.Account{Tree: s.Tree, Facts: s.Rig.Facts, Evidence: storyOf(s)}
	reader := suspect.Reader{Known: a.Fact, Tree: s.Tree, Tools: suspect.Clamp | suspect.ClampDC | suspect.LowImpedance}
	for {
		b, err := r.Belief(ctx, a)
		if err != nil {
			return Solved{}, err
		}
		now := solvedBy(r.lib, s, b)
		if now.Held() && len(Hidden(r.lib, s)) > 0 {
			return now, nil
		}
		may, err := b.Permitted(ctx, r.rules[s.Role], reader, lists.Each(read, func(e suspect.Evidence) faulttree.Quantity { return e.Quantity })...)
		switch {
		case err != nil:
			return Solved{}, err
		case len(may) > 0:
			least := slices.MinFunc(may, func(p, q faulttree.Quantity) int { return cmp.Compare(p.Exposure, q.Exposure) }).Exposure
			take := func(e suspect.Evidence) bool {
				return e.Quantity.Exposure == least && slices.ContainsFunc(may, func(q faulttree.Quantity) bool { return q.ID == e.Quantity.ID })
			}
			a.Evidence = slices.Concat(a.Evidence, lists.Where(read, take))
			read = slices.DeleteFunc(read, take)
		case len(tried) > 0 && b.Energises(r.rules[s.Role], reader):
			a.Evidence, tried = slices.Concat(a.Evidence, tried), nil
		default:
			return now, nil
		}
	}
}

// storyOf is what the story of a scenario says was seen.
func storyOf(s *content.Scenario) []suspect.Evidence {
	return lists.Each(s.Seen, func(x suspect.Seen) suspect.Evidence { return suspect.Evidence{Seen: &x, Told: true} })
}

// solvedBy is what a belief says of the truth.
func solvedBy(lib *content.Library, s *content.Scenario, b *suspect.Belief) Solved {
	out := Solved{Readings: len(b.Evidence())}
	truth := Hidden(lib, s)
	own, system := tasksOf(lib, truth), ""
	broken := func(faults ...faulttree.FaultAt) []faulttree.FaultAt { return s.Rig.Broken(faults, truth) }
	for _, c := range b.Cases() {
		if c.Rig == s.Rig.ID {
			system = c.System
			break
		}
	}
	for _, x := range b.Brief() {
		parts := lists.Each(x.Parts, func(p suspect.Part) faulttree.FaultAt { return p.At })
		switch {
		case x.System != system && x.System != "":
		case slices.Equal(tasksOf(lib, broken(parts...)), own):
			out.Share += x.Share
		case x.Share >= worthTelling:
			out.Else = lists.With(out.Else, x.Title)
			for _, p := range x.Parts {
				if p.Share >= worthTelling {
					out.Rest = append(out.Rest, p.At)
				}
			}
		}
	}
	for _, o := range b.Open() {
		at := faulttree.FaultAt{Fault: o.Fault, Place: o.Place}
		if o.System == system && !slices.Contains(truth, at) && len(broken(at)) > 0 {
			out.Open = append(out.Open, o)
		}
	}
	return out
}

// worthTelling is the share from which something else that fits is told.
const worthTelling = 0.02

// Hidden is what is wrong with the vehicle of a scenario, and where; none for a
// sound one. What a fault brings along is among it, mistakes of the meter are not.
func Hidden(lib *content.Library, s *content.Scenario) []faulttree.FaultAt {
	var out []faulttree.FaultAt
	add := func(at faulttree.FaultAt) {
		out = lists.With(out, at)
	}
	for _, a := range s.Faults {
		v := a.Fault.Variants[a.Variant]
		if v.Shows() {
			add(faulttree.FaultAt{Fault: a.Fault.ID, Place: v.Place})
		}
		for _, id := range v.With {
			if f := lib.Faults[id]; f != nil && f.Edits != nil {
				add(faulttree.FaultAt{Fault: id, Place: f.Edits.Along(v)})
			}
		}
	}
	return out
}

// tasksOf is what is to be done about some faults: where, and by whom.
func tasksOf(lib *content.Library, faults []faulttree.FaultAt) []string {
	var out []string
	describe := Described(lib)
	for _, f := range faults {
		out = append(out, string(f.Place)+" "+describe(f.Fault, f.Place).RepairBy)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// readAll takes readings of the vehicle of a scenario, or finds that they cannot be taken.
func (r *Reasoning) readAll(s *content.Scenario, qs []faulttree.Quantity) ([]suspect.Evidence, error) {
	v, err := standing(s)
	if err != nil {
		return nil, err
	}
	m := meter.New(meter.NewFace(r.meter), nil)
	read := func(a vehicle.Asked, q faulttree.Quantity) (faulttree.Reading, error) {
		shown, err := m.Read(a, q)
		return shown.Reading, err
	}
	var out []suspect.Evidence
	for _, q := range qs {
		reading, err := v.Typed(q, read)
		if err != nil {
			return nil, err
		}
		out = append(out, suspect.Evidence{Quantity: q, Reading: reading})
	}
	return out, nil
}

// standing is the vehicle of a scenario on a bench.
func standing(s *content.Scenario) (*vehicle.Vehicle, error) {
	v, err := vehicle.New(s.Rig)
	if err != nil {
		return nil, err
	}
	return v, v.Put(s.Setup())
}

// trials tries what may be tried: nothing where the scenario is for an owner, or
// where what its tree is about does not show.
func (r *Reasoning) trials(c practice.Case, s *content.Scenario) ([]suspect.Evidence, error) {
	tree := r.lib.Forest.Tree(s.Tree)
	if tree == nil || s.Role != faulttree.Qualified {
		return nil, nil
	}
	v, err := standing(s)
	if err != nil {
		return nil, err
	}
	var out []suspect.Evidence
	for _, i := range c.Tries {
		try, err := vehicle.NewTry(&i, s.Rig, nil)
		if err != nil {
			return nil, err
		}
		if try == nil {
			continue
		}
		gone, had, err := try.Gone(vehicle.Walker{Vehicle: v, Value: v.Taken}, s.Setup(), tree)
		if err != nil {
			return nil, err
		}
		if had {
			out = append(out, suspect.Evidence{Tried: &suspect.Tried{Intervention: i.ID, Tree: s.Tree, Gone: gone}})
		}
	}
	return out, nil
}

// Permitted lists the quantities of the handbook that can be read in a scenario, for
// its vehicle has them and they ask for no switch that may not be thrown: first those
// that a tree asks of its role, then, except for an owner, all.
func Permitted(lib *content.Library, s *content.Scenario) [][]faulttree.Quantity {
	asked := lib.Forest.Before(s.Role)
	fact := func(id string) string { return s.Rig.Facts[id] }
	var ofTrees, all []faulttree.Quantity
	for _, id := range lib.Forest.Quantities.IDs() {
		q := lib.Forest.Quantities[id]
		if q.OfMeter() || q.Needs.Unmet(fact) || !onRig(s.Rig, q.Red) || q.Black != "" && !onRig(s.Rig, q.Black) || !mayStand(s, q) {
			continue
		}
		all = append(all, q)
		if _, is := asked[id]; is {
			ofTrees = append(ofTrees, q)
		}
	}
	if s.Role != faulttree.Qualified {
		return [][]faulttree.Quantity{ofTrees}
	}
	return [][]faulttree.Quantity{ofTrees, all}
}

// onRig reports whether a rig has a point.
func onRig(r *rig.Rig, point string) bool { return point != "0" && r.HasNode(point) }

// mayStand reports whether the vehicle can be brought into the state in which a
// quantity is read, by the switches that may be thrown.
func mayStand(s *content.Scenario, q faulttree.Quantity) bool {
	for _, rule := range s.Rig.States {
		if !rule.Fits(q) {
			continue
		}
		for _, x := range s.Rig.Switches {
			throws := !x.Off && slices.Contains(rule.Off, x.Name) || x.Off && slices.Contains(rule.On, x.Name)
			if throws && !slices.Contains(s.May, x.Name) {
				return false
			}
		}
	}
	return true
}
