package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
	"faultwright/gui/place"
)

// turning are marks that turn the direction of what follows: "site 41" would
// show as "14 etis". With evil come a bell and a command for a terminal.
const (
	turning = "\u202e\u2066\u200f"
	evil    = turning + "\a\x1b[31m\u009b"
	unfit   = turning + "\a\x1b\u009b"
)

// wantClean fails if anything drawn in the window holds what may not be shown,
// or if none of the words is drawn.
func (w *window) wantClean(words string) {
	w.t.Helper()
	found := false
	for _, o := range test.LaidOutObjects(w.Window.Window().Content()) {
		text, ok := o.(*canvas.Text)
		if !ok {
			continue
		}
		if strings.ContainsAny(text.Text, unfit) {
			w.t.Errorf("%+v draws %q", w.Here(), text.Text)
		}
		found = found || strings.Contains(text.Text, words)
	}
	if !found {
		w.t.Errorf("%+v does not draw %q:\n%s", w.Here(), words, w.Text())
	}
}

// Marks that turn the direction of writing, and control characters, reach the
// screen from nowhere.
func TestMarksTypedOnTheSheet(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	w.Press("Make the sheet")
	for _, words := range []string{"Quillback, site 41", "Trailer 7", "By the gate"} {
		w.Type(evil + words)
		w.wantClean(words)
		w.Window.Window().Canvas().FocusNext()
	}
	w.Press("Copy as text")
	w.Go(place.Visits())
	w.wantClean("Quillback, site 41")
	w.wantClean("Trailer 7")
}

func TestMarksOfAJournal(t *testing.T) {
	w := open(t, wide)
	file := must.Have(w.visits.Create(visit.Header{
		Start: faulttree.Ref{Tree: "tingle", Step: "felt"}, Meter: faulttree.DefaultMeter(), Started: time.Date(2026, 5, 3, 8, 0, 0, 0, time.UTC),
		Details: visit.Details{Site: evil + "Quillback, site 41", Vehicle: evil + "Trailer 7", Note: evil + "By the gate"},
	}))(t)
	id := file.Record().Header.ID
	must.Do(t, file.Close())
	w.Go(place.Visits())
	w.wantClean("Quillback, site 41")
	w.Press("Delete")
	w.wantClean("Trailer 7")
	w.Go(place.Sheet(id))
	w.wantClean("By the gate")
}

func TestMarksPastedIntoTheSearch(t *testing.T) {
	w := open(t, wide)
	w.StartSearch()
	clipboard := test.NewClipboard()
	clipboard.SetContent(evil + "chocolate")
	w.Window.Window().Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: clipboard})
	w.wantClean("chocolate")
}

func TestMarksOfADocument(t *testing.T) {
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, os.DirFS(filepath.Join("..", "testdata", "handbook"))))
	card := "---\ncard: turned\ntitle: " + turning + "A turned title\nsources: [published-limit]\n---\nText that " + turning + "turns.\n"
	must.Do(t, os.WriteFile(filepath.Join(dir, "cards", "turned.md"), []byte(card), 0o600))
	w := open(t, wide, folder(dir))
	w.Go(place.Document("card", "turned"))
	w.wantClean("A turned title")
	w.wantClean("turns.")
	w.Press("Copy page")
	if text := fyne.CurrentApp().Clipboard().Content(); strings.ContainsAny(text, turning) || !strings.Contains(text, "A turned title") {
		t.Errorf("the clipboard has %q", text)
	}
}
