package trial

import (
	"cmp"
	"slices"
	"strings"
)

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
				if !slices.Contains(d.Extra, id) {
					d.Extra = append(d.Extra, id)
				}
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
