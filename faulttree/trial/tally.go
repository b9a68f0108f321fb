package trial

import (
	"slices"

	"faultwright/faulttree"
)

// cell counts the draws of one fault at one finding. Only whole numbers are
// added, so that the order of the draws does not matter.
type cell struct {
	worst    int // draws whose walk counts as ended here: the worst of its endings
	right    int // on these, how many of the faults the finding names are there
	reached  int // draws with any ending here
	unclear  int // of these, with a dangerous fault neither named nor declared
	wrong    int // false all-clears, for either reason
	place    int // such a fault sits in a place that is cleared: false
	live     int // the body can reach the touch limit and the finding clears
	liveOnly int // of these, without a fault that is named or declared: false too
	example  int // the lowest draw counted under worst, -1 for none
	any      int // the lowest draw with any ending here
}

func (c *cell) add(o cell) {
	c.worst += o.worst
	c.right += o.right
	c.reached += o.reached
	c.unclear += o.unclear
	c.wrong += o.wrong
	c.place += o.place
	c.live += o.live
	c.liveOnly += o.liveOnly
	c.example, c.any = lowest2(c.example, o.example), lowest2(c.any, o.any)
}

// lowest2 is the lower of two numbers of draws, -1 standing for none.
func lowest2(a, b int) int {
	if a < 0 || b >= 0 && b < a {
		return b
	}
	return a
}

// falseClear is one draw that ended in a false all-clear.
type falseClear struct {
	draw    int
	role    faulttree.Role
	finding int
	kind    string
	volts   float64
}

// tally is the counts of one worker, and of all once added up.
type tally struct {
	findings int
	cells    [2][]cell // by role: inside, then outside the scope: (fault+1)*findings+finding
	outside  [2][]cell
	readings [2]int
	walks    [2]int
	falses   []falseClear // the first few by draw
}

// keep is how many false all-clears a tally lists.
const keep = 50

func newTally(t *trial) *tally {
	n := &tally{findings: len(t.findings)}
	for _, table := range []*[2][]cell{&n.cells, &n.outside} {
		for role := range table {
			table[role] = make([]cell, (len(t.plan.faults)+1)*n.findings)
			for i := range table[role] {
				table[role][i].example, table[role][i].any = -1, -1
			}
		}
	}
	return n
}

func (n *tally) add(o *tally) {
	for role := range n.cells {
		for i := range n.cells[role] {
			n.cells[role][i].add(o.cells[role][i])
			n.outside[role][i].add(o.outside[role][i])
		}
		n.readings[role] += o.readings[role]
		n.walks[role] += o.walks[role]
	}
	n.falses = append(n.falses, o.falses...)
	n.trim()
}

// trim keeps the false all-clears with the lowest numbers.
func (n *tally) trim() {
	slices.SortFunc(n.falses, func(a, b falseClear) int {
		if a.draw != b.draw {
			return a.draw - b.draw
		}
		if a.role != b.role {
			return int(a.role) - int(b.role)
		}
		return a.finding - b.finding
	})
	if len(n.falses) > keep {
		n.falses = n.falses[:keep]
	}
}

// at is the cell of a fault, -1 for the healthy, at a finding.
func (n *tally) at(table []cell, fault, finding int) *cell {
	return &table[(fault+1)*n.findings+finding]
}

// verdict is what is to be held against one ending of a draw.
type verdict struct {
	unclear, place, live, liveOnly bool
}

// judge weighs one ending. Outside the scope an all-clear for another place
// than the fault's own is no fault of the tree.
func (t *trial) judge(k *taker, body *bodyCheck, e ending) (v verdict, err error) {
	f, d := &t.findings[e.finding], &k.draw
	inside := d.number < t.plan.inside
	open := false // a fault is there, and it is neither named nor declared
	known := false
	if d.fault >= 0 {
		known = f.named[d.fault] || f.spared[d.fault]
		open = !known
		grave := t.plan.faults[d.fault].Hazard == faulttree.Danger
		v.unclear = open && grave
		v.place = open && grave && slices.Contains(f.f.Clears, d.place())
	}
	if len(f.f.Clears) > 0 {
		if v.live, err = body.live(k); err != nil {
			return v, err
		}
		v.liveOnly = v.live && !known && inside
	}
	return v, nil
}

// weight orders verdicts from good to bad, a credit between 0 and 1 breaking
// ties.
func (v verdict) weight(credit float64) float64 {
	w := -credit
	for i, bad := range []bool{v.unclear, v.liveOnly, v.place} {
		if bad {
			w += float64(int(2) << i)
		}
	}
	return w
}

// credit is what a finding earns for a vehicle: the share of the faults it names
// that are there, 1/|faults| for a single fault.
func (t *trial) credit(s stratum, finding int) float64 {
	if s.fault < 0 && t.findings[finding].nothing {
		return 1
	}
	return t.worth(t.right(s, finding), finding)
}

// right is how many of the faults that a finding names are there.
func (t *trial) right(s stratum, finding int) int {
	n := 0
	if s.kind > 0 {
		for _, fault := range t.plan.kinds[s.kind-1] {
			if t.findings[finding].named[fault] {
				n++
			}
		}
	}
	return n
}

// worth is what some walks that ended at a finding earn together, where it was
// right so many times.
func (t *trial) worth(right, finding int) float64 {
	return float64(right) / float64(max(1, len(t.findings[finding].f.Faults)))
}

// count adds the endings of one walk.
func (n *tally) count(t *trial, k *taker, body *bodyCheck, role faulttree.Role, ends []ending) error {
	d := &k.draw
	table := n.cells[role]
	if d.number >= t.plan.inside {
		table = n.outside[role]
	}
	worst, heaviest := 0, 0.0
	for i, e := range ends {
		v, err := t.judge(k, body, e)
		if err != nil {
			return err
		}
		c := n.at(table, d.fault, e.finding)
		c.any = lowest2(c.any, d.number)
		c.reached++
		for _, flag := range []struct {
			on bool
			to *int
		}{{v.unclear, &c.unclear}, {v.place || v.liveOnly, &c.wrong}, {v.place, &c.place}, {v.live, &c.live}, {v.liveOnly, &c.liveOnly}} {
			if flag.on {
				*flag.to++
			}
		}
		if v.place || v.liveOnly {
			kind := "a dangerous fault sits in a place it clears"
			if !v.place {
				kind = "the body can reach 30 V"
			}
			n.falses = append(n.falses, falseClear{d.number, role, e.finding, kind, body.volts})
			if len(n.falses) > 4*keep {
				n.trim()
			}
		}
		if w := v.weight(t.credit(d.stratum, e.finding)); i == 0 || w > heaviest {
			worst, heaviest = i, w
		}
	}
	e := ends[worst]
	c := n.at(table, d.fault, e.finding)
	c.worst++
	c.right += t.right(d.stratum, e.finding)
	c.example = lowest2(c.example, d.number)
	if d.number < t.plan.inside {
		n.walks[role]++
		n.readings[role] += e.readings
	}
	return nil
}
