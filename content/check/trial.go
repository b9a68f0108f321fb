package check

import (
	"context"
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/faulttree/trial"
)

// Rules of what only a trial finds.
const (
	ruleFalseClear    = "false-all-clear"
	ruleCannotMissing = "cannot-exclude-missing"
	ruleCannotExtra   = "cannot-exclude-extra"
	ruleUncovered     = "fault-uncovered"
	ruleUnreached     = "finding-unreached"
	ruleTrial         = "trial"
)

// TrialOf is what a trial of the library's trees draws from.
func TrialOf(l *content.Library) trial.Handbook {
	from := scenes.DrawnFrom(l)
	return trial.Handbook{Forest: from.Forest, Rigs: from.Rigs, Faults: from.Faults, RepairedBy: func(fault string, place faulttree.Place) string {
		if f := l.Faults[fault]; f != nil {
			if a := f.At(place); a != nil {
				return a.RepairBy
			}
		}
		return ""
	}}
}

// Deep sends drawn rigs down every tree that has some and reports every false
// all-clear, and every finding whose cannot_exclude is not what the walks
// show. What it finds depends on the number of rigs: a pair that one walk in a
// thousand shows needs thousands. Hence a fault that reaches a finding seldom
// ([trial.Seldom]), and that finding clears nothing, is a warning; so is what was
// computed and is in vain by now, a danger of the vehicle that no finding speaks of,
// and a finding that no vehicle reaches and that is not among those that other walks
// ended in. What an author declares in vain, and a mild fault that no finding speaks
// of, is a notice. A scenario without a best order that is current is a warning too.
func Deep(ctx context.Context, l *content.Library, rigs int, seed uint64, ended []faulttree.Ref) source.List {
	out := unordered(l)
	var reports []*trial.Report
	for _, tree := range l.Tried() {
		r, err := trial.Run(ctx, TrialOf(l), tree, trial.Options{Rigs: rigs, Seed: seed, WalkOnly: true})
		if err != nil {
			out = append(out, source.Diagnostic{Pos: l.Forest.Tree(tree).Pos, Severity: source.Error, Rule: ruleTrial, Message: err.Error()})
			continue
		}
		reports = append(reports, r)
		told := map[string]bool{}
		for _, f := range r.False {
			if !told[f.Finding] {
				told[f.Finding] = true
				out = append(out, source.Diagnostic{Pos: placeOf(l, f.Finding), Severity: source.Error, Rule: ruleFalseClear,
					Message: fmt.Sprintf("a false all-clear: %s ends here, and %s", f.Vehicle, f.Why), Hint: "the way there: " + f.Path})
			}
		}
		for _, id := range r.Uncovered {
			severity := source.Notice
			if f := l.Faults[id]; f == nil || f.Hazard == faulttree.Danger && !slices.Equal(f.Places, []faulttree.Place{faulttree.MeterOwn}) {
				severity = source.Warning
			}
			out = append(out, source.Diagnostic{Pos: l.Forest.Tree(tree).Pos, Severity: severity, Rule: ruleUncovered,
				Message: fmt.Sprintf("no finding that a walk reaches names or declares %s", id)})
		}
	}
	for _, d := range trial.Compare(reports) {
		for _, g := range d.Missing {
			severity := source.Error
			if g.Share < trial.Seldom && !clears(l, d.Finding) {
				severity = source.Warning
			}
			out = append(out, source.Diagnostic{Pos: placeOf(l, d.Finding), Severity: severity, Rule: ruleCannotMissing,
				Message: fmt.Sprintf("walks with %s end here, which neither names nor declares it (%s)", g.At(), g.Vehicle), Hint: "a list is made anew by: " + load.AnewRemaining(faulttree.ParseRef(d.Finding, "").Tree) + "; the way there: " + g.Path})
		}
		for _, id := range d.Extra {
			pos, computed := declared(l, d.Finding, faulttree.ParseFaultAt(id))
			severity := source.Notice // the author may know better than the model
			if computed {
				severity = source.Warning
			}
			out = append(out, source.Diagnostic{Pos: pos, Severity: severity, Rule: ruleCannotExtra,
				Message: fmt.Sprintf("no walk with %s ends at %s, which says that it cannot exclude it", id, d.Finding)})
		}
	}
	out = append(out, overlooked(l, reports)...)
	for _, ref := range trial.Unreached(l.Forest, reports, ended) {
		out = append(out, source.Diagnostic{Pos: placeOf(l, ref.String()), Severity: source.Warning, Rule: ruleUnreached,
			Message: fmt.Sprintf("no drawn vehicle and no walk by hand ends at %s", ref)})
	}
	out.Sort()
	return out
}

// placeOf is where a finding stands.
func placeOf(l *content.Library, finding string) source.Pos {
	if s := l.Forest.Step(faulttree.ParseRef(finding, "")); s != nil {
		return s.Pos
	}
	return source.Pos{}
}

// clears reports whether a finding clears a place.
func clears(l *content.Library, finding string) bool {
	s := l.Forest.Step(faulttree.ParseRef(finding, ""))
	return s != nil && len(s.Finding.Clears) > 0
}

// declared is where a finding declares that it cannot exclude a fault, and whether
// that was computed.
func declared(l *content.Library, finding string, at faulttree.FaultAt) (pos source.Pos, computed bool) {
	s := l.Forest.Step(faulttree.ParseRef(finding, ""))
	if s == nil {
		return source.Pos{}, false
	}
	for _, n := range s.Finding.CannotExclude {
		if n.At() == at {
			return n.Pos, n.Computed
		}
	}
	return s.Pos, false
}
