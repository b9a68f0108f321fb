package trial

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Report is what a trial of one tree found. Roles are the owner and a
// qualified person; every number is over the walks of both unless said. The
// names in JSON are the public form.
type Report struct {
	Tree    string  `json:"tree"`    // by the id or name under which it was tried
	Own     string  `json:"own"`     // the id by which its findings name it
	Rigs    int     `json:"rigs"`    // draws within the scope, healthy ones included
	Outside int     `json:"outside"` // draws with a fault outside the scope, counted apart
	Seed    uint64  `json:"seed"`
	Wrong   float64 `json:"wrong,omitempty"` // share of the readings that went wrong once, see [Options]

	// FalseAllClears counts the walks that ended in an all-clear, a finding
	// with `clears`, although (a) a dangerous fault sits in a cleared place and
	// is neither named nor declared in cannot_exclude, or (b) the body can
	// reach the voltage that hurts to remote earth and no fault that is there is named or
	// declared. Walks outside the scope count under (a) only.
	FalseAllClears int `json:"false_all_clears"`
	// LiveDeclared counts the all-clears with a body that can reach that where
	// the fault is named or declared: not counted as false, but shown.
	LiveDeclared int `json:"live_declared"`

	Earned
	// Together and TasksTogether is what no reading that the tree may ask tells
	// apart.
	Together      []Together `json:"together"`
	TasksTogether []Together `json:"tasks_together"`
	Missed        []Missed   `json:"missed"` // faults about which the readings would tell more of what is to be done

	MeanMeasurements    float64 `json:"mean_measurements"`
	OptimumMeasurements float64 `json:"optimum_measurements"` // to the same finding, by looking ahead, bound to no gates
	OptimumExact        bool    `json:"optimum_exact"`        // false: of what was found, so the true optimum may be lower
	EntropyBound        float64 `json:"entropy_bound"`        // no way of asking needs fewer readings on average

	// Taken is what the walks took: for each role over faulted and over sound
	// vehicles within the scope. Where a choice is open the worst ending counts.
	Taken []Taken `json:"taken"`
	// Orders compares what the walks cost with the best order found. Empty
	// where only walks were asked for, and where readings go wrong.
	Orders []Order `json:"orders"`

	NoFaultEnds int             `json:"no_fault_findings"` // how many findings say that there is no fault; a walk for what was hot, or opened, has none
	HealthyRate float64         `json:"healthy_rate"`      // of healthy rigs that reach one of them
	FalseDanger float64         `json:"false_danger"`      // of healthy rigs that some way through the tree calls DANGER
	DefaultRigs []DefaultRig    `json:"default_rigs"`
	Uncovered   []string        `json:"uncovered"` // faults of the scope that reach no finding which names or declares them, or names what came along with them
	Coverage    []Coverage      `json:"coverage"`
	Findings    []FindingReport `json:"findings"`
	Exits       []ExitReport    `json:"exits"` // of the tree's own steps, in the order of the document
	False       []False         `json:"false"` // the first of them, by draw
	Cells       []Cell          `json:"matrix"`
	Roles       []RoleShare     `json:"roles"`
	// Complaint is over the vehicles that have what brings a reader to the tree;
	// nil where it does not say what that is, and where only walks were asked for.
	Complaint *Complaint `json:"complaint,omitempty"`
}

// Earned is what a tree earns with its findings.
type Earned struct {
	// Isolation is the mean credit over walks with a fault: the share of the
	// faults the finding names that are there, the worst ending where a choice
	// is open.
	Isolation float64 `json:"isolation"`
	// IsolationByPlace and IsolationByTask are the same credit for what is to be
	// done: the share of the places, and of the pairs of place and repairer, a
	// finding points at that the vehicle needs. A finding points at the place it
	// states, else at the fewest that hold nine tenths of the vehicles that ended
	// there with a fault it names.
	IsolationByPlace float64 `json:"isolation_by_place"`
	IsolationByTask  float64 `json:"isolation_by_task"`
	Named            float64 `json:"named"` // share of these walks whose finding names the true fault
	OfPossible
}

// RoleShare is what differs between the roles.
type RoleShare struct {
	Role             string  `json:"role"`
	Isolation        float64 `json:"isolation"`
	MeanMeasurements float64 `json:"mean_measurements"`
	FalseAllClears   int     `json:"false_all_clears"`
	FalseDanger      float64 `json:"false_danger"` // of healthy rigs
}

// Coverage is where the walks with one fault end.
type Coverage struct {
	Fault    string  `json:"fault"`
	Hazard   string  `json:"hazard"`
	Walks    int     `json:"walks"`
	Named    float64 `json:"named"`    // share whose finding names it
	Declared float64 `json:"declared"` // share whose finding says that it cannot exclude it
	Credit   float64 `json:"credit"`
}

// FindingReport is what the walks that reached a finding have in common. Group
// is its ambiguity group: every fault some walk reached it with, and no-fault.
type FindingReport struct {
	ID     string   `json:"id"` // tree#step
	Title  string   `json:"title"`
	Signal string   `json:"signal"`
	Clears []string `json:"clears,omitempty"`
	Names  []string `json:"names"`
	Walks  int      `json:"walks"`
	// Declared is what the document says it cannot exclude.
	Declared  []string    `json:"declared"`
	Group     []Share     `json:"group"`
	Remaining []Remaining `json:"remaining"` // dangerous faults that its path cannot exclude, as tried, by fault and place
	Missing   []Gap       `json:"missing"`   // of these, the ones it does not declare
	Extra     []string    `json:"extra"`     // declared, but drawn vehicles with them end elsewhere, or it names them
	Undrawn   []string    `json:"undrawn"`   // declared by the author, and no vehicle is drawn with them
	Idle      []string    `json:"idle"`      // named, but no walk reached it with them
	// Separable lists, at a finding of no fault, dangerous faults that one more
	// reading of the role would show, and Parted where beliefs say something else
	// than a finding, the worst first, at most five. Both are empty where only walks
	// were asked for.
	Separable []Separable `json:"separable"`
	Parted    []Parted    `json:"parted"`
	Meter     []string    `json:"meter"` // dangerous misuses of the meter that reach it, not part of the above
}

// Share is a fault's part of the walks that reached a finding.
type Share struct {
	Fault string  `json:"fault"`
	Walks int     `json:"walks"`
	Share float64 `json:"share"`
}

// Gap is a dangerous fault that a finding leaves possible without saying so.
type Gap struct {
	Fault   string          `json:"fault"`
	Place   faulttree.Place `json:"place"`
	Walks   int             `json:"walks"`
	Share   float64         `json:"share"` // of all endings of walks with this fault in this place
	Draw    int             `json:"draw"`
	Vehicle string          `json:"vehicle"`
	Path    string          `json:"path"`
}

// At is the fault and where it sits.
func (g Gap) At() faulttree.FaultAt { return faulttree.FaultAt{Fault: g.Fault, Place: g.Place} }

// False is one false all-clear.
type False struct {
	Draw    int     `json:"draw"`
	Role    string  `json:"role"`
	Finding string  `json:"finding"`
	Why     string  `json:"why"`
	Volts   float64 `json:"volts"` // the highest the body reaches, 0 if not solved
	Vehicle string  `json:"vehicle"`
	Path    string  `json:"path"`
	// Wrong is the readings that went wrong once on the way: what the tree would
	// have to repeat, or to cross by another. Empty where none did, so that the
	// all-clear is false without it.
	Wrong []WrongReading `json:"wrong,omitempty"`
}

// Cell is one cell of the confusion matrix.
type Cell struct {
	Role    string  `json:"role"`
	Fault   string  `json:"fault"`
	Outside bool    `json:"outside,omitempty"`
	Finding string  `json:"finding"`
	Walks   int     `json:"walks"`
	Credit  float64 `json:"credit"` // of one walk
	False   int     `json:"false"`
	Draw    int     `json:"draw"` // an example, for [See]
}

// report makes the tally readable.
func (t *trial) report(n *tally) (*Report, error) {
	r := &Report{Tree: t.plan.tree.ID, Own: t.plan.tree.Own(), Rigs: t.plan.inside, Outside: t.plan.total - t.plan.inside, Seed: t.options.Seed, Wrong: t.options.Wrong}
	readings, walks, credit, faulty, healthy, foundSo, dangers := 0, 0, 0.0, 0, 0, 0, 0
	for role := range roles {
		share := RoleShare{Role: roles[role].String()}
		own, ownCredit := 0, 0.0
		for fault := -1; fault < len(t.plan.faults); fault++ {
			for f := range t.endpoints {
				c, out := n.at(n.cells[role], fault, f), n.at(n.outside[role], fault, f)
				share.FalseAllClears += c.falseClear + out.falseClear
				r.LiveDeclared += c.bodyLive - c.liveUndeclared
				t.addCell(r, role, fault, f, c, false)
				t.addCell(r, role, fault, f, out, true)
				switch {
				case fault >= 0:
					own += c.worst
					ownCredit += t.creditOf(c.right, f)
				case t.endpoints[f].noFault:
					foundSo += c.worst
					healthy += c.worst
				default:
					healthy += c.worst
				}
			}
		}
		share.Isolation = mean(ownCredit, own)
		all := n.taken[role][faulted]
		all.add(n.taken[role][sound])
		share.MeanMeasurements = mean(float64(all.readings()), all.walks)
		share.FalseDanger = mean(float64(n.falseDanger[role]), n.taken[role][sound].walks)
		for c := range n.taken[role] {
			r.Taken = append(r.Taken, n.taken[role][c].report(roles[role], condition(c).String()))
		}
		r.Roles = append(r.Roles, share)
		r.FalseAllClears += share.FalseAllClears
		faulty, credit = faulty+own, credit+ownCredit
		readings, walks = readings+all.readings(), walks+all.walks
		dangers += n.falseDanger[role]
	}
	for _, e := range t.endpoints {
		if e.noFault {
			r.NoFaultEnds++
		}
	}
	r.Isolation, r.HealthyRate = mean(credit, faulty), mean(float64(foundSo), healthy)
	r.IsolationByPlace, r.IsolationByTask = t.isolationByTask(n.tasks, placeAlone), t.isolationByTask(n.tasks, whole)
	r.MeanMeasurements = mean(float64(readings), walks)
	r.FalseDanger = mean(float64(dangers), healthy)
	var err error
	if r.DefaultRigs, err = t.defaultRigs(); err != nil {
		return nil, err
	}
	t.addCoverage(r, n)
	t.addExits(r, n.exits)
	return r, t.addFindings(r, n)
}

func mean(a float64, n int) float64 {
	if n == 0 {
		return 0
	}
	return a / float64(n)
}

func (t *trial) addCell(r *Report, role, fault, finding int, c *cell, outside bool) {
	if c.worst == 0 {
		return
	}
	r.Cells = append(r.Cells, Cell{Role: roles[role].String(), Fault: t.plan.id(fault), Outside: outside, Finding: t.endpoints[finding].ref.String(),
		Walks: c.worst, Credit: t.earned(fault, finding, c), False: c.falseClear, Draw: c.example})
}

// earned is what one walk of a cell earns in the mean: 1 for a healthy rig that
// is found to be so.
func (t *trial) earned(fault, finding int, c *cell) float64 {
	if fault < 0 && t.endpoints[finding].noFault {
		return 1
	}
	return mean(t.creditOf(c.right, finding), c.worst)
}

func (t *trial) addCoverage(r *Report, n *tally) {
	r.Uncovered = []string{}
	allNamed, all := 0, 0
	for fault, f := range t.plan.faults {
		if !t.plan.possible[fault] {
			continue
		}
		c := Coverage{Fault: f.ID, Hazard: f.Hazard.String()}
		named, declared, right := 0, 0, 0
		for role := range roles {
			for i := range t.endpoints {
				at := n.at(n.cells[role], fault, i)
				walks := at.worst
				c.Walks += walks
				right += at.right
				c.Credit += t.creditOf(at.right, i)
				switch {
				case t.endpoints[i].named[fault]:
					named += walks
				case t.endpoints[i].declared[fault]:
					declared += walks
				}
			}
		}
		allNamed, all = allNamed+named, all+c.Walks
		c.Named, c.Declared, c.Credit = mean(float64(named), c.Walks), mean(float64(declared), c.Walks), mean(c.Credit, c.Walks)
		if c.Walks > 0 && named+declared+right == 0 {
			r.Uncovered = append(r.Uncovered, f.ID)
		}
		r.Coverage = append(r.Coverage, c)
	}
	r.Named = mean(float64(allNamed), all)
}

// addFindings fills in what every finding leaves possible, with examples.
func (t *trial) addFindings(r *Report, n *tally) error {
	see := t.newWorker()
	drawn := t.faultsAt(n.ends, -1)
	for i := range t.endpoints {
		f := &t.endpoints[i]
		out := FindingReport{ID: f.ref.String(), Title: f.title, Signal: f.finding.Signal.String(), Names: append([]string{}, f.finding.Faults...),
			Group: []Share{}, Remaining: []Remaining{}, Missing: []Gap{}, Extra: []string{}, Undrawn: []string{}, Idle: []string{}, Meter: []string{}, Separable: []Separable{}, Parted: []Parted{}}
		out.Declared = []string{}
		for _, c := range f.finding.CannotExclude {
			out.Declared = lists.With(out.Declared, c.Fault)
		}
		for _, p := range f.finding.Clears {
			out.Clears = append(out.Clears, string(p))
		}
		reached := make([]cell, len(t.plan.faults)+1)
		for fault := -1; fault < len(t.plan.faults); fault++ {
			c := cell{example: -1, any: -1}
			for role := range roles {
				c.add(*n.at(n.cells[role], fault, i))
			}
			reached[fault+1] = c
			out.Walks += c.reached
		}
		for fault := -1; fault < len(t.plan.faults); fault++ {
			c := reached[fault+1]
			if c.reached > 0 {
				out.Group = append(out.Group, Share{t.plan.id(fault), c.reached, mean(float64(c.reached), out.Walks)})
			}
			if fault >= 0 && c.reached > 0 && !f.handed && t.plan.faults[fault].Hazard == faulttree.Danger && t.onlyMeter(fault) {
				out.Meter = append(out.Meter, t.plan.faults[fault].ID)
			}
		}
		if err := t.remaining(f, t.faultsAt(n.ends, i), drawn, see, &out); err != nil {
			return err
		}
		slices.SortStableFunc(out.Group, func(a, b Share) int { return cmp.Compare(b.Walks, a.Walks) })
		t.idle(f, reached, &out)
		r.Findings = append(r.Findings, out)
	}
	for _, x := range n.falseClears {
		s, err := see.see(x.draw, x.finding)
		if err != nil {
			return err
		}
		r.False = append(r.False, False{x.draw, x.role.String(), t.endpoints[x.finding].ref.String(), x.why, x.volts, s.Vehicle, s.Path, s.Wrong})
	}
	return nil
}

// idle lists what a finding names though nothing reaches it so.
func (t *trial) idle(f *endpoint, reached []cell, out *FindingReport) {
	met := func(id string) bool {
		for i, fault := range t.plan.faults {
			if fault.ID == id {
				return reached[i+1].reached > 0
			}
		}
		return false
	}
	for _, id := range f.finding.Faults {
		if !met(id) {
			out.Idle = append(out.Idle, id)
		}
	}
}

// onlyMeter reports whether a fault sits in the meter alone.
func (t *trial) onlyMeter(fault int) bool {
	return slices.Equal(t.plan.faults[fault].Places(), []faulttree.Place{faulttree.MeterOwn})
}
