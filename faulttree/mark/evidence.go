package mark

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// taken is a piece of evidence and the acts that it comes from.
type taken struct {
	suspect.Evidence
	stand *drawn.Stand // how the vehicle stood, where the handbook has no such quantity
	acts  []int
}

// list is the quantities of a handbook that can be read on the rig of a case, and
// how each is taken.
type list struct {
	ids    []string
	taking map[string]vehicle.Taking
	turns  map[string][]turn
	q      faulttree.Quantities
}

// turn is one reading of those that are taken of a quantity.
type turn struct {
	at     faulttree.Quantity // where the probes are
	as     bench.State
	number int // among all turns of a list
}

// newList is the list for a case.
func newList(f *faulttree.Forest, c practice.Case) (*list, error) {
	v, err := vehicle.New(c.Rig)
	if err != nil {
		return nil, err
	}
	l := &list{taking: map[string]vehicle.Taking{}, turns: map[string][]turn{}, q: f.Quantities}
	turns := 0
	for _, id := range f.Quantities.IDs() {
		q := f.Quantities[id]
		if q.OfMeter() || q.Needs.Unmet(v.Fact) || !c.Rig.HasNode(q.Red) || q.Black != "" && !c.Rig.HasNode(q.Black) {
			continue
		}
		l.ids, l.taking[id] = append(l.ids, id), v.Taking(q)
		for at, as := range l.taking[id].Each() {
			l.turns[id] = append(l.turns[id], turn{at, as, turns})
			turns++
		}
	}
	return l, nil
}

// quantityOf is the first quantity of the list that an act reads, by its points, its
// unit and the state of the vehicle. Not exactly is where only the state is another: it
// is a quantity of these points then, or none.
func (g *marker) quantityOf(m moment) (q faulttree.Quantity, exactly bool) {
	near := faulttree.Quantity{}
	for _, id := range g.list.ids {
		for i := range g.list.turns[id] {
			t := &g.list.turns[id][i]
			if near.ID == "" && samePoints(m.Act, &t.at) {
				near = g.list.q[id]
			}
			if g.takes(m, t) {
				return g.list.q[id], true
			}
		}
	}
	return near, false
}

// takes reports whether an act takes one reading of a quantity, in its state. What was
// found out once is kept while an attempt is marked.
func (g *marker) takes(m moment, t *turn) bool {
	if len(m.tried) > 0 || !samePoints(m.Act, &t.at) {
		return false
	}
	key := [2]int{m.index, t.number}
	is, known := g.took[key]
	if !known {
		if is = Alike(g.c.Rig, t.at, m.before, t.as); g.took != nil {
			g.took[key] = is
		}
	}
	return is
}

// samePoints reports whether an act has the tips and the dial where a quantity has
// them; the tips may be exchanged where the sign says nothing.
func samePoints(a practice.Act, q *faulttree.Quantity) bool {
	f := a.Setting.Function
	if f == meter.Continuity || f.Unit() != q.Unit || (f == meter.LowZ) != q.Has(faulttree.LowZ) {
		return false
	}
	return a.Red == q.Red && a.Black == q.Black || (!q.Unit.Signed() || q.SizeOnly) && a.Red == q.Black && a.Black == q.Red
}

// evidence is what the readings of a round say before an act, those of the
// handbook under their own name. A quantity that is read several times counts
// once all its readings were taken, and each of them by itself before that. A
// reading that was held, or that hurt, says nothing.
func (g *marker) evidence(until, round int) []taken {
	var read []moment
	for _, m := range g.acts[:until] {
		if m.round == round && telling(m) {
			read = append(read, m)
		}
	}
	var out []taken
	used := map[int]bool{}
	for _, several := range []bool{true, false} {
		for _, id := range g.list.ids {
			for _, e := range g.handbook(id, several, read, used) {
				e.Round = round
				out = append(out, e)
			}
		}
	}
	for _, m := range read {
		if !used[m.index] {
			e := g.standing(m)
			e.Round = round
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(a, b taken) int { return a.last() - b.last() })
	return slices.Concat(g.b.came(round), out)
}

// last is the last of the acts that a piece of evidence comes from, -1 for what the
// customer came with.
func (t taken) last() int {
	if len(t.acts) == 0 {
		return -1
	}
	return slices.Max(t.acts)
}

// came is what the customer came with and says he saw, before a repair.
func (b Book) came(round int) []taken {
	if round > 0 {
		return nil
	}
	told := b.Seen
	if t := b.Forest.Tree(b.Tree); t != nil && len(t.Complaint) > 0 {
		told = append([]suspect.Seen{{Observation: suspect.Complaint, Choice: t.ID}}, told...)
	}
	return lists.Each(told, func(s suspect.Seen) taken { return taken{Evidence: suspect.Evidence{Seen: &s, Told: true}} })
}

// handbook is the readings that were taken of a quantity, the acts of which are not
// used yet.
func (g *marker) handbook(id string, several bool, read []moment, used map[int]bool) []taken {
	t := g.list.taking[id]
	if t.Several() != several {
		return nil
	}
	var of [][]moment // by reading of the quantity
	for i := range g.list.turns[id] {
		var those []moment
		for _, m := range read {
			if !used[m.index] && g.takes(m, &g.list.turns[id][i]) {
				those = append(those, m)
			}
		}
		if len(those) == 0 {
			return nil
		}
		of = append(of, those)
	}
	if !several {
		var out []taken
		for _, m := range of[0] {
			used[m.index] = true
			out = append(out, taken{Evidence: suspect.Evidence{Quantity: g.list.q[id], Reading: m.Reading()}, acts: []int{m.index}})
		}
		return out
	}
	var values []float64
	var readings []faulttree.Reading
	var acts []int
	for _, those := range of {
		last := those[len(those)-1]
		value := last.Reading().High.Float()
		if !last.Reading().Numeric() {
			value = over
		}
		values, readings = append(values, value), append(readings, last.Reading())
		for _, m := range those {
			used[m.index] = true
			acts = append(acts, m.index)
		}
	}
	slices.Sort(acts)
	picked := readings[slices.Index(values, t.Pick(values))]
	return []taken{{Evidence: suspect.Evidence{Quantity: g.list.q[id], Reading: picked}, acts: slices.Compact(acts)}}
}

// over stands for OL where the highest counts.
const over = 1e300

// reads is a single reading as the quantity of the handbook that it is, else as one of
// its own.
func (g *marker) reads(m moment) taken {
	if q, exactly := g.quantityOf(m); exactly && !g.list.taking[q.ID].Several() {
		return taken{Evidence: suspect.Evidence{Quantity: q, Reading: m.Reading()}, acts: []int{m.index}}
	}
	return g.standing(m)
}

// standing is a reading as a quantity of its own, in the state in which it was
// taken.
func (g *marker) standing(m moment) taken {
	f := m.Setting.Function
	q := faulttree.Quantity{Red: m.Red, Black: m.Black, Unit: f.Unit(), Range: 600 * faulttree.One, Most: faulttree.Highest}
	if f == meter.LowZ {
		q.Conditions = []faulttree.Condition{faulttree.LowZ}
	}
	as := drawn.Stand{State: m.before}
	for _, i := range g.c.Tries {
		if slices.Contains(m.tried, i.ID) {
			as.Renews = append(as.Renews, i.Renews...)
		}
	}
	q.ID = fmt.Sprintf("as it stands: %s %s %v %s %s", m.Red, m.Black, f, stateKey(m.before), strings.Join(m.tried, " "))
	q.Title = "between the probes"
	return taken{Evidence: suspect.Evidence{Quantity: q, Reading: m.Reading()}, stand: &as, acts: []int{m.index}}
}

// stateKey is a text that is the same for the same state.
func stateKey(st bench.State) string {
	on := lists.Where(slices.Sorted(maps.Keys(st.Off)), func(name string) bool { return !st.Off[name] })
	for _, leg := range slices.Sorted(maps.Keys(st.Loads)) {
		if st.Loads[leg] {
			on = append(on, "loads "+leg)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(st.Tripped)) {
		on = append(on, "tripped "+name)
	}
	return strings.Join(on, ",")
}
