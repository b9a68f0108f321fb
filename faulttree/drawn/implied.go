package drawn

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Implied is a fact of a vehicle that nobody stated, but what was read says.
type Implied struct {
	Fact, Choice string
	// By is the reading that says so by itself, as only vehicles of this choice have
	// the quantity; the zero value where several readings do together.
	By faulttree.Quantity
}

// ImpliedBy lists the facts that some readings imply beside the facts that are
// known, by their ids: every rig of a system that has all that was read in it states
// this choice, and one that is otherwise alike states another and does not have it. A
// second hot implies a 50 A service. Readings that no one rig has together, and
// those of two systems that say otherwise, imply nothing.
func ImpliedBy(h Handbook, known map[string]string, read []faulttree.Quantity) []Implied {
	var out []Implied
	refuted := map[string]bool{}
	for _, of := range bySystem(Agreeing(h, known)) {
		for _, one := range impliedIn(of, h.Rigs, known, read) {
			i := slices.IndexFunc(out, func(o Implied) bool { return o.Fact == one.Fact })
			if i < 0 {
				out = append(out, one)
			} else if out[i].Choice != one.Choice {
				refuted[one.Fact] = true
			}
		}
	}
	out = slices.DeleteFunc(out, func(i Implied) bool { return refuted[i.Fact] })
	slices.SortFunc(out, func(a, b Implied) int { return cmp.Compare(a.Fact, b.Fact) })
	return out
}

// bySystem parts rigs by their system.
func bySystem(rigs []*rig.Rig) map[string][]*rig.Rig {
	out := map[string][]*rig.Rig{}
	for _, r := range rigs {
		out[system(r)] = append(out[system(r)], r)
	}
	return out
}

// impliedIn is what readings imply by the rigs of one system.
func impliedIn(rigs, all []*rig.Rig, known map[string]string, read []faulttree.Quantity) []Implied {
	var about []faulttree.Quantity // what was read in this system
	for _, q := range read {
		if slices.ContainsFunc(rigs, func(r *rig.Rig) bool { return hasIn(r, all, q) }) {
			about = append(about, q)
		}
	}
	var have, lack []*rig.Rig
	for _, r := range rigs {
		if slices.ContainsFunc(about, func(q faulttree.Quantity) bool { return !hasIn(r, all, q) }) {
			lack = append(lack, r)
		} else {
			have = append(have, r)
		}
	}
	if len(have) == 0 {
		return nil
	}
	var out []Implied
	for fact, choice := range have[0].Facts {
		differs := func(r *rig.Rig) bool { return r.Facts[fact] != choice }
		told := slices.ContainsFunc(lack, func(r *rig.Rig) bool {
			return differs(r) && slices.ContainsFunc(have, func(h *rig.Rig) bool { return alikeBut(fact, r, h) })
		})
		if known[fact] != "" || slices.ContainsFunc(have, differs) || !told {
			continue
		}
		one := Implied{Fact: fact, Choice: choice}
		for _, q := range about {
			if !slices.ContainsFunc(lack, func(r *rig.Rig) bool { return differs(r) && hasIn(r, all, q) }) {
				one.By = q
				break
			}
		}
		out = append(out, one)
	}
	return out
}

// Reads reports whether something can be read in vehicles of a rig of a handbook.
func Reads(h Handbook, r *rig.Rig, q faulttree.Quantity) bool { return hasIn(r, h.Rigs, q) }

// hasIn reports whether something can be read in vehicles of a rig, as far as the
// handbook asks it of them.
func hasIn(r *rig.Rig, all []*rig.Rig, q faulttree.Quantity) bool {
	fact := func(id string) string { return r.Facts[id] }
	return !q.OfMeter() && r.HasNode(q.Red) && (q.Black == "" || r.HasNode(q.Black)) && !q.Needs.Unmet(fact) && !foreign(r, all, q)
}

// alikeBut reports whether two rigs state the same but for one fact.
func alikeBut(fact string, a, b *rig.Rig) bool {
	if len(a.Facts) != len(b.Facts) {
		return false
	}
	for f, choice := range a.Facts {
		if f != fact && b.Facts[f] != choice {
			return false
		}
	}
	return true
}
