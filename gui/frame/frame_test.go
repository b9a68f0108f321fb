package frame_test

import (
	"errors"
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// noted is two pages that note what is asked of them.
type noted struct {
	log  []string
	said string // what the walk says on arriving
	err  error  // why the walk cannot be shown
}

func (n *noted) entries() map[place.Page]frame.Entry {
	entry := func(name string, said func() (string, error)) frame.Entry {
		return frame.Entry{
			Arrive: func(place.Location) (string, error) { n.log = append(n.log, "arrive "+name); return said() },
			Leave:  func() { n.log = append(n.log, "leave "+name) },
			Build: func(place.Location) frame.Page {
				n.log = append(n.log, "draw "+name)
				return frame.Page{Body: []fyne.CanvasObject{look.NewText("the page " + name)}}
			},
		}
	}
	return map[place.Page]frame.Entry{
		place.OpeningPage: entry("opening", func() (string, error) { return "", nil }),
		place.WalkPage:    entry("walk", func() (string, error) { return n.said, n.err }),
	}
}

// noticed is what was asked of the pages since it was called last.
func (n *noted) noticed() []string {
	log := n.log
	n.log = nil
	return log
}

func openNoted(t *testing.T, o frame.Options) (*noted, *frame.Frame, *frametest.Reader) {
	t.Helper()
	n := &noted{}
	w, r := frametest.Open(t, frametest.Wide, o, place.Opening(), func(f *frame.Frame) { f.Add(n.entries()) })
	n.noticed()
	return n, w, r
}

// Each way to a place arrives at it once, and leaves the one before; drawing it
// again does neither.
func TestArrivingAndDrawing(t *testing.T) {
	n, w, _ := openNoted(t, frame.Options{})
	for _, way := range []struct {
		name string
		take func()
		want []string
	}{
		{"go", func() { w.Go(place.Walk("v1", 0)) }, []string{"leave opening", "arrive walk", "draw walk"}},
		{"draw again", w.Render, []string{"draw walk"}},
		{"say", func() { w.Say("something") }, []string{"draw walk"}},
		{"return", func() { w.Return("") }, []string{"arrive walk", "draw walk"}},
		{"replace", func() { w.Replace(place.Walk("v1", 1)) }, []string{"leave walk", "arrive walk", "draw walk"}},
		{"back", w.Back, []string{"leave walk", "arrive opening", "draw opening"}},
		{"back at the first place", w.Back, nil},
		{"forward", w.Forward, []string{"leave opening", "arrive walk", "draw walk"}},
		{"forward at the last place", w.Forward, nil},
	} {
		way.take()
		if got := n.noticed(); !slices.Equal(got, way.want) {
			t.Errorf("%s: %q, want %q", way.name, got, way.want)
		}
	}
}

// A message stands above the page that it was said on the way to, with what
// that page says on arriving, until the next one.
func TestMessages(t *testing.T) {
	n, w, r := openNoted(t, frame.Options{})
	n.said = "The visit before could not be closed."
	w.Go(place.Walk("v1", 0), "", "It was deleted.")
	if want := "It was deleted. The visit before could not be closed."; w.Said() != want {
		t.Errorf("it says %q, want %q", w.Said(), want)
	}
	r.Want("the page walk")
	w.Render()
	if w.Said() == "" {
		t.Error("drawing has taken the message away")
	}
	w.Back()
	if w.Said() != "" {
		t.Errorf("on the page before it says %q", w.Said())
	}
}

// A place that cannot be shown says why and leads on; it is tried again when
// the reader comes back.
func TestAPlaceThatCannotBeShown(t *testing.T) {
	n, w, r := openNoted(t, frame.Options{})
	n.err = errors.New("This visit is not on record any more.")
	w.Go(place.Walk("v1", 0))
	r.Want("Not found", "This visit is not on record any more.")
	w.Render()
	r.Want("Not found")
	if got := n.noticed(); slices.Contains(got, "draw walk") {
		t.Errorf("it was drawn: %q", got)
	}
	r.Press("To the beginning")
	r.Want("the page opening")
	n.err = nil
	w.Back()
	r.Want("the page walk")
	w.Go(place.Settings())
	r.Want("There is no such page.")
}

// Another place can be put first.
func TestDirected(t *testing.T) {
	first := true
	n, w, r := openNoted(t, frame.Options{Direct: func(to place.Location) (place.Location, string) {
		if first {
			return place.Opening(), "Read this first."
		}
		return to, ""
	}})
	w.Go(place.Walk("v1", 0))
	r.WantSaid("Read this first.")
	if w.Here() != place.Opening() || slices.Contains(n.noticed(), "arrive walk") {
		t.Errorf("the reader is at %+v", w.Here())
	}
	first = false
	w.Go(place.Walk("v1", 0))
	if w.Here() != place.Walk("v1", 0) {
		t.Errorf("the reader is at %+v", w.Here())
	}
}
