package trial

import (
	"cmp"
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// Handbook is what a trial draws from.
type Handbook struct {
	Forest *faulttree.Forest
	Rigs   []*rig.Rig
	Faults []*rig.Fault
	// RepairedBy says who repairs a fault in a place, "" where nobody says it;
	// nil says it of none.
	RepairedBy func(fault string, place faulttree.Place) string
}

// NoFault is the name under which reports count healthy rigs.
const NoFault = "no-fault"

// stratum is the draws of one fault in one way in one rig.
type stratum struct {
	rig      *rig.Rig
	fault    int // index into plan.faults; -1 for a healthy rig
	variant  int
	group    int // what is wrong: 0 for nothing, else index into plan.groups and one more
	from, to int // numbers of the draws, half open
}

// faultGroup is what is wrong with some vehicles: one fault, or one with others
// that come along with it.
type faultGroup []int // indices into plan.faults

// plan says which draw is what. The draws within the tree's scope come first.
type plan struct {
	tree     *faulttree.Tree
	rigs     []*rig.Rig   // before which a reader of the tree may stand, sorted by id
	faults   []*rig.Fault // sorted by id
	groups   []faultGroup
	strata   []stratum
	inside   int // draws within the scope, the healthy ones included
	total    int
	possible []bool // by fault: it can happen within the scope in a rig of this tree
	picked   []int  // by number of a draw: under which it was made for the plan that this one is picked from; nil for all
}

// chance is the number that a draw is made from.
func (p *plan) chance(number int) uint64 {
	if p.picked != nil {
		number = p.picked[number]
	}
	return uint64(number)
}

// pick is the plan with these draws of p alone, and of those within the scope.
func (p *plan) pick(numbers []int) *plan {
	out := *p
	out.strata, out.total, out.picked = nil, 0, make([]int, 0, len(numbers))
	of := map[int][]int{}
	for _, n := range numbers {
		i := p.indexOf(n % p.total)
		of[i] = append(of[i], n)
	}
	for i, s := range p.strata {
		if len(of[i]) > 0 {
			out.addDraws([]stratum{s}, len(of[i]))
			for _, n := range of[i] {
				out.picked = append(out.picked, int(p.chance(n)))
			}
		}
	}
	out.inside = out.total
	return &out
}

// within reports whether a variant lies in the scope of a tree. The meter is
// in the scope of every tree.
func within(t *faulttree.Tree, p faulttree.Place) bool {
	return p == faulttree.MeterOwn || slices.Contains(t.Scope, p)
}

// minDangerousDraws is how many draws a dangerous fault gets where there are
// enough.
const minDangerousDraws = 3000

// makePlan shares n draws among the faults that are possible within the scope,
// and up to a fifth more among those outside.
func makePlan(h Handbook, t *faulttree.Tree, n int) (*plan, error) {
	p := &plan{tree: t, faults: slices.Clone(h.Faults)}
	slices.SortFunc(p.faults, func(a, b *rig.Fault) int { return cmp.Compare(a.ID, b.ID) })
	p.possible = make([]bool, len(p.faults))
	var rigs []*rig.Rig
	for _, r := range h.Rigs {
		if !slices.Contains(r.Trees, t.ID) {
			continue
		}
		if facts := h.Forest.Unstated(t.ID, r.Facts); len(facts) > 0 {
			return nil, fmt.Errorf("the rig %s does not state the fact %s, which the tree %s asks", r.ID, facts[0], t.ID)
		}
		rigs = append(rigs, r)
	}
	slices.SortFunc(rigs, func(a, b *rig.Rig) int { return cmp.Compare(a.ID, b.ID) })
	if len(rigs) == 0 {
		return nil, fmt.Errorf("no rig says that a reader of the tree %s may stand before it", t.ID)
	}
	p.rigs = rigs
	in, out := make([][]stratum, len(p.faults)), make([][]stratum, len(p.faults))
	var healthy []stratum
	for _, r := range rigs {
		healthy = append(healthy, stratum{rig: r, fault: -1})
		for i, f := range p.faults {
			for v := range f.Variants {
				if !f.Variants[v].FitsIn(r) {
					continue
				}
				s := stratum{rig: r, fault: i, variant: v, group: p.groupOf(i, f.Variants[v].With)}
				if within(t, f.Variants[v].Place) {
					in[i], p.possible[i] = append(in[i], s), true
				} else {
					out[i] = append(out[i], s)
				}
			}
		}
	}
	counts, sound := p.allocate(in, n)
	p.addDraws(healthy, sound)
	for i, strata := range in {
		p.addDraws(strata, counts[i])
	}
	p.inside = p.total
	possible := lists.Sum(out, func(strata []stratum) int { return min(len(strata), 1) })
	for _, strata := range out {
		p.addDraws(strata, n/5/max(possible, 1))
	}
	return p, nil
}

// groupOf is the number of a group, which is new if nothing like it was met.
func (p *plan) groupOf(fault int, with []string) int {
	k := faultGroup{fault}
	for _, id := range with {
		i, found := slices.BinarySearchFunc(p.faults, id, func(f *rig.Fault, id string) int { return cmp.Compare(f.ID, id) })
		if found && !slices.Contains(k, i) {
			k = append(k, i)
		}
	}
	at := slices.IndexFunc(p.groups, func(o faultGroup) bool { return slices.Equal(o, k) })
	if at < 0 {
		at, p.groups = len(p.groups), append(p.groups, k)
	}
	return at + 1
}

// allocate says how many draws each fault gets, and how many are healthy. Half
// of all is shared evenly, up to the guarantee; then the dangerous faults are
// filled up to it as far as there are draws; the rest goes by weight.
func (p *plan) allocate(in [][]stratum, n int) (counts []int, sound int) {
	counts = make([]int, len(p.faults))
	possible, grave, weight := 1, 0, 0.0
	for i, strata := range in {
		if len(strata) > 0 {
			possible++
			weight += max(p.faults[i].Weight, 0)
			if p.faults[i].Hazard == faulttree.Danger {
				grave++
			}
		}
	}
	base := max(1, min(minDangerousDraws, n/2/possible))
	left := n - base*possible
	sound = base + max(left, 0)/10
	left -= max(left, 0) / 10
	more := min(minDangerousDraws-base, max(left, 0)/max(grave, 1))
	for i, strata := range in {
		if len(strata) == 0 {
			continue
		}
		counts[i] = base
		if p.faults[i].Hazard == faulttree.Danger {
			counts[i] += more
			left -= more
		}
	}
	if left <= 0 || weight == 0 {
		return counts, sound + max(left, 0)
	}
	spare := left
	for i, strata := range in {
		if len(strata) > 0 {
			part := int(float64(left) * max(p.faults[i].Weight, 0) / weight)
			counts[i] += part
			spare -= part
		}
	}
	return counts, sound + spare
}

// addDraws appends n draws, shared evenly among strata.
func (p *plan) addDraws(strata []stratum, n int) {
	for i, s := range strata {
		part := (i+1)*n/len(strata) - i*n/len(strata)
		if part == 0 {
			continue
		}
		s.from, s.to = p.total, p.total+part
		p.total += part
		p.strata = append(p.strata, s)
	}
}

// stratumOf is the stratum of a draw.
func (p *plan) stratumOf(number int) (stratum, bool) {
	i := p.indexOf(number)
	if i >= len(p.strata) || number < p.strata[i].from {
		return stratum{}, false
	}
	return p.strata[i], true
}

// indexOf is where in strata the draw's one stands, if any does.
func (p *plan) indexOf(number int) int {
	i, _ := slices.BinarySearchFunc(p.strata, number, func(s stratum, n int) int {
		switch {
		case s.to <= n:
			return -1
		case s.from > n:
			return 1
		}
		return 0
	})
	return i
}

// id is the name of a fault in reports.
func (p *plan) id(fault int) string {
	if fault < 0 {
		return NoFault
	}
	return p.faults[fault].ID
}
