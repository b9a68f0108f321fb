package trial

import (
	"cmp"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Remaining is a dangerous fault that a finding leaves possible: walks over
// vehicles with it ended there, and the finding does not name it.
type Remaining struct {
	Fault    string          `json:"fault"`
	Place    faulttree.Place `json:"place"`
	Walks    int             `json:"walks"`
	Share    float64         `json:"share"`    // of all endings of walks with this fault in this place
	Declared bool            `json:"declared"` // under cannot_exclude, or in the list that was computed before
	Draw     int             `json:"draw"`     // an example, for [See]
}

// At is the fault and where it sits.
func (r Remaining) At() faulttree.FaultAt { return faulttree.FaultAt{Fault: r.Fault, Place: r.Place} }

// Seldom is the share of a fault's walks below which it ends at a finding by the
// chance of a meter's error.
const Seldom = 0.01

// wrong is what is wrong with a vehicle: a group of faults, and where the first
// of them sits. The zero value is nothing.
type wrong struct {
	group int
	place faulttree.Place
}

// faultsOf lists the faults of a group and where each sits. One that comes along
// sits where the first does if it can, else where it usually does.
func (t *trial) faultsOf(w wrong) []faulttree.FaultAt {
	if w.group == 0 {
		return nil
	}
	var out []faulttree.FaultAt
	for _, i := range t.plan.groups[w.group-1] {
		f := t.plan.faults[i]
		out = append(out, faulttree.FaultAt{Fault: f.ID, Place: f.Beside(w.place)})
	}
	return out
}

// ends counts the endings of walks within the scope, of both roles, by what is
// wrong and the endpoint.
type ends map[endCell]reach

type endCell struct {
	wrong
	endpoint int
}

// reach is how many walks came somewhere, and the lowest draw of them.
type reach struct{ walks, draw int }

func (r reach) and(o reach) reach {
	switch {
	case r.walks == 0:
		return o
	case o.walks == 0:
		return r
	}
	return reach{r.walks + o.walks, min(r.draw, o.draw)}
}

func (n ends) add(o ends) {
	for cell, r := range o {
		n[cell] = n[cell].and(r)
	}
}

// faultsAt adds up what reached an endpoint, and with -1 any, by fault and place
// within the scope of the tree: what comes along can sit outside of it.
func (t *trial) faultsAt(n ends, endpoint int) map[faulttree.FaultAt]reach {
	out := map[faulttree.FaultAt]reach{}
	for cell, r := range n {
		if endpoint < 0 || cell.endpoint == endpoint {
			for _, at := range t.faultsOf(cell.wrong) {
				if within(t.plan.tree, at.Place) {
					out[at] = out[at].and(r)
				}
			}
		}
	}
	return out
}

// remaining fills in which dangerous faults a finding leaves possible, which of
// them it does not say, and what it says in vain. Drawn is what any walk was
// with, reached what those that ended here were with.
func (t *trial) remaining(f *endpoint, reached, drawn map[faulttree.FaultAt]reach, see *worker, out *FindingReport) error {
	for i, fault := range t.plan.faults {
		if f.handed || fault.Hazard != faulttree.Danger || t.onlyMeter(i) {
			continue
		}
		for _, place := range fault.Places() {
			at := faulttree.FaultAt{Fault: fault.ID, Place: place}
			r := reached[at]
			if r.walks == 0 || f.named[i] {
				continue
			}
			one := Remaining{at.Fault, at.Place, r.walks, mean(float64(r.walks), drawn[at].walks), f.finding.Declares(at), r.draw}
			out.Remaining = append(out.Remaining, one)
			if one.Declared {
				continue
			}
			vehicle, path, err := see.example(r.draw, t.endpointAt[f.ref])
			if err != nil {
				return err
			}
			out.Missing = append(out.Missing, Gap{at.Fault, at.Place, one.Walks, one.Share, one.Draw, vehicle, path})
		}
	}
	slices.SortFunc(out.Remaining, func(a, b Remaining) int { return a.At().Compare(b.At()) })
	for _, n := range f.finding.CannotExclude {
		switch {
		case slices.Contains(f.finding.Faults, n.Fault):
			out.Extra = append(out.Extra, n.At().String())
		case covers(n.At(), reached):
		case covers(n.At(), drawn):
			if !n.Seldom {
				out.Extra = append(out.Extra, n.At().String())
			}
		case n.Computed:
			out.Extra = append(out.Extra, n.At().String())
		default:
			out.Undrawn = append(out.Undrawn, n.At().String())
		}
	}
	return nil
}

// covers reports whether any of some faults is meant by at.
func covers(at faulttree.FaultAt, some map[faulttree.FaultAt]reach) bool {
	for one := range some {
		if at.Covers(one) {
			return true
		}
	}
	return false
}

// Difference is what a finding declares wrongly, over the trials of several
// trees: walks of one tree can end in a finding of another.
type Difference struct {
	Finding string
	Missing []Gap
	Extra   []string // faults, with their places where the declaration has one
}

// Compare lists the findings whose cannot_exclude is not what the trials found,
// in the order of the reports. An extra entry is blamed only if the finding's
// own tree was tried, no tree reaches the finding with that fault, and some tree
// was tried with it.
func Compare(reports []*Report) []Difference {
	var order []string
	all := map[string]*Difference{}
	tried, idle := map[string]bool{}, map[string]int{} // idle counts the reports in which an entry is of no use
	seen := map[string]int{}
	for _, r := range reports {
		tried[cmp.Or(r.Own, r.Tree)] = true
		for _, f := range r.Findings {
			d := all[f.ID]
			if d == nil {
				d = &Difference{Finding: f.ID}
				all[f.ID], order = d, append(order, f.ID)
			}
			seen[f.ID]++
			for _, g := range f.Missing {
				if !slices.ContainsFunc(d.Missing, func(o Gap) bool { return o.At() == g.At() }) {
					d.Missing = append(d.Missing, g)
				}
			}
			for _, id := range f.Extra {
				idle[f.ID+" "+id]++
				d.Extra = lists.With(d.Extra, id)
			}
			for _, id := range f.Undrawn {
				idle[f.ID+" "+id]++
			}
		}
	}
	var out []Difference
	for _, id := range order {
		d := all[id]
		tree, _, _ := strings.Cut(id, "#")
		d.Extra = slices.DeleteFunc(d.Extra, func(fault string) bool { return !tried[tree] || idle[id+" "+fault] < seen[id] })
		if len(d.Missing)+len(d.Extra) > 0 {
			out = append(out, *d)
		}
	}
	return out
}
