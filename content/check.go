package content

import (
	"context"
	"slices"

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

// Check is everything wrong with the library: what loading found and what the
// proofs find, sorted by place. A step that could not be read is not proved,
// so that one slip is reported once.
func (l *Library) Check(ctx context.Context) source.List {
	out := append(source.List(nil), l.Diagnostics...)
	broken := map[string][]int{} // lines with an error, by file
	unsourced := map[source.Pos]bool{}
	for _, d := range l.Diagnostics {
		if d.Severity == source.Error {
			broken[d.Pos.File] = append(broken[d.Pos.File], d.Pos.Line)
		}
		if d.Rule == RuleUnsourcedBound {
			unsourced[source.Pos{File: d.Pos.File, Line: d.Pos.Line}] = true
		}
	}
	for _, d := range prove.Forest(ctx, l.Forest, l.known()) {
		lines := broken[d.Pos.File]
		switch {
		case len(lines) > 0 && slices.Contains(followsExits, d.Rule):
		case len(lines) > 0 && l.stepBroken(d.Pos, lines):
		case d.Rule == boundSource && unsourced[source.Pos{File: d.Pos.File, Line: d.Pos.Line}]:
		default:
			out = append(out, d)
		}
	}
	out.Sort()
	return out
}

// known is what the proofs are told of the cautions and faults.
func (l *Library) known() prove.Known {
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
	}
}

// stepBroken reports whether the step around pos, or the front matter if pos
// lies there, holds one of the lines.
func (l *Library) stepBroken(pos source.Pos, lines []int) bool {
	from, below := 0, 1<<31
	for _, t := range l.Forest.Trees {
		if t.Pos.File != pos.File {
			continue
		}
		for _, s := range t.Steps {
			if at := s.Pos.Line; at <= pos.Line {
				from = max(from, at)
			} else {
				below = min(below, at)
			}
		}
	}
	return slices.ContainsFunc(lines, func(line int) bool { return from <= line && line < below })
}

// TreeErrors are the content errors of every document that a walk from a tree
// could come through: the tree itself, the trees its exits lead to, the list
// of quantities, and the folder as a whole. A walk must not begin while there
// are any, since a branch that could not be read is missing from it. The
// proofs are not part of it; see [Library.Check].
func (l *Library) TreeErrors(tree string) source.List {
	concerned := map[string]bool{"": true, "trees": true, "quantities.yaml": true}
	for _, id := range l.Forest.Reached(tree) {
		concerned["trees/"+id+".md"] = true
	}
	var out source.List
	for _, d := range l.Diagnostics {
		if d.Severity == source.Error && concerned[d.Pos.File] {
			out = append(out, d)
		}
	}
	return out
}
