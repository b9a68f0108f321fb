package check

import (
	"context"
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
