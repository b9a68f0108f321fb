package flow

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content/load"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// window is a window with the page of a flow alone.
type window struct {
	*frame.Frame
	*frametest.Reader
	area *Area
	s    *session.Session
}

func open(t testing.TB, size fyne.Size) *window {
	s, err := session.New(session.Options{Now: func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) }, Random: func() uint64 { return 7 }})
	if err != nil {
		t.Fatal(err)
	}
	s.UseBook(load.Shipped())
	w := &window{s: s}
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{Title: "Faultwright"}, place.Flow("half-dead", ""), func(f *frame.Frame) {
		w.area = New(f, s)
		f.Add(w.area.Pages(""))
		f.Add(map[place.Page]frame.Entry{place.StepPage: {Build: func(place.Location) frame.Page { return frame.Page{} }}})
	})
	return w
}

// The flow of every tree draws in every mode and at every size.
func TestFlowPictures(t *testing.T) {
	for _, v := range []struct {
		name, colours string
		size          fyne.Size
	}{
		{"light", "light", frametest.Wide}, {"dark", "dark", frametest.Wide},
		{"narrow", "light", frametest.Small}, {"contrast", "high-contrast", frametest.Middle},
	} {
		for _, id := range load.Shipped().Forest.IDs() {
			if *frametest.Pictures == "" && (v.name != "light" || id != "half-dead") {
				continue
			}
			t.Run(v.name+"/"+id, func(t *testing.T) {
				w := open(t, v.size)
				w.SetLook(v.colours, 1)
				w.Go(place.Flow(id, ""))
				w.Picture("flow-" + v.name + "-" + id)
				w.Press("Whole")
				w.Picture("flow-" + v.name + "-" + id + "-whole")
			})
		}
	}
}
