package gui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/content/view"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/place"
)

// Drawing only reads: every page is drawn twice more, and nothing is different
// on disk, in the locks, in the session, or on the page.
func TestDrawingOnlyReads(t *testing.T) {
	t.Run("small handbook", func(t *testing.T) {
		dir := t.TempDir()
		w := openIn(t, dir, wide)
		first := w.standing()
		w.Go(place.Opening())
		second := w.standing()
		w.drawnAgain(dir, append(everywhere(w),
			place.Walk(first, 0), place.Walk(first, 1), place.Cannot(second, 1), place.Readings(second), place.Sheet(first), place.Delete(first),
			place.AllVisits(), place.Search("meter"))...)
	})
	t.Run("shipped handbook", func(t *testing.T) {
		dir := t.TempDir()
		w := openIn(t, dir, wide, shipped)
		w.toShippedBody()
		visit := w.session.Visit().ID()
		w.Answer("58")
		places := []place.Location{
			place.Walk(visit, 3), place.Search("58 V on the bumper"), place.Reading("body-voltage#body-earth", "body-earth", "58"),
			place.Circuit("", "open-neutral", visit), place.Circuit("trailer-30a", "open-ground", ""),
		}
		for _, s := range view.Scenarios(w.session.Book())[:3] {
			places = append(places, place.Scenario(s.ID))
		}
		w.drawnAgain(dir, places...)
	})
}

// drawnAgain goes to each place and draws it again.
func (w *window) drawnAgain(dir string, places ...place.Location) {
	w.t.Helper()
	for _, at := range places {
		w.Go(at)
		page, state, files := w.Text(), w.state(), w.files(dir)
		w.Render()
		w.Render()
		if now := w.Text(); now != page {
			w.t.Errorf("%+v shows something else when it is drawn again:\n%s\nand before:\n%s", at, now, page)
		}
		if now := w.state(); now != state {
			w.t.Errorf("drawing %+v has changed the session:\n%s\nbefore:\n%s", at, now, state)
		}
		if now := w.files(dir); now != files {
			w.t.Errorf("drawing %+v has changed the folder:\n%s\nbefore:\n%s", at, now, files)
		}
	}
}

// A page of a visit does not take the visit back from another that was opened
// in the meantime.
func TestDrawingDoesNotOpenAVisit(t *testing.T) {
	w := open(t, wide)
	first := w.standing()
	w.Go(place.Opening())
	second := w.standing()
	must.Have(w.session.Open(first))(t)
	w.Render()
	w.Want("not on record") // the page cannot show the visit that it is about
	if w.session.UnderWay(first) == nil || w.session.UnderWay(second) != nil {
		t.Error("drawing has switched the visit")
	}
	w.Back()
	w.Forward()
	w.Want("Prove the meter")
	if w.session.UnderWay(second) == nil {
		t.Error("arriving has not opened the visit")
	}
}

// state is all that the session knows, the visit under way by its address.
func (w *window) state() string { return fmt.Sprintf("%+v %+v %q", *w.session, w.Here(), w.Said()) }

// files tells of every file of a folder, and which visits in it are locked.
func (w *window) files(dir string) string {
	w.t.Helper()
	var out strings.Builder
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		fmt.Fprintf(&out, "%s %v %q\n", path, info.ModTime(), text)
		return nil
	})
	if err != nil {
		w.t.Fatal(err)
	}
	other, err := store.Open(filepath.Join(dir, "visits"))
	if err != nil {
		w.t.Fatal(err)
	}
	defer other.Close()
	all, err := other.List()
	if err != nil {
		w.t.Fatal(err)
	}
	for _, v := range all {
		f, err := other.Open(v.ID)
		fmt.Fprintf(&out, "%s: %v\n", v.ID, err)
		if err == nil {
			f.Close()
		}
	}
	return out.String()
}
