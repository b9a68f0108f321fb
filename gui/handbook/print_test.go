package handbook

import (
	"bytes"
	"errors"
	"io"
	"net/url"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"faultwright/content/load"
	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/faulttree/must"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// saving is a reader who chooses a file as soon as one is asked for.
type saving struct {
	file   fyne.URIWriteCloser // nil is a reader who thinks better of it
	err    error
	asked  string
	opened []string
}

func (s *saving) AskSave(name, ending string, then func(fyne.URIWriteCloser, error)) {
	s.asked = name + ending
	then(s.file, s.err)
}

func (s *saving) OpenFile(u *url.URL) error {
	s.opened = append(s.opened, u.String())
	return nil
}

// written is a file that takes what is written; failing is why it does not.
type written struct {
	bytes.Buffer
	failing error
}

func (w *written) Write(text []byte) (int, error) {
	if w.failing != nil {
		return 0, w.failing
	}
	return w.Buffer.Write(text)
}
func (w *written) Close() error  { return nil }
func (w *written) URI() fyne.URI { return storage.NewFileURI("/pinned/page.html") }

var _ io.WriteCloser = (*written)(nil)

// A walk, a card and a chart are saved as pages to pin up, on the paper that was chosen,
// and the window says where they are; or why they are not there.
func TestPageToPinUpIsSaved(t *testing.T) {
	now := func() time.Time { return time.Date(2026, 11, 29, 9, 40, 0, 0, time.UTC) }
	s := must.Have(session.New(session.Options{Now: now}))(t)
	s.UseBook(load.Shipped())
	f := frame.New(test.NewTempApp(t))
	f.SetLook("light", 1)
	files := &saving{}
	area := New(f, s, Sources{})
	area.files = files
	f.Add(area.Pages(""))
	f.Open(frame.Options{Inline: true}, place.Document(view.KindCard, "ghost-voltage"))
	r := frametest.NewReader(t, f, frametest.Wide)

	r.Press("Print")
	r.Want("any browser prints", "Ghost voltage")
	r.Press("Open it") // there is nothing to open yet
	r.Press("Save the page")
	if f.Said() != "" || len(files.opened) > 0 || files.asked != "ghost-voltage-a4.html" {
		t.Errorf("nothing was saved, and the window says %q; asked for %s", f.Said(), files.asked)
	}
	card := &written{}
	files.file = card
	r.Press("Letter")
	r.Press("Save the page")
	r.WantSaid("The page was saved to /pinned/page.html")
	r.Picture("print")
	if want := must.Have(print.Bytes(s.Book(), "ghost-voltage", print.Options{Paper: print.Letter, Printed: now()}))(t); !bytes.Equal(card.Bytes(), want) {
		t.Error("the card saved is not the one that the terminal prints")
	}
	r.Press("Open it")
	if len(files.opened) != 1 || files.opened[0] != "file:///pinned/page.html" {
		t.Errorf("opened was %q", files.opened)
	}
	if strings.Contains(r.Text(), "blank form") {
		t.Error("a card has a form for readings")
	}

	form := &written{}
	files.file = form
	f.Go(place.Print("pedestal-30a"))
	r.Press("Save the blank form")
	if !strings.Contains(form.String(), "<code>pedestal.l1-n</code>") || files.asked != "pedestal-30a-form-letter.html" {
		t.Errorf("the form asked for is %s:\n%.300s", files.asked, form.String())
	}
	f.Go(place.Print("pedestal#legs"))
	files.file = &written{failing: errors.New("no space is left on the disk")}
	r.Press("Save the page")
	r.WantSaid("could not be written", "space is left")
	files.file, files.err = nil, errors.New("the folder cannot be read")
	r.Press("Save the page")
	r.WantSaid("was not saved", "folder cannot be read")
	f.Go(place.Handbook("", ""))
	r.Press("Print all of it")
	whole := &written{}
	files.file, files.err = whole, nil
	r.Press("Save the page")
	if files.asked != "handbook-letter.html" || !strings.Contains(whole.String(), "How readings are taken") {
		t.Errorf("the whole handbook is saved as %s, %d bytes", files.asked, whole.Len())
	}
	f.Go(place.Print("no-such-thing"))
	r.Want("nothing to print")
	r.WantNothingCut()
}
