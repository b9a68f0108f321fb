package vehicles

import (
	"bytes"
	"context"
	"errors"
	"io"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"faultwright/content/load"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/logbook/store"
	"faultwright/faulttree/must"
	visits "faultwright/faulttree/visit/store"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// stick is where a file is saved, and opened from; full is what writing to it answers.
type stick struct {
	bytes.Buffer
	full error
	name string
}

func (s *stick) AskSave(name, ending string, then func(fyne.URIWriteCloser, error)) {
	s.name = name + ending
	then(s, nil)
}
func (s *stick) AskOpen(_ string, then func(fyne.URIReadCloser, error)) { then(s, nil) }
func (s *stick) URI() fyne.URI                                          { return storage.NewFileURI("/stick/" + s.name) }
func (s *stick) Close() error                                           { return nil }

func (s *stick) Write(p []byte) (int, error) {
	if s.full != nil {
		return 0, s.full
	}
	return s.Buffer.Write(p)
}

// at is a window over the small handbook whose files are on a stick.
func at(t *testing.T, files *stick) (*session.Session, *frametest.Reader) {
	t.Helper()
	dir := t.TempDir()
	kept := must.Have(store.Open(filepath.Join(dir, "vehicles")))(t)
	records := must.Have(visits.Open(filepath.Join(dir, "visits")))(t)
	t.Cleanup(func() { kept.Close(); records.Close() })
	now := func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) }
	s := must.Have(session.New(session.Options{Visits: session.OnDisk(records), Vehicles: kept, Now: now}))(t)
	s.UseBook(must.Have(load.Dir(context.Background(), "../../testdata/handbook"))(t))
	_, r := frametest.Open(t, frametest.Wide, frame.Options{}, place.Vehicles(), func(f *frame.Frame) {
		a := New(f, s)
		a.files = files
		f.Add(a.Pages(""))
	})
	return s, r
}

// A vehicle is saved as a file and taken from it elsewhere; a full stick, and a file that
// is none, are told.
func TestFileFromWindowToWindow(t *testing.T) {
	files := &stick{}
	_, r := at(t, files)
	r.Press("Add a vehicle")
	r.Type("Willow, plate QH 14")
	r.Press("Keep it")
	files.full = errors.New("no space is left")
	r.Press("Save as a file")
	r.WantSaid("The vehicle could not be written to /stick/Willow--plate-QH-14.zip. No space is left.")
	files.full = nil
	r.Press("Save as a file")
	r.WantSaid("The vehicle and its visits were saved to /stick/Willow--plate-QH-14.zip.")
	whole := files.Bytes()

	there, elsewhere := at(t, files)
	elsewhere.Press("Take one from a file")
	elsewhere.WantSaid("“Willow, plate QH 14” was taken. 0 visits were added.")
	elsewhere.Want("Nothing is noted of it yet.")
	if all, _, err := there.Vehicles(); err != nil || len(all) != 1 {
		t.Fatal(all, err)
	}
	files.Reset()
	must.Have(io.Copy(&files.Buffer, bytes.NewReader(whole[:len(whole)/2])))(t)
	elsewhere.Press("Delete")
	elsewhere.Press("Delete it, keep its visits")
	elsewhere.Press("Take one from a file")
	elsewhere.WantSaid("Nothing was taken. The ZIP file is cut off or damaged")
}

// A name of whatever letters is a name of a file.
func TestFileName(t *testing.T) {
	for name, want := range map[string]string{"Willow 22": "Willow-22", "../../etc": "etc", "貨車": "vehicle", "": "vehicle"} {
		if got := fileName(logbook.Vehicle{Name: name}); got != want {
			t.Errorf("%q is saved as %q, want %q", name, got, want)
		}
	}
}
