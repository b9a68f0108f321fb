package class

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/content"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// What is written is read back, the scenarios to what they were.
func TestAnAssignmentComesBack(t *testing.T) {
	want := assigned(t, true, "barefoot-on-the-steel-step", "flat-by-breakfast")
	want.Note, want.Level, want.Held, want.Open, want.Supervised = "Begin with the meter.\nThen read.", practice.Guided, true, Open{Tree: true, Hints: true}, true
	got := must.Have(ReadAssignment(bytes.NewReader(written(t, want))))(t)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
	scenarios, err := got.Scenarios(context.Background(), shipped)
	if err != nil || len(scenarios) != 2 || scenarios[0].Answer != shipped.Scenarios["barefoot-on-the-steel-step"].Answer || scenarios[1].Rig != shipped.Rigs[scenarios[1].Rig.ID] {
		t.Errorf("%+v, %v", scenarios, err)
	}
	if !bytes.Equal(written(t, want), written(t, got)) {
		t.Error("written again it has other bytes")
	}
}

// An attempt says nothing of a person but the name that was typed.
func TestAnAttemptFileComesBack(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	want := handedIn(t, a, "Wren", 7e9)
	want.Attempts[0].Beside = []string{"2026-12-01-abcde"}
	got := must.Have(ReadAttempts(bytes.NewReader(written(t, want))))(t)
	if diff := cmp.Diff(&want, got, cmpopts.IgnoreUnexported(practice.Act{}, AttemptFile{})); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// Whoever has another name has another vehicle, whatever the case of its letters.
func TestEveryLearnerHasAVehicleOfHisOwn(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step", "flat-by-breakfast")
	seeds := map[uint64]bool{}
	for _, name := range []string{"Wren", "Finch", "Lark"} {
		for task := range a.Tasks {
			seeds[a.Seed(task, name)] = true
		}
	}
	if len(seeds) != 6 || seeds[0] || a.Seed(0, " wren ") != a.Seed(0, "Wren") {
		t.Errorf("%d vehicles for 6: %v", len(seeds), seeds)
	}
	if same := assigned(t, false, "barefoot-on-the-steel-step"); same.Seed(0, "Wren") != 0 {
		t.Error("the scenario as it was written is a variant")
	}
}

// A class of three, one of whom has not begun the second task.
func TestCollect(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step", "bright-over-the-sink")
	half := handedIn(t, a, "Finch", 11e9)
	half.Attempts = half.Attempts[:1]
	half.Saved = noon.AddDate(0, 0, 4)
	var told []int
	c := collected(t, folderOf(t, a, map[string][]byte{
		"b.zip": written(t, handedIn(t, a, "Wren", 7e9)), "deep/er/a": written(t, half), "notes.txt": []byte("Remember the markers."),
	}), Options{Tell: func(done, total int) { told = append(told, done*100/total) }})
	if len(c.Learners) != 2 || c.Learners[0].Name != "Finch" || c.Learners[1].File != "b.zip" || c.Learners[0].Tries[1] != nil || !c.Learners[0].Late || c.Learners[1].Late {
		t.Errorf("%+v", c.Learners)
	}
	for _, l := range c.Learners {
		for task, x := range l.Tries {
			if x != nil && (x.Edited != "" || len(x.Copied) > 0) {
				t.Errorf("%s, task %d: %q %q", l.Name, task, x.Edited, x.Copied)
			}
		}
	}
	want := []Told{{"notes.txt", ErrNoArchive.Error()}}
	if diff := cmp.Diff(want, c.Told); diff != "" || c.Handbook != "" {
		t.Errorf("want (-) and got (+) differ:\n%s%s", diff, c.Handbook)
	}
	if !slices.IsSorted(told) || told[len(told)-1] != 100 {
		t.Errorf("progress is %v", told)
	}
}

// What was changed by hand is told with the first line that does not follow.
func TestEditedAttemptsAreFound(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step")
	wren := handedIn(t, a, "Wren", 7e9)
	raw := written(t, wren)
	body := wren.Attempts[0].Acts[1]
	reordered := wren
	reordered.Attempts = slices.Clone(wren.Attempts)
	acts := slices.Clone(wren.Attempts[0].Acts)
	acts[1], acts[2] = acts[2], acts[1]
	reordered.Attempts[0].Acts = acts
	seed := fmt.Sprintf(`"seed": %d`, wren.Attempts[0].Seed)
	for _, x := range []struct {
		name string
		raw  []byte
		want string
	}{
		{"a reading", changed(t, raw, attemptEntry, body.Shown, "0.1 V"), fmt.Sprintf(`The first line that does not follow is act 2. It says “0.1 V”; worked out again: %s.`, body.Shown)},
		{"a reading of hold", changed(t, raw, attemptEntry, `"black": "earth"`, `"black": "panel.g"`), "The first line that does not follow is act 2."},
		{"an order", written(t, reordered), "The first line that does not follow is act "},
		{"a seed", changed(t, raw, attemptEntry, seed, `"seed": 77`), "It says variant 77 of the vehicle; under this name variant"},
		{"a name", changed(t, raw, attemptEntry, `"Wren"`, `"Lark"`), "of the vehicle; under this name variant"},
		{"a level", changed(t, raw, attemptEntry, `"role": "qualified"`, `"role": "owner"`), "It says level free and role owner; the assignment is for free and qualified."},
		{"a point", changed(t, raw, attemptEntry, `"black": "earth"`, `"black": "moon"`), `has no point "moon"`},
		{"a meter", changed(t, raw, attemptEntry, `"counts": 6000`, `"counts": -1`), "It cannot be verified:"},
	} {
		c := collected(t, folderOf(t, a, map[string][]byte{"x": x.raw, "other": written(t, handedIn(t, a, "Finch", 3e9))}), Options{})
		if len(c.Learners) != 2 {
			t.Errorf("%s: %d learners, told %v", x.name, len(c.Learners), c.Told)
			continue
		}
		i := slices.IndexFunc(c.Learners, func(l *Learner) bool { return l.Name != "Finch" })
		if got := c.Learners[i].Tries[0].Edited; !strings.Contains(got, x.want) {
			t.Errorf("%s: %q; expected %q in it", x.name, got, x.want)
		}
		if got := c.Learners[1-i].Tries[0].Edited; got != "" {
			t.Errorf("%s: the other one is %q", x.name, got)
		}
	}
}

// A file under another name shows as a copy on both sides.
func TestCopiesArePointedOut(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	wren, copied := handedIn(t, a, "Wren", 7e9), handedIn(t, a, "Finch", 7e9)
	c := collected(t, folderOf(t, a, map[string][]byte{"1": written(t, wren), "2": written(t, copied), "3": written(t, handedIn(t, a, "Lark", 8e9))}), Options{})
	for i, want := range []string{"the very same times as those of Wren.", "", "the very same times as those of Finch."} { // Finch, Lark, Wren
		got := strings.Join(c.Learners[i].Tries[0].Copied, " ")
		if !strings.HasSuffix(got, want) || want == "" && got != "" {
			t.Errorf("%s: %q", c.Learners[i].Name, got)
		}
	}
	own := assigned(t, true, "barefoot-on-the-steel-step")
	raw := changed(t, written(t, handedIn(t, own, "Wren", 7e9)), attemptEntry, `"Wren"`, `"Finch"`)
	c = collected(t, folderOf(t, own, map[string][]byte{"1": written(t, handedIn(t, own, "Wren", 9e9)), "2": raw}), Options{})
	if got := c.Learners[0].Tries[0].Copied; !slices.Equal(got, []string{"Its vehicle is the one that Wren was given."}) {
		t.Errorf("%q", got)
	}
}

// Two files of one learner: the later counts, the other is told.
func TestTheLaterFileOfALearnerCounts(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	first, second := handedIn(t, a, "Wren", 7e9), handedIn(t, a, "wren", 9e9)
	second.Saved = first.Saved.Add(1e9 * 60)
	c := collected(t, folderOf(t, a, map[string][]byte{"1": written(t, first), "2": written(t, second)}), Options{})
	if len(c.Learners) != 1 || c.Learners[0].File != "2" {
		t.Fatalf("%+v", c.Learners)
	}
	if got, want := c.Doubts(), []string{"wren: There are two files under this name; 2 was saved last and counts, 1 does not."}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

func TestWhichAssignment(t *testing.T) {
	a, other := assigned(t, false, "barefoot-on-the-steel-step"), assigned(t, false, "flat-by-breakfast")
	forged := *a
	forged.Title = "Forged"
	wren := written(t, handedIn(t, a, "Wren", 7e9))
	for _, x := range []struct {
		folder fstest.MapFS
		named  *Assignment
		want   string
	}{
		{fstest.MapFS{"1": {Data: wren}}, nil, ErrNoAssignment.Error()},
		{fstest.MapFS{"1": {Data: wren}}, a, ""},
		{folderOf(t, a, map[string][]byte{"2": written(t, other)}), nil, "there are two assignments in the folder, 2 and handed-out.zip; leave only the one that was handed out"},
		{folderOf(t, a, map[string][]byte{"again": written(t, a)}), nil, ""},
		{folderOf(t, a, map[string][]byte{"z": written(t, &forged)}), nil, `two files in the folder, handed-out.zip and z, say that they are the assignment "Forged", and differ; leave only the one that was handed out`},
		{folderOf(t, other, map[string][]byte{"1": wren}), a, ""},
	} {
		c, err := Collect(context.Background(), shipped, x.folder, Options{Assignment: x.named})
		if got := fmt.Sprint(err); err != nil && got != x.want || err == nil && x.want != "" {
			t.Errorf("%v; expected %q", err, x.want)
		}
		if err == nil && x.named != nil && len(c.Learners) != 1 {
			t.Errorf("%+v", c)
		}
	}
	c := collected(t, folderOf(t, other, map[string][]byte{"1": wren}), Options{})
	if want := []Told{{"1", "this is an attempt at another assignment, by Wren"}}; !slices.Equal(c.Told, want) {
		t.Errorf("%v", c.Told)
	}
}

// A handbook that differs, or lacks what a scenario needs, is told.
func TestAnotherHandbook(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	a.Handbook = "0123456789abcdef"
	wren := handedIn(t, a, "Wren", 7e9)
	wren.Handbook = a.Handbook
	wren.Attempts[0].Acts[1].Shown = "0.1 V" // as the other handbook has it
	c := collected(t, folderOf(t, a, map[string][]byte{"1": written(t, wren)}), Options{})
	if c.Handbook == "" || len(c.Learners[0].Remarks) != 1 {
		t.Errorf("%q, %q", c.Handbook, c.Learners[0].Remarks)
	}
	if _, word := c.Learners[0].Tries[0].State(); word != "does not follow" {
		t.Errorf("a learner with another handbook is said to have %s it", word)
	}
	bare := &content.Library{}
	*bare = *shipped
	bare.Rigs, bare.Scenarios = nil, nil
	if _, err := a.Scenarios(context.Background(), bare); err == nil || !strings.HasPrefix(err.Error(), "the scenario barefoot-on-the-steel-step cannot be read with this handbook: handed-out/scenarios/barefoot-on-the-steel-step.md:") {
		t.Error(err)
	}
}

func TestCollectCanBeStopped(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	ctx, stop := context.WithCancel(context.Background())
	folder := folderOf(t, a, map[string][]byte{"1": written(t, handedIn(t, a, "Wren", 7e9)), "2": written(t, handedIn(t, a, "Lark", 8e9))})
	_, err := Collect(ctx, shipped, folder, Options{Tell: func(int, int) { stop() }})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// The day by which it is due is the instructor's: what is saved on its evening, when it is
// the next day in Greenwich already, is not late.
func TestTheDayIsTheInstructors(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step") // due on 4 December
	west := time.FixedZone("eight hours behind", -8*3600)
	for _, x := range []struct {
		saved time.Time
		late  bool
	}{{time.Date(2026, 12, 4, 23, 59, 0, 0, west), false}, {time.Date(2026, 12, 5, 0, 1, 0, 0, west), true}} {
		f := handedIn(t, a, "Wren", 7e9)
		f.Saved = x.saved
		l := collected(t, folderOf(t, a, map[string][]byte{"1": written(t, f)}), Options{Zone: west}).Learners[0]
		if l.Late != x.late || !l.Saved.Equal(x.saved) {
			t.Errorf("saved at %v, late is %v", l.Saved, l.Late)
		}
	}
}
