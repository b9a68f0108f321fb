package prove

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// finding proves that a finding says what it must.
func (p *prover) finding(n *node) {
	s, f := n.step, n.step.Finding
	pos := firstValid(s.Pos, n.tree.Pos)
	parts := []struct{ name, text string }{{"sure", f.Sure}, {"repair_by", f.RepairBy}}
	if f.Signal >= faulttree.Warning {
		parts = append(parts, struct{ name, text string }{"do_not", f.DoNot})
	}
	for _, part := range parts {
		if strings.TrimSpace(part.text) == "" {
			p.report(pos, ruleFindingParts, "finding %s has no %s", s.ID, part.name).Hint = fromFaults(f)
		}
	}
	if f.Signal >= faulttree.Warning && strings.TrimSpace(f.FirstAction) == "" {
		p.report(pos, ruleDangerFirst, "the %s finding %s has no first_action", strings.ToUpper(f.Signal.String()), s.ID).Hint = fromFaults(f)
	}
	if f.Signal == faulttree.Danger {
		p.dangerFinding(s, pos)
	}
	p.hazard(s, pos)
	if len(f.Clears) > 0 {
		p.allClear(s, pos)
	}
}

// fromFaults is a hint how a finding takes from its faults what it lacks.
func fromFaults(f faulttree.Finding) string {
	switch names := strings.Join(f.Faults, " or "); {
	case names == "":
		return ""
	case f.Place == "":
		return "say place, or write it under findings of " + names
	default:
		return "write it here, or under findings of " + names
	}
}

func (p *prover) dangerFinding(s *faulttree.Step, pos source.Pos) {
	if len(s.Finding.Faults) == 0 && len(s.Finding.CannotExclude) == 0 {
		p.report(pos, ruleDangerFault, "the DANGER finding %s names no fault and none that it cannot exclude", s.ID)
	}
	graded := false
	for _, c := range s.Cautions {
		signal, ok := faulttree.Danger, true
		if p.known.Signal != nil {
			signal, ok = p.known.Signal(c)
		}
		graded = graded || !ok || signal >= faulttree.Warning // an unknown caution is reported by the reader
	}
	if !graded {
		p.report(pos, ruleDangerCaution, "the DANGER finding %s has no caution of signal danger or warning", s.ID)
	}
}

// hazard compares a finding's grade with the faults it names: at least warning
// if one of them is of hazard danger, danger if all are.
func (p *prover) hazard(s *faulttree.Step, pos source.Pos) {
	if p.known.Hazard == nil {
		return
	}
	worst, all := "", len(s.Finding.Faults) > 0
	for _, id := range s.Finding.Faults {
		hazard, ok := p.known.Hazard(id)
		if ok && hazard == faulttree.Danger {
			worst = id
		} else {
			all = false
		}
	}
	switch signal := s.Finding.Signal; {
	case worst == "":
	case all && signal < faulttree.Danger:
		p.report(pos, ruleFindingHazard, "finding %s has the signal %s, and the faults it names are of hazard danger (%s); expected danger", s.ID, signal, worst)
	case signal < faulttree.Warning:
		p.report(pos, ruleFindingHazard, "finding %s has the signal %s and names %s, of hazard danger; expected warning or danger", s.ID, signal, worst)
	}
}

// promises are the words that no reading can carry.
var promises = regexp.MustCompile(`(?i)\b(safe|good to plug in|quiet)\b`)

func (p *prover) allClear(s *faulttree.Step, pos source.Pos) {
	f := s.Finding
	if len(f.CannotExclude) == 0 && (p.known.Computed == nil || !p.known.Computed(s.Tree)) {
		p.report(pos, ruleClearsExclude, "finding %s clears a place and lists nothing under cannot_exclude", s.ID)
	}
	if f.Signal == faulttree.Danger {
		p.report(pos, ruleClearsSignal, "finding %s clears a place and has the signal danger", s.ID)
	}
	for _, part := range []struct{ name, text string }{{"title", s.Title}, {"first_action", f.FirstAction}, {"sure", f.Sure}} {
		if word := promises.FindString(part.text); word != "" {
			p.report(pos, ruleClearsWords, "the %s of finding %s says %q, which no reading can promise", part.name, s.ID, word)
		}
	}
}

const longestLabel = 24

// label looks at the words that an exit writes on the ruler.
func (p *prover) label(n *node, e edge) {
	if c := utf8.RuneCountInString(e.Label); c > longestLabel {
		p.report(n.pos(e.Exit), ruleLabelLength, "the label %q has %d characters; at most %d fit the ruler", e.Label, c, longestLabel).Severity = source.Warning
	}
	if word := promises.FindString(e.Label); word != "" {
		p.report(n.pos(e.Exit), ruleClearsWords, "the label %q says %q, which no reading can promise", e.Label, word)
	}
}
