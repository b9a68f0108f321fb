package gui

import (
	"testing"

	"faultwright/gui/place"
)

// A visit that is gone, or never was, says so and leads on.
func TestVisitThatIsNotThere(t *testing.T) {
	w := open(t, small)
	w.Go(place.Walk("2026-01-01-none2", 0))
	w.Want("Not found", "This visit is not on record any more.")
	w.Go(place.Sheet("../../etc/passwd"))
	w.Want("cannot be the name of a visit")
	w.Press("To the beginning")
	w.Want("What is happening?")
}

// Without a folder visits work all the same, and nothing claims to be kept.
func TestWithoutAFolder(t *testing.T) {
	w := open(t, wide, func(o *Options) { o.Visits = nil; o.Problem = "Nothing of this will be kept." })
	if w.Said() != "Nothing of this will be kept." {
		t.Errorf("the window says %q", w.Said())
	}
	w.toFinding()
	w.Want("The grounding conductor is lost")
	w.Go(place.Visits())
	w.Want("Visits are not kept")
}
