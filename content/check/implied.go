package check

import (
	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// ruleImplied is the notice of a signal that says no more than what its exit
// leads to, or than the faults of its finding.
const ruleImplied = "implied-signal"

// mostImplied is how many such signals of a tree are told.
const mostImplied = 20

// implied notices the signals of the trees that could be left out. An act's own
// makes it a STOP, or not, and stays; so do those of a fragment, which hold in
// every tree that uses it.
func implied(l *content.Library) source.List {
	var out source.List
	for _, id := range l.Forest.IDs() {
		tree, told := l.Forest.Trees[id], 0
		notice := func(pos source.Pos, signal faulttree.Signal, of string) {
			if pos.File != tree.Pos.File || told == mostImplied {
				return
			}
			told++
			out = append(out, source.Diagnostic{Pos: pos, Severity: source.Notice, Rule: ruleImplied,
				Message: "the signal " + signal.String() + " is that of " + of, Hint: "it can be left out"})
		}
		for _, s := range tree.Steps {
			s.EachExit(func(e *faulttree.Exit) {
				if e.SignalPos.IsValid() && e != &s.Act.Exit && e.Signal == l.Forest.Implied(s, e) {
					notice(e.SignalPos, e.Signal, "what this leads to")
				}
			})
			if f := s.Finding; f.SignalPos.IsValid() && len(f.Faults) > 0 && f.Signal == l.WorstHazard(f.Faults) {
				notice(f.SignalPos, f.Signal, "the worst of its faults")
			}
		}
	}
	return out
}
