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
// proofs find, sorted by place. A step that could not be read is not proved,
// so that one slip is reported once.
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
	ways := func(file string) bool { // whether ways through what stands in a file can be followed
		for f := range broken {
			if f == file || strings.HasPrefix(f, "fragments/") {
				return false
			}
		}
		return true
	}
	for _, d := range prove.Forest(ctx, l.Forest, known(l)) {
		lines := broken[d.Pos.File]
		switch {
		case !ways(d.Pos.File) && slices.Contains(followsExits, d.Rule):
		case len(lines) > 0 && stepBroken(l, d.Pos, lines):
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
