package class

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/class"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// toFolder opens the folder of a class that has handed in.
func (w *window) toFolder(learners ...string) {
	w.t.Helper()
	handIn(w.t.(*testing.T), w.chooser.dir, learners...)
	w.chooser.choice = "."
	w.Press("Handed in")
}

// An attempt is gone through step by step, with the keys and with the buttons, and
// does not leave it at either end.
func TestStoryGoesThroughAnAttempt(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.toFolder("Wren")
	w.Go(place.Attempt("wren.zip", 0))
	all := class.Replay(w.session.Book(), w.area.opened.all.Learners[0].Tries[0], nil)
	foot := func() string { return look.TextOf(w.Shown().Foot) }
	wantAt := func(n int) {
		t.Helper()
		if text := foot(); !strings.Contains(text, all[n].What) || !strings.Contains(text, all[n].Came) {
			t.Errorf("at step %d of %d the page says:\n%s", n+1, len(all), text)
		}
	}
	w.Key(fyne.KeyLeft)
	wantAt(0)
	w.Key(fyne.KeyRight)
	wantAt(1)
	w.Press("The next step")
	wantAt(2)
	w.Press("The step before")
	wantAt(1)
	for range len(all) + 3 {
		w.Key(fyne.KeyRight)
	}
	wantAt(len(all) - 1)
	if !strings.Contains(foot(), "Concluded") {
		t.Errorf("the last step is not the conclusion:\n%s", foot())
	}
	w.Press("The next one")
	w.Want("One spark from the door handle")
	all = class.Replay(w.session.Book(), w.area.opened.all.Learners[0].Tries[1], nil)
	wantAt(0)
}

// The table is shown to the class alone and large, without names until they are asked for.
func TestStoryShowsTheTableToTheClass(t *testing.T) {
	for _, colours := range []string{"light", "dark"} {
		for _, size := range []fyne.Size{frametest.Wide, frametest.Small} {
			w := open(t, size, unmarked())
			w.SetLook(colours, 1)
			w.toFolder("Wren", "Ash", "Juniper")
			w.Press("Show it to the class")
			w.Want("Learner 1", "Learner 3", "to the nearest quarter")
			text := w.Text()
			for _, secret := range []string{"Wren", "UNSAFE ACTS", "Save the marks"} {
				if strings.Contains(text, secret) {
					t.Errorf("before the class stands %q:\n%s", secret, text)
				}
			}
			w.WantNothingCut()
			w.Picture(pictured("class-projected-"+colours, size))
			w.Press("Show the names")
			w.Want("Wren")
			w.Press("Hide the names")
			w.Press("The whole page")
			w.Want("Learner 1", "Save the marks")
		}
	}
}

// A table of ten scenarios is still one, on the wall too: the scenarios are numbered, and the
// shapes alone stand in its cells.
func TestATableOfManyScenarios(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.toFolder("Wren", "Ash")
	c := w.area.opened.all
	for range 4 {
		c.Scenarios = append(c.Scenarios, c.Scenarios[:2]...)
		for _, l := range c.Learners {
			l.Tries = append(l.Tries, l.Tries[:2]...)
		}
	}
	c.Learners[0].Tries[9] = &class.Checked{Scenario: c.Scenarios[1], Marks: &class.Marks{Marks: mark.Marks{Total: 70, Word: "good, with gaps", Caps: make([]mark.Cap, 2)}}, Copied: []string{"x"}}
	c.Learners[0].Tries[9].Attempt.Conclusion = c.Learners[0].Tries[0].Attempt.Conclusion
	w.Render()
	for range 2 {
		w.Want("◕ 70 ▲ =", "handed in", "10  One spark from the door handle")
		if text := w.Text(); strings.Contains(text, "good, with gaps") {
			t.Errorf("the table has words:\n%s", text)
		}
		w.WantNothingCut()
		w.Picture(pictured("class-many-"+strconv.FormatBool(w.area.opened.projected), frametest.Wide))
		w.area.project(true)
	}
}

// A feedback that was saved opens; a page of somebody else's making does not.
func TestFeedbackIsOpened(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.toFolder("Wren")
	w.Press("Save the feedback")
	w.Go(place.Class())
	w.chooser.choice = "feedback-Tingles-before-supper/feedback-Wren.html"
	w.Press("Open a feedback")
	w.WantSaid("The feedback opens")
	if want := filepath.Join(w.chooser.dir, "feedback-Tingles-before-supper/feedback-Wren.html"); w.chooser.shown != want {
		t.Errorf("opened is %q, not %q", w.chooser.shown, want)
	}
	whole := must.Have(os.ReadFile(w.chooser.shown))(t)
	w.chooser.shown = ""
	for name, text := range map[string]string{
		"script.html":  "<!DOCTYPE html><script>alert(1)</script>",
		"open.html":    strings.Replace(string(whole), "default-src", "x-src", 1),
		"before.html":  "<script>alert(1)</script>" + string(whole),
		"nothing.html": "",
	} {
		must.Do(t, os.WriteFile(filepath.Join(w.chooser.dir, name), []byte(text), 0o600))
		w.chooser.choice = name
		w.Press("Open a feedback")
		w.WantSaid("The feedback was not opened. This page was not made by this version of the program")
	}
	w.chooser.choice = "gone.html"
	w.Press("Open a feedback")
	w.WantSaid("The feedback was not opened.")
	w.chooser.choice = ""
	w.Press("Open a feedback") // thought better of it
	if w.chooser.shown != "" {
		t.Errorf("%s was opened", w.chooser.shown)
	}
}

// What goes wrong with the files of a class is said, and the rest stays as it is.
func TestWhatGoesWrongWithAFolder(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.area.OpenFolder(filepath.Join(w.chooser.dir, "gone"))
	w.WantSaid("This folder cannot be read.")
	w.Want("Nothing is open")

	w.chooser.err = nil
	must.Do(t, os.WriteFile(filepath.Join(w.chooser.dir, "holiday.zip"), []byte("no ZIP"), 0o600))
	w.Go(place.Class())
	w.toFolder("Wren", "Ash")
	w.Want("holiday.zip", "Wren", "Ash")

	w.chooser.full = true
	for _, b := range []string{"Save the marks (CSV)", "Save the page (HTML)"} {
		w.Press(b)
		w.WantSaid("could not be written", "No space is left")
	}
	w.chooser.full = false
	if _, err := writeFeedback(filepath.Join(w.chooser.dir, "gone"), w.session.Book(), w.area.opened.all); err == nil {
		t.Error("feedback is said to be in a folder that is not there")
	}
	w.chooser.err = errors.New("the folder is gone")
	w.Press("Save the feedback")
	w.WantSaid("The feedback was not saved. The folder is gone.")
	w.Want("Wren", "Ash")

	all, read := w.area.opened.all, w.session.Book()
	anew := *unmarked()
	w.session.UseBook(&anew)
	w.area.opened = opened{doing: "The attempts are verified"}
	w.area.showFolder(folderRead{book: read, all: all}, nil)
	w.WantSaid("The handbook was read anew meanwhile")
	if w.area.opened.all != nil {
		t.Error("a class verified with a handbook that is no longer in use is shown")
	}
}

// A folder in which only the assignment lies has a table without rows, and says so.
func TestNobodyHasHandedIn(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.toFolder()
	w.Want("Nobody has handed in anything at this assignment yet.")
	w.Press("Show it to the class")
	w.Want("Nobody has handed in anything")
}

// An attempt without a conclusion has no total, on its own page as in the table.
func TestNoTotalWithoutAConclusion(t *testing.T) {
	w := open(t, frametest.Wide, unmarked())
	w.toFolder("Wren")
	x := w.area.opened.all.Learners[0].Tries[0]
	x.Marks = &class.Marks{Marks: mark.Marks{Total: 10, Word: "not yet"}}
	w.Go(place.Attempt("wren.zip", 0))
	w.Want("not yet, 10 of 100")
	x.Attempt.Conclusion = nil
	w.Render()
	w.Want("no conclusion")
	if strings.Contains(w.Text(), "of 100") {
		t.Errorf("an attempt without a conclusion has a total:\n%s", w.Text())
	}
}
