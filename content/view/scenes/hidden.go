package scenes

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
)

// HiddenWords names everything that a case hides, one after the other: what, where, how
// bad. A sound vehicle hides nothing.
func HiddenWords(lib *content.Library, c practice.Case) []string {
	var out []string
	for _, a := range c.Faults {
		v := a.Fault.Variants[a.Variant]
		text := FaultTitle(lib, a.Fault.ID)
		if v.Text != "" {
			text += ", " + v.Text
		}
		if a.Fault.Severity != nil {
			text += ": " + a.Fault.Severity.Unit.Format(a.Severity)
		}
		out = append(out, view.Sentence(text))
		for _, id := range v.With {
			out = append(out, view.Sentence(FaultTitle(lib, id)+", which came along with it"))
		}
	}
	if len(out) == 0 {
		out = append(out, "No fault was hidden in this vehicle.")
	}
	return out
}

// HiddenEdits is all that the faults of a case do to its circuit as one fault to
// draw, each number as it is; nil where there is nothing to draw.
func HiddenEdits(c practice.Case) *rig.Variant {
	var all rig.Variant
	for _, a := range c.Faults {
		for _, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind == rig.Misuse {
				continue
			}
			e.Ohms = rig.EditValue{Fixed: e.Ohms.Of(a.Severity)}
			all.Edits = append(all.Edits, e)
		}
	}
	if len(all.Edits) == 0 {
		return nil
	}
	return &all
}

// MarkSignal is the signal word above marks: a caution where something could have
// hurt, or what was concluded is not so or not held; danger where it clears what can kill.
func MarkSignal(m mark.Marks) faulttree.Signal {
	if slices.ContainsFunc(m.Caps, func(c mark.Cap) bool { return c.Rule == rubric.ClearedDanger }) {
		return faulttree.Danger
	}
	held := slices.ContainsFunc(m.Parts, func(p mark.Part) bool { return p.ID == rubric.Found && p.Points == p.Of })
	if len(m.Caps) > 0 || !held {
		return faulttree.Caution
	}
	return faulttree.Notice
}

// MarkHeadline is the total and its word.
func MarkHeadline(m mark.Marks) string {
	return fmt.Sprintf("%d of %d: %s", m.Total, rubric.Whole, m.Word)
}

// MarkBound says why a mark is less than its points, "" where it is not.
func MarkBound(m mark.Marks) string {
	sum := 0
	for _, p := range m.Parts {
		sum += p.Points
	}
	if sum <= m.Total {
		return ""
	}
	var why []string
	if m.Guess && m.Bound < sum {
		why = append(why, fmt.Sprintf("as far as the readings hold the conclusion, it gets at most %d", m.Bound))
	}
	if len(m.Caps) > 0 {
		why = append(why, "an unsafe act bounds the whole, and every further one takes off more")
	}
	return fmt.Sprintf("The points add up to %d. The mark is %d: %s.", sum, m.Total, strings.Join(why, "; "))
}

// MarkFound is what became of the conclusion.
func MarkFound(m mark.Marks) string {
	for _, p := range m.Parts {
		if p.ID == rubric.Found {
			return p.Reason
		}
	}
	return ""
}
