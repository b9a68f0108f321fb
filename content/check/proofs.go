package check

import (
	"context"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
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
