package trial

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// cell counts the draws of one fault at one finding. Only whole numbers are
// added, so that the order of the draws does not matter.
type cell struct {
	worst          int // draws whose walk counts as ended here: the worst of its endings
	right          int // on these, how many of the faults the finding names are there
	reached        int // draws with any ending here
	falseClear     int // false all-clears, for either reason
	inCleared      int // such a fault sits in a place that is cleared: false
	bodyLive       int // the body can reach the touch limit and the finding clears
	liveUndeclared int // of these, without a fault that is named or declared: false too
	example        int // the lowest draw counted under worst, -1 for none
	any            int // the lowest draw with any ending here
}

func (c *cell) add(o cell) {
	c.worst += o.worst
	c.right += o.right
	c.reached += o.reached
	c.falseClear += o.falseClear
	c.inCleared += o.inCleared
	c.bodyLive += o.bodyLive
	c.liveUndeclared += o.liveUndeclared
	c.example, c.any = lowerDraw(c.example, o.example), lowerDraw(c.any, o.any)
}

// lowerDraw is the lower of two numbers of draws, -1 standing for none.
func lowerDraw(a, b int) int {
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
	why     string
	volts   float64
}

// tally is the counts of one worker, and of all once added up.
type tally struct {
	findings    int
	cells       [2][]cell // by role: inside, then outside the scope: (fault+1)*findings+finding
	outside     [2][]cell
	taken       [2][conditions]taken // by role, within the scope
	tasks       tasks                // of walks over faulted vehicles, both roles
	ends        ends
	exits       exits
	falseDanger [2]int       // by role: walks over sound vehicles with an ending of signal DANGER
	falseClears []falseClear // the first few by draw
	gates       [2]*gates    // by role; nil without a dataset
}

// mostFalseClears is how many false all-clears a tally lists.
const mostFalseClears = 50

func newTally(t *trial) *tally {
	n := &tally{findings: len(t.endpoints), tasks: tasks{}, ends: ends{}, exits: exits{}}
	for _, table := range []*[2][]cell{&n.cells, &n.outside} {
		for role := range table {
			if t.data != nil && n.gates[role] == nil {
				n.gates[role] = newGates(len(t.data.quantities), len(t.endpoints))
			}
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
		for c := range n.taken[role] {
			n.taken[role][c].add(o.taken[role][c])
		}
		n.falseDanger[role] += o.falseDanger[role]
		if n.gates[role] != nil {
			n.gates[role].add(o.gates[role])
		}
	}
	n.tasks.add(o.tasks)
	n.ends.add(o.ends)
	n.exits.add(o.exits)
	n.falseClears = append(n.falseClears, o.falseClears...)
	n.trim()
}

// trim keeps the false all-clears with the lowest numbers.
func (n *tally) trim() {
	slices.SortFunc(n.falseClears, func(a, b falseClear) int {
		if a.draw != b.draw {
			return a.draw - b.draw
		}
		if a.role != b.role {
			return int(a.role) - int(b.role)
		}
		return a.finding - b.finding
	})
	if len(n.falseClears) > mostFalseClears {
		n.falseClears = n.falseClears[:mostFalseClears]
	}
}

// at is the cell of a fault, -1 for the healthy, at a finding.
func (n *tally) at(table []cell, fault, finding int) *cell {
	return &table[(fault+1)*n.findings+finding]
}

// flaws is what is wrong with one ending of a draw.
type flaws struct {
	undeclared, inCleared, bodyLive, liveUndeclared bool
}

// flawsOf looks at one ending. Outside the scope an all-clear for another place
// than the fault's own is no fault of the tree.
func (t *trial) flawsOf(k *reader, body *bodyCheck, e ending) (v flaws, err error) {
	f, d := &t.endpoints[e.endpoint], &k.draw
	inside := d.number < t.plan.inside
	open := false // a fault is there, and it is neither named nor declared
	known := false
	if d.fault >= 0 {
		known = f.named[d.fault] || f.finding.Declares(faulttree.FaultAt{Fault: t.plan.id(d.fault), Place: d.place()})
		open = !known
		grave := t.plan.faults[d.fault].Hazard == faulttree.Danger
		v.undeclared = open && grave
		v.inCleared = open && grave && slices.Contains(f.finding.Clears, d.place())
	}
	if len(f.finding.Clears) > 0 {
		if v.bodyLive, err = body.live(k); err != nil {
			return v, err
		}
		v.liveUndeclared = v.bodyLive && !known && inside
	}
	return v, nil
}

// gravity orders endings from good to bad, a credit between 0 and 1 breaking
// ties.
func (v flaws) gravity(credit float64) float64 {
	w := -credit
	for i, bad := range []bool{v.undeclared, v.liveUndeclared, v.inCleared} {
		if bad {
			w += float64(int(2) << i)
		}
	}
	return w
}

// credit is what a finding earns for a vehicle: the share of the faults it names
// that are there, 1/|faults| for a single fault.
func (t *trial) credit(s stratum, finding int) float64 {
	if s.fault < 0 && t.endpoints[finding].noFault {
		return 1
	}
	return t.creditOf(t.faultsNamed(s, finding), finding)
}

// faultsNamed is how many of the faults that a finding names are there.
func (t *trial) faultsNamed(s stratum, finding int) int {
	n := 0
	if s.group > 0 {
		n += lists.Count(t.plan.groups[s.group-1], func(fault int) bool { return t.endpoints[finding].named[fault] })
	}
	return n
}

// creditOf is what some walks that ended at a finding earn together, where it
// was right so many times.
func (t *trial) creditOf(right, finding int) float64 {
	return float64(right) / float64(max(1, len(t.endpoints[finding].finding.Faults)))
}

// count adds the endings of one walk.
func (n *tally) count(t *trial, k *reader, body *bodyCheck, role faulttree.Role, ends []ending) error {
	d := &k.draw
	table := n.cells[role]
	if d.number >= t.plan.inside {
		table = n.outside[role]
	}
	worst, heaviest := 0, 0.0
	for i, e := range ends {
		v, err := t.flawsOf(k, body, e)
		if err != nil {
			return err
		}
		c := n.at(table, d.fault, e.endpoint)
		c.any = lowerDraw(c.any, d.number)
		c.reached++
		if d.number < t.plan.inside {
			cell := endCell{wrong{d.group, d.place()}, e.endpoint}
			n.ends[cell] = n.ends[cell].and(reach{1, d.number})
		}
		for _, flag := range []struct {
			on bool
			to *int
		}{{v.inCleared || v.liveUndeclared, &c.falseClear}, {v.inCleared, &c.inCleared}, {v.bodyLive, &c.bodyLive}, {v.liveUndeclared, &c.liveUndeclared}} {
			if flag.on {
				*flag.to++
			}
		}
		if v.inCleared || v.liveUndeclared {
			why := "a dangerous fault sits in a place it clears"
			if !v.inCleared {
				why = "the " + t.forest.Touch.Point + " can reach " + t.forest.Touch.From.String() + " V"
			}
			n.falseClears = append(n.falseClears, falseClear{d.number, role, e.endpoint, why, body.volts})
			if len(n.falseClears) > 4*mostFalseClears {
				n.trim()
			}
		}
		if w := v.gravity(t.credit(d.stratum, e.endpoint)); i == 0 || w > heaviest {
			worst, heaviest = i, w
		}
	}
	if d.fault < 0 && callsDanger(ends) {
		n.falseDanger[role]++
	}
	if d.number < t.plan.inside {
		t.countExits(n.exits, wrong{d.group, d.place()}, ends)
	}
	e := ends[worst]
	c := n.at(table, d.fault, e.endpoint)
	c.worst++
	c.right += t.faultsNamed(d.stratum, e.endpoint)
	c.example = lowerDraw(c.example, d.number)
	if d.number < t.plan.inside {
		n.taken[role][conditionOf(d.stratum)].add(e.taken)
		if d.fault >= 0 {
			n.tasks[taskCell{d.group, d.place(), e.endpoint}]++
		}
		if t.data != nil {
			t.data.noteWorst(d.number, role, e)
			n.gates[role].note(t.data, e)
		}
	}
	return nil
}
