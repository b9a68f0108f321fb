package walk

import (
	"context"
	"errors"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// saving is a window whose reader chooses a file as soon as one is asked for.
type saving struct {
	*frame.Frame
	file   fyne.URIWriteCloser // nil is a reader who thinks better of it
	err    error
	asked  string
	opened []string
}

func (s *saving) OpenFile(u *url.URL) error {
	s.opened = append(s.opened, u.String())
	return s.Frame.OpenFile(u)
}

func (s *saving) AskSave(name, ending string, then func(fyne.URIWriteCloser, error)) {
	s.asked = name + ending
	then(s.file, s.err)
}

// target is a file to save to.
type target struct {
	io.WriteCloser
	path string
}

func (t target) URI() fyne.URI { return storage.NewFileURI(t.path) }

// full is a file on a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space is left on the disk") }
func (full) Close() error              { return nil }

// The sheet goes into the file that the reader chooses, with the site that was
// typed, and the window says where it is; or why it is not there.
func TestSheetIsSaved(t *testing.T) {
	book := must.Have(load.Dir(context.Background(), "../../testdata/handbook"))(t)
	now := func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) }
	s := must.Have(session.New(session.Options{Now: now, Random: func() uint64 { return 7 }}))(t)
	s.UseBook(book)
	out := must.Have(s.Begin(faulttree.Ref{Tree: "tingle"}))(t)
	w := &saving{Frame: frame.New(test.NewTempApp(t))}
	w.SetLook("light", 1)
	area := New(w.Frame, s)
	area.files = w
	w.Add(area.Pages("", ""))
	w.Open(frame.Options{Inline: true}, place.Sheet(out.To.ID))
	r := frametest.NewReader(t, w.Frame, frametest.Wide)
	r.Type("Quillback Hollow, site 14")

	r.Press("Open it") // there is nothing to open yet
	r.Press("Save for printing")
	if w.Said() != "" || len(w.opened) > 0 {
		t.Errorf("nothing was saved, and the window says %q", w.Said())
	}
	if record := s.Visit().Record(); record.Details().Site != "Quillback Hollow, site 14" {
		t.Errorf("on record is site %q", record.Details().Site)
	}
	path := filepath.Join(t.TempDir(), "sheet.html")
	file := must.Have(os.Create(path))(t)
	w.file = target{file, path}
	r.Press("Save for printing")
	r.WantSaid("saved to " + path)
	saved, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(saved), "Quillback Hollow, site 14") || !strings.Contains(string(saved), "<html") {
		t.Errorf("saved: %v\n%s", err, saved)
	}
	if !strings.Contains(w.asked, "2026-05-03") || !strings.HasSuffix(w.asked, ".html") {
		t.Errorf("the file is to be named %s", w.asked)
	}
	r.Press("Open it")
	if want := "file://" + path; len(w.opened) != 1 || w.opened[0] != want {
		t.Errorf("opened was %q, want %s", w.opened, want)
	}
	if err := w.Frame.OpenFile(&url.URL{Scheme: "https", Host: "example.org"}); err == nil {
		t.Error("something else than a file of this machine was opened")
	}
	w.file = target{full{}, path}
	r.Press("Save as text")
	r.WantSaid("could not be written", "No space")
	w.file, w.err = nil, errors.New("the folder cannot be read")
	r.Press("Save as text")
	r.WantSaid("was not saved", "The folder cannot be read")
	r.Press("Copy as text")
	if text := fyne.CurrentApp().Clipboard().Content(); !strings.Contains(text, "Quillback Hollow, site 14") {
		t.Errorf("copied %q", text)
	}
}
