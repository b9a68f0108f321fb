package class

import (
	"context"
	"time"

	"faultwright/content"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/practice"
)

// Step is an act of an attempt and what the readings told after it.
type Step struct {
	Number     int
	At         time.Duration
	What, Came string
	Belief     string // what the readings until then tell, "" where this act read nothing
}

// Replay goes through an attempt act by act.
func Replay(ctx context.Context, lib *content.Library, s *content.Scenario, x *Checked) ([]Step, error) {
	var out []Step
	for i, a := range x.Attempt.Acts {
		what, came := scenes.ActLine(a, x.Case.Rig)
		if a.Reads() && a.Note != "" {
			came += ". " + a.Note
		}
		out = append(out, Step{Number: practice.Number(i), At: a.At, What: what, Came: came})
	}
	return out, ctx.Err()
}
