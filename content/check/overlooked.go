package check

import (
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/faulttree/trial"
)

// ruleOverlooked is that of a row or branch that lets a danger through to an
// all-clear.
const ruleOverlooked = "all-clear-by-oversight"

// overlooked warns of every row, or exit, that decides for an all-clear on a
// vehicle with a dangerous fault, where the all-clear does not speak of the fault,
// or where the fault sits in a place that it clears and the reader could have
// excluded it himself: that it is on the list of what remains does not make that
// right.
func overlooked(l *content.Library, reports []*trial.Report) source.List {
	var out source.List
	type one struct {
		pos source.Pos
		at  faulttree.FaultAt
	}
	told := map[one]bool{}
	for _, r := range reports {
		for _, x := range r.Exits {
			for _, c := range x.Clears {
				end := l.Forest.Step(faulttree.ParseRef(c.Finding, ""))
				for _, part := range c.Faults {
					why := oversight(l, l.Forest.Tree(r.Tree), &end.Finding, part.At())
					if key := (one{x.Pos, part.At()}); why != "" && !told[key] {
						told[key] = true
						out = append(out, source.Diagnostic{Pos: x.Pos, Severity: source.Warning, Rule: ruleOverlooked,
							Message: fmt.Sprintf("%d walks with %s come this way to the all-clear %s, %s", part.Walks, part.At(), c.Finding, why)})
					}
				}
			}
		}
	}
	return out
}

// oversight is what is wrong with a dangerous fault at an all-clear, "" for
// nothing.
func oversight(l *content.Library, tree *faulttree.Tree, f *faulttree.Finding, at faulttree.FaultAt) string {
	fault := l.Faults[at.Fault]
	if fault == nil || fault.Hazard != faulttree.Danger || at.Place == faulttree.MeterOwn || slices.Contains(f.Faults, at.Fault) || !slices.Contains(tree.Scope, at.Place) {
		return ""
	}
	i := slices.IndexFunc(f.CannotExclude, func(n faulttree.NotExcluded) bool { return n.At().Covers(at) })
	if i < 0 {
		return "which does not speak of it"
	}
	n := f.CannotExclude[i]
	if t := fault.TestAt(at.Place); n.Computed && !n.Seldom && slices.Contains(f.Clears, at.Place) && t != nil && t.By == "" {
		return "and the reader, who could exclude it himself, is not asked to: " + t.Sentence()
	}
	return ""
}
