package gui

import (
	"strconv"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/gui/place"
)

// A long list is shown in part, the newest first, and whole on demand.
func TestManyVisits(t *testing.T) {
	w := open(t, wide)
	start := time.Date(2026, 4, 1, 8, 0, 0, 0, time.UTC)
	for i := range 63 {
		f, err := w.visits.Create(visit.Header{
			Start: faulttree.Ref{Tree: "tingle", Step: "felt"}, Meter: faulttree.DefaultMeter(), Started: start.Add(time.Duration(i) * time.Hour),
			Details: visit.Details{Site: "Quillback Hollow, site " + strconv.Itoa(i)},
		})
		if err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	w.Go(place.Visits())
	w.Want("Quillback Hollow, site 62, 3 April 22:00, 0 answers", "Show 3 older visits")
	w.Press("Show 3 older visits")
	w.Want("Quillback Hollow, site 0, 1 April 08:00")
	w.Back()
	w.Want("Show 3 older visits")
}

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
