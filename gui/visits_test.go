package gui

import (
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// A long list is shown in part, the newest first, and whole on demand.
func TestManyVisits(t *testing.T) {
	d := desk(t, wide)
	start := time.Date(2026, 4, 1, 8, 0, 0, 0, time.UTC)
	for i := range mostRows + 3 {
		f, err := d.options.Visits.Create(visit.Header{
			Start: faulttree.Ref{Tree: "tingle", Step: "felt"}, Meter: faulttree.DefaultMeter(), Started: start.Add(time.Duration(i) * time.Hour),
			Details: visit.Details{Site: "Quillback Hollow, site " + itoa(i)},
		})
		if err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	d.Go(Location{Page: pageVisits})
	d.wantShown(t, "Quillback Hollow, site 62, 3 April 22:00, 0 answers", "Show 3 older visits")
	d.press(t, "Show 3 older visits")
	d.wantShown(t, "Quillback Hollow, site 0, 1 April 08:00")
	d.Back()
	d.wantShown(t, "Show 3 older visits")
}

// A visit that is gone, or never was, says so and leads on.
func TestVisitThatIsNotThere(t *testing.T) {
	d := desk(t, small)
	d.Go(Location{Page: pageWalk, ID: "2026-01-01-none2"})
	d.wantShown(t, "Not found", "This visit is not on record any more.")
	d.Go(Location{Page: pageMake, ID: "../../etc/passwd"})
	d.wantShown(t, "can not be the name of a visit")
	d.press(t, "To the beginning")
	d.wantShown(t, "What is happening?")
}

// Without a folder visits work all the same, and nothing claims to be kept.
func TestWithoutAFolder(t *testing.T) {
	d := desk(t, wide, func(o *Options) { o.Visits = nil; o.Problem = "Nothing of this will be kept." })
	if d.shell.note != "Nothing of this will be kept." {
		t.Errorf("the window says %q", d.shell.note)
	}
	d.toFinding(t)
	d.wantShown(t, "The grounding conductor is lost")
	d.Go(Location{Page: pageVisits})
	d.wantShown(t, "Visits are not kept")
}
