package class

import (
	"fmt"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
)

// Step is a line of an attempt that is gone through again.
type Step struct {
	Number     int // of the act; 0 for what is none
	At         time.Duration
	What, Came string
	Belief     string // what the readings until then tell, "" where that was not worked out
}

// Replay goes through an attempt act by act, with what was said before a reading,
// the hints, the conclusion and the repair between them. Beliefs is what the readings
// tell after each act, in words; nil where that was not worked out.
func Replay(lib *content.Library, x *Checked, beliefs []string) []Step {
	var out []Step
	a := x.Attempt
	ended := len(a.Acts)
	if a.Repaired > 0 {
		ended = min(a.Repaired, ended)
	}
	for i := range len(a.Acts) + 1 {
		out = append(out, between(a, i)...)
		if i == ended && a.Conclusion != nil {
			out = append(out, concluded(lib, a)...)
		}
		if i == len(a.Acts) {
			break
		}
		step := Step{Number: practice.Number(i), At: a.Acts[i].At}
		step.What, step.Came = actText(x, i)
		if i < len(beliefs) {
			step.Belief = beliefs[i]
		}
		out = append(out, step)
	}
	return out
}

// actText words an act of an attempt, and what came of it with its note.
func actText(x *Checked, act int) (what, came string) {
	a := x.Attempt.Acts[act]
	what, came = scenes.ActLine(a, x.Case.Rig)
	if note := plain(a.Note); a.Reads() && note != "" {
		came += ". " + note
	}
	return what, came
}

// between is what was told and said before an act.
func between(a practice.Attempt, act int) []Step {
	var out []Step
	for _, h := range a.Hints {
		if h.After == act {
			out = append(out, Step{At: h.At, What: "A hint: " + plain(h.Text)})
		}
	}
	for _, p := range a.Predictions {
		if p.Before == act {
			out = append(out, Step{At: p.At, What: fmt.Sprintf("Expects: %s. It would tell: %s", plain(p.Expects), plain(p.Tells))})
		}
	}
	return out
}

// concluded is the conclusion in words, and that it was repaired.
func concluded(lib *content.Library, a practice.Attempt) []Step {
	c := a.Conclusion
	var faults, open, acts []string
	for _, id := range c.Faults {
		faults = append(faults, scenes.FaultTitle(lib, plain(id)))
	}
	for _, at := range c.Open {
		open = append(open, scenes.FaultTitle(lib, plain(at.Fault))+" ("+plain(string(at.Place))+")")
	}
	for _, i := range c.Deciding {
		acts = append(acts, fmt.Sprint(practice.Number(i)))
	}
	var said []string
	for _, part := range []view.Fact{
		{Heading: "place", Text: string(c.Place)}, {Heading: "sureness", Text: c.Sure.String()}, {Heading: "decided by act", Text: strings.Join(acts, ", ")}, {Heading: "still open", Text: strings.Join(open, "; ")},
		{Heading: "to be done", Text: adviceText(lib, c.Do, func(a *content.Advice) string { return a.FirstAction })}, {Heading: "by", Text: adviceText(lib, c.RepairBy, func(a *content.Advice) string { return a.RepairBy })}, {Heading: "to the customer", Text: c.Tell},
	} {
		if text := plain(part.Text); text != "" {
			said = append(said, part.Heading+": "+text)
		}
	}
	out := []Step{{At: c.At, What: "Concludes: " + strings.Join(faults, "; "), Came: "(" + strings.Join(said, " · ") + ")"}}
	if a.Repaired > 0 {
		out = append(out, Step{At: c.At, What: "What was concluded is put right; what follows is read after it"})
	}
	return out
}

// adviceText is what was chosen, in the words of a fault's document where the choice
// only names it: "open-neutral@cord".
func adviceText(lib *content.Library, said string, of func(*content.Advice) string) string {
	at := faulttree.ParseFaultAt(said)
	if f := lib.Faults[at.Fault]; f != nil {
		if advice := f.At(at.Place); advice != nil {
			return of(advice)
		}
	}
	return said
}
