package check

import (
	"context"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/prove"
	"faultwright/faulttree/source"
)

// The proofs that follow exits from step to step. In a tree with errors they
// would blame sound steps for what a broken one leaves out.
var followsExits = []string{"step-unreachable", "walk-endless"}

// boundSource is the proof of what rule unsourced-bound finds nearer to the
// number.
const boundSource = "bound-source"

// Library is everything wrong with a handbook: what loading found and what the
// proofs find, sorted by place. A step that could not be read, or that rests on
// what could not, is not proved, nor is another blamed for leading to it or coming
// from it, so that one slip is reported once.
func Library(ctx context.Context, l *content.Library) source.List {
	out := append(source.List(nil), l.Diagnostics...)
	broken := map[string][]int{} // lines with an error, by file
	unsourced := map[source.Pos]bool{}
	for _, d := range l.Diagnostics {
		if d.Severity == source.Error {
			broken[d.Pos.File] = append(broken[d.Pos.File], d.Pos.Line)
		}
		if d.Rule == load.RuleUnsourcedBound {
			unsourced[source.Pos{File: d.Pos.File, Line: d.Pos.Line}] = true
		}
	}
	for _, t := range l.Forest.Trees {
		for _, s := range t.Steps {
			if s.Unread {
				broken[s.Pos.File] = append(broken[s.Pos.File], s.Pos.Line)
			}
		}
	}
	follows := func(d source.Diagnostic) bool { // whether it speaks of a step with an error, or is led to by one
		return stepBroken(l, d.Pos, broken[d.Pos.File]) ||
			slices.ContainsFunc(d.Related, func(r source.Related) bool { return stepBroken(l, r.Pos, broken[r.Pos.File]) })
	}
	ways := func(file string) bool { // whether ways through what stands in a file can be followed
		for f := range broken {
			if f == file || strings.HasPrefix(f, "fragments/") {
				return false
			}
		}
		return true
	}
	for _, d := range prove.Forest(ctx, l.Forest, known(l)) {
		switch {
		case !ways(d.Pos.File) && slices.Contains(followsExits, d.Rule):
		case follows(d):
		case d.Rule == boundSource && unsourced[source.Pos{File: d.Pos.File, Line: d.Pos.Line}]:
		default:
			out = append(out, d)
		}
	}
	out = append(out, implied(l)...)
	out = append(out, uncomputed(l)...)
	out.Sort()
	return out.PerFile(load.MostErrors+1, load.RuleTooManyErrors)
}

// known is what the proofs are told of the cautions and faults.
func known(l *content.Library) prove.Known {
	covered := Covered(l)
	return prove.Known{
		Signal: func(id string) (faulttree.Signal, bool) {
			if c := l.Cautions[id]; c != nil {
				return c.Signal, true
			}
			return 0, false
		},
		Hazard: func(id string) (faulttree.Signal, bool) {
			if f := l.Faults[id]; f != nil {
				return f.Hazard, true
			}
			return 0, false
		},
		Computed: func(tree string) bool { return slices.Contains(covered, tree) },
	}
}

// stepBroken reports whether the step around pos, or the front matter if pos
// lies there, holds one of the lines.
func stepBroken(l *content.Library, pos source.Pos, lines []int) bool {
	if len(lines) == 0 {
		return false
	}
	from, below := 0, 1<<31
	for _, t := range l.Forest.Trees {
		for _, s := range t.Steps {
			if s.Pos.File != pos.File {
				continue
			}
			if at := s.Pos.Line; at <= pos.Line {
				from = max(from, at)
			} else {
				below = min(below, at)
			}
		}
	}
	return slices.ContainsFunc(lines, func(line int) bool { return from <= line && line < below })
}

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

// ruleOrder is that of a scenario without a best order that is current.
const ruleOrder = "order-missing"

// unordered reports the scenarios whose best order is not stored, or was worked out
// from something else. A handbook that marks nothing needs none.
func unordered(l *content.Library) source.List {
	if l.Rubric == nil {
		return nil
	}
	var out source.List
	for _, s := range view.Scenarios(l) {
		if _, ok := l.Order(s); !ok {
			out = append(out, source.Diagnostic{Pos: s.Pos, Severity: source.Warning, Rule: ruleOrder, Hint: "worked out by: " + load.AnewOrders,
				Message: "no best order of this scenario is stored that is current, and marks beside it take long"})
		}
	}
	return out
}
