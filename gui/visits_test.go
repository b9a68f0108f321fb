package gui

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/faulttree/must"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// A test after repair that has only begun hides nothing: the list keeps the
// finding, does not call tested what nobody read again, and counts as the
// finding does; the sheet has the finding too.
func TestStoryOfTheListAfterRepair(t *testing.T) {
	const found = "DANGER: The grounding conductor is lost between pedestal and vehicle. 3 readings."
	w := open(t, wide)
	w.toFinding()
	w.Press("Test after repair")
	w.Go(place.Visits())
	w.Want(found+" Test after repair: begun, nothing has been read again yet.", "Open", "Make the sheet")
	if text := w.Text(); strings.Contains(text, "answer") || strings.Contains(text, "tested") {
		t.Errorf("the list counts answers, or says tested:\n%s", text)
	}
	sheet := string(w.session.Sheet(w.session.Visit().Record(), session.Plain, nil))
	if !strings.Contains(sheet, "The grounding conductor is lost") {
		t.Error("the sheet lacks the finding")
	}
	w.Press("Open")
	w.Pick("2")
	w.Answer("120.0")
	w.Go(place.Visits())
	w.Want(found + " Test after repair: begun, 1 reading taken again.")
}

// A damaged record and an unfinished one are listed with what is lost.
func TestDamagedVisitsAreListed(t *testing.T) {
	dir := t.TempDir()
	w := openIn(t, dir, wide)
	w.toFinding()
	record := filepath.Join(dir, "visits", w.session.Visit().ID()+".visit")
	w.session.Close()
	whole := must.Have(os.ReadFile(record))(t)
	lines := bytes.SplitAfter(whole, []byte("\n"))
	lines[2] = bytes.Replace(lines[2], []byte("119.8"), []byte("119.9"), 1)
	torn := append(bytes.Join(lines, nil), `{"crc":"0`...)
	must.Do(t, os.WriteFile(record, torn, 0o600))
	w.Go(place.Visits())
	w.Want("Part of the record cannot be read: line 3 of the record", "The last line of the record is unfinished: ", "Open", "Delete")
	w.Press("Delete")
	w.Want("Delete this visit?", "“A tingle from the body”, today 09:40.")
}

// A visit that is gone, or never was, says so and leads on.
func TestVisitThatIsNotThere(t *testing.T) {
	w := open(t, small)
	w.Go(place.Walk("2026-01-01-none2", 0))
	w.Want("Not found", "This visit is not on record any more.")
	w.Go(place.Sheet("../../etc/passwd"))
	w.Want("cannot be a name among the visits")
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
