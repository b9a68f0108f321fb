package check

import (
	"context"
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/faulttree/trial"
)

// ruleRemaining is that of an all-clear of which nobody computed what remains.
const ruleRemaining = "remaining-missing"

// uncomputed reports the all-clears of the trees that drawn vehicles can walk,
// of which no file says what remains possible there.
func uncomputed(l *content.Library) source.List {
	var out source.List
	for _, id := range Covered(l) {
		for _, s := range l.Forest.Trees[id].Steps {
			if len(s.Finding.Clears) > 0 && !l.Remaining[s.Ref()] {
				out.AddHint(s.Pos, ruleRemaining, "computed by: "+load.AnewRemaining(id),
					"the finding %s clears a place, and no file says which dangers remain possible there", s.ID)
			}
		}
	}
	return out
}

// Covered lists the trees that drawn vehicles can walk, each by its own id.
func Covered(l *content.Library) []string {
	var out []string
	for _, id := range l.Tried() {
		if own := l.Forest.Tree(id).Own(); !slices.Contains(out, own) {
			out = append(out, own)
		}
	}
	slices.Sort(out)
	return out
}

// Remaining computes which dangerous faults remain possible at the findings of
// some trees that rigs cover, by the id of each tree and finding: those of which
// a walk ended there, of any tree that leads there, and that the finding does not
// name. An all-clear stands among them also where nothing remains. The result is the same for the same handbook, number of rigs and seed.
func Remaining(ctx context.Context, l *content.Library, trees []string, o trial.Options) (map[string]map[string][]faulttree.NotExcluded, error) {
	out := map[string]map[string][]faulttree.NotExcluded{}
	for _, id := range trees {
		out[id] = map[string][]faulttree.NotExcluded{}
		for _, s := range l.Forest.Trees[id].Steps {
			if len(s.Finding.Clears) > 0 {
				out[id][s.ID] = nil
			}
		}
	}
	o.WalkOnly = true
	for _, tree := range l.Tried() {
		if !slices.ContainsFunc(l.Forest.Reached(tree), func(id string) bool { return out[id] != nil }) {
			continue
		}
		r, err := trial.Run(ctx, TrialOf(l), tree, o)
		if err != nil {
			return nil, err
		}
		for _, f := range r.Findings {
			at := faulttree.ParseRef(f.ID, tree)
			if findings := out[at.Tree]; findings != nil && len(f.Remaining) > 0 {
				findings[at.Step] = with(findings[at.Step], f.Remaining)
			}
		}
	}
	return out, nil
}

// with adds what one trial showed. What is seldom in one way there and frequent
// in another is not seldom.
func with(list []faulttree.NotExcluded, more []trial.Remaining) []faulttree.NotExcluded {
	for _, r := range more {
		n := faulttree.NotExcluded{Fault: r.Fault, Place: r.Place, Seldom: r.Share < trial.Seldom, Computed: true}
		if i := slices.IndexFunc(list, func(o faulttree.NotExcluded) bool { return o.At() == n.At() }); i >= 0 {
			list[i].Seldom = list[i].Seldom && n.Seldom
		} else {
			list = append(list, n)
		}
	}
	return list
}

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
