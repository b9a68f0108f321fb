package class

import (
	"context"
	"strings"
	"testing"
	"time"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
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

// A trainee's attempt is one: what he begins, hands in and is verified by, and to whom the
// assignment is for somebody qualified it is none. A file that does not say so, as all were
// before there were trainees, is of somebody qualified.
func TestATraineesAssignment(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	if strings.Contains(string(must.Have(unpack(written(t, a)))(t)[assignmentEntry]), "supervised") {
		t.Error("an assignment for somebody qualified says something of trainees")
	}
	qualified := play(t, a, 0, "Wren", time.Second, usual()...)
	a.Supervised = true
	h, err := a.Begin(context.Background(), scenes.NewReasoning(shipped, faulttree.DefaultMeter(), nil), 0, "Wren", faulttree.DefaultMeter(), noon)
	if err != nil || !h.Supervised || h.Role != faulttree.Qualified || !practice.Begun(h).Attempt.Supervised {
		t.Errorf("%+v, %v", h, err)
	}
	other := h
	if other.Supervised = false; h.SameTask(other) {
		t.Error("somebody qualified goes on with a trainee's attempt")
	}
	trainee := play(t, a, 0, "Wren", time.Second, usual()...)
	f, _ := a.HandIn(shipped, "Wren", []practice.Attempt{qualified, trainee}, noon)
	if len(f.Attempts) != 1 || !f.Attempts[0].Supervised || !f.Attempts[0].Acts[0].Asked {
		t.Fatalf("handed in: %+v", f.Attempts)
	}
	raw := written(t, f)
	for _, x := range []struct {
		raw  []byte
		want string
	}{
		{raw, ""},
		{changed(t, raw, attemptEntry, `"supervised": true`, `"supervised": false`), "It says level free and role qualified; the assignment is for free and trainee."},
		{changed(t, raw, attemptEntry, `"asked": true`, `"asked": false`), "The first line that does not follow is act 1. It says “prove”; worked out again: this is asked before it is done, and it was not."},
	} {
		c := collected(t, folderOf(t, a, map[string][]byte{"x": x.raw}), Options{})
		if got := c.Learners[0].Tries[0].Edited; got != x.want {
			t.Errorf("%q; expected %q", got, x.want)
		}
	}
}
