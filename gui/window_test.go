package gui

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
	"faultwright/search"
)

var small, middle, wide = frametest.Small, frametest.Middle, frametest.Wide

// window is a window with a reader at it.
type window struct {
	*Window
	*frametest.Reader
	t      testing.TB
	visits *store.Store
}

// open opens a window in memory over the small handbook of the tests, past
// the first start. It keeps visits in a folder of its own.
func open(t testing.TB, size fyne.Size, change ...func(*Options)) *window {
	t.Helper()
	return openIn(t, t.TempDir(), size, change...)
}

func openIn(t testing.TB, dir string, size fyne.Size, change ...func(*Options)) *window {
	t.Helper()
	visits := must.Have(store.Open(filepath.Join(dir, "visits")))(t)
	t.Cleanup(func() { visits.Close() })
	o := Options{
		Settings: filepath.Join(dir, "settings.json"), Visits: session.OnDisk(visits), Inline: true,
		Now:  func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) },
		read: testBook.read, index: testBook.index, draw: (&sessiontest.Vehicles{}).Draw,
	}
	if _, err := os.Stat(o.Settings); err != nil {
		s := session.DefaultSettings()
		s.Welcomed, s.Colours = true, "light"
		must.Do(t, session.WriteSettings(o.Settings, s))
	}
	for _, c := range change {
		c(&o)
	}
	w := New(test.NewTempApp(t), o)
	t.Cleanup(func() { w.session.Close() })
	return &window{w, frametest.NewReader(t, w.Frame, size), t, visits}
}

// shipped opens the window over the shipped handbook.
func shipped(o *Options) { o.read, o.index = shippedBook.read, shippedBook.index }

// unkept keeps no visits.
func unkept(o *Options) { o.Visits = nil }

// openShipped is a window over the shipped handbook that keeps no visits.
func openShipped(t testing.TB, size fyne.Size) *window {
	t.Helper()
	return open(t, size, shipped, unkept)
}

// book is a handbook that is read and indexed once for all tests, which only
// read in it.
type book struct {
	read  func(context.Context) (*content.Library, error)
	index func(context.Context, *content.Library) (*search.Index, error)
}

// readOnce reads at the first call and indexes at the first search.
func readOnce(read func() (*content.Library, error)) book {
	read = sync.OnceValues(read)
	index := sync.OnceValues(func() (*search.Index, error) {
		lib, err := read()
		if err != nil {
			return nil, err
		}
		return search.Build(context.Background(), lib)
	})
	return book{
		read: func(context.Context) (*content.Library, error) { return read() },
		index: func(ctx context.Context, lib *content.Library) (*search.Index, error) {
			if own, err := read(); err == nil && lib == own {
				return index()
			}
			return search.Build(ctx, lib)
		},
	}
}

var (
	testBook    = readOnce(func() (*content.Library, error) { return load.Dir(context.Background(), "../testdata/handbook") })
	shippedBook = readOnce(func() (*content.Library, error) { return load.Shipped(), nil })
)

// folder reads the handbook from a folder.
func folder(dir string) func(*Options) {
	return func(o *Options) { o.ContentDir, o.read, o.index = dir, nil, nil }
}

// set changes the settings and shows them, as the page of the settings does.
func (w *window) set(change func(*session.Settings)) {
	if err := w.session.Set(change); err != nil {
		w.t.Fatal(err)
	}
	w.SetLook(w.session.Settings().Colours, w.session.Settings().TextSize)
	w.Render()
}

func (w *window) colours(m look.Mode) {
	w.set(func(s *session.Settings) { s.Colours = m.String() })
}

// begin begins a visit at a step and shows it.
func (w *window) begin(at faulttree.Ref) {
	w.t.Helper()
	out, err := w.session.Begin(at)
	if err != nil {
		w.t.Fatal(err)
	}
	w.Go(out.To, out.Said)
}

// beginKnown begins at a step and answers the facts it asks first, so that all of
// its quantities are there.
func (w *window) beginKnown(s *faulttree.Step) {
	w.t.Helper()
	w.begin(s.Ref())
	for w.session.Visit().Walk().Step().Kind == faulttree.KindFact {
		fact := w.session.Visit().Walk().Step()
		answer := faulttree.Answer{Choice: fact.Choices[0].ID}
		for _, v := range s.Measure {
			if needs := v.Quantity.Needs[fact.ID]; len(needs) > 0 {
				answer.Choice = needs[0]
			}
		}
		out, err := w.session.Answer(w.session.Visit().ID(), answer)
		if err != nil {
			w.t.Fatal(err)
		}
		w.Go(out.To, out.Said)
	}
}

// scrolled is how far the page is scrolled.
func (w *window) scrolled() float32 { return w.Window.Window().Content().(*look.Columns).Offset() }
