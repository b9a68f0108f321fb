package class

import (
	"time"

	"faultwright/content"
	"faultwright/content/view/scenes"
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
	for i := range len(a.Acts) + 1 {
		for _, s := range scenes.SaidBefore(lib, a, i) {
			out = append(out, Step{At: s.At, What: plain(s.What), Came: plain(s.More)})
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
