package class

import (
	"context"
	"testing"
	"time"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
)

// Of several attempts on record the first that was concluded is handed in; those of
// another name, level or role are not.
func TestHandIn(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step", "bright-over-the-sink")
	try := func(learner string, hour int, ended bool) practice.Attempt {
		out := play(t, a, 0, learner, time.Second, usual()...)
		out.Started = noon.Add(time.Duration(hour) * time.Hour)
		if !ended {
			out.Conclusion = nil
		}
		return out
	}
	other := try("Wren", 0, true)
	other.Role = faulttree.Owner
	f, missing := a.HandIn(shipped, "Wren\u202e", []practice.Attempt{try("Wren", 5, true), try("Wren", 1, false), try("Wren", 3, true), try("Finch", 2, true), other}, noon)
	if f.Learner != "Wren" || len(f.Attempts) != 1 || !f.Attempts[0].Started.Equal(noon.Add(3*time.Hour)) || len(missing) != 1 || missing[0] != 1 {
		t.Errorf("%+v, missing %v", f, missing)
	}
	f, missing = a.HandIn(shipped, "Wren", []practice.Attempt{try("Wren", 1, false), try("Wren", 2, false)}, noon)
	if len(f.Attempts) != 1 || !f.Attempts[0].Started.Equal(noon.Add(2*time.Hour)) || len(missing) != 2 {
		t.Errorf("%d attempts, missing %v", len(f.Attempts), missing)
	}
	same := assigned(t, false, "barefoot-on-the-steel-step")
	h, err := same.Begin(context.Background(), scenes.NewReasoning(shipped, faulttree.DefaultMeter(), nil), 0, "Wren", faulttree.DefaultMeter(), noon)
	if err != nil || h.Case != "barefoot-on-the-steel-step" || h.Seed != 0 || h.Content != shipped.Fingerprint() {
		t.Errorf("%+v, %v", h, err)
	}
}
