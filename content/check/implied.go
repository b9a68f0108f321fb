package check

import (
	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// ruleImplied is the notice of a signal that says no more than what its exit
// leads to.
const ruleImplied = "implied-signal"

// mostImplied is how many such signals of a tree are told.
const mostImplied = 20

// implied notices the signals of the trees that could be left out. An act's own
// makes it a STOP, or not, and stays; so do those of a fragment, which hold in
// every tree that uses it.
func implied(l *content.Library) source.List {
	var out source.List
	for _, id := range l.Forest.IDs() {
		tree, before := l.Forest.Trees[id], len(out)
		for _, s := range tree.Steps {
			s.EachExit(func(e *faulttree.Exit) {
				if e == &s.Act.Exit || e.SignalPos.File != tree.Pos.File || e.Signal != l.Forest.Implied(s, e) || len(out)-before == mostImplied {
					return
				}
				out = append(out, source.Diagnostic{Pos: e.SignalPos, Severity: source.Notice, Rule: ruleImplied,
					Message: "the signal " + e.Signal.String() + " is that of what this leads to", Hint: "it can be left out"})
			})
		}
	}
	return out
}
