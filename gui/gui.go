// Package gui is the window of the handbook. It makes the frame, the session
// and the pages of each area, and joins them; the areas know one another only
// by their locations. What a page says is computed by package content/view from
// the walk and the handbook, and nothing is decided here: there is no limit, no
// electrical value and no verdict.
package gui

import (
	"context"
	"crypto/rand"
	"encoding/binary"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/gui/circuit"
	"faultwright/gui/class"
	"faultwright/gui/flow"
	"faultwright/gui/frame"
	"faultwright/gui/handbook"
	"faultwright/gui/place"
	"faultwright/gui/practice"
	"faultwright/gui/scenarios"
	"faultwright/gui/session"
	"faultwright/gui/settings"
	"faultwright/gui/suspects"
	"faultwright/gui/vehicles"
	"faultwright/gui/visits"
	"faultwright/gui/walk"
	"faultwright/search"
)

// Options say how a window is set up. The zero value is the program as a
// person starts it, without any visits kept.
type Options struct {
	ContentDir string           // read the handbook from this folder; "" is the built-in one
	Settings   string           // path of the settings file; "" keeps settings in memory
	Visits     session.Visits   // where visits are kept; nil keeps them in memory
	Vehicles   session.Vehicles // where the reader's own vehicles are kept; nil keeps none
	Practice   session.Attempts // where attempts at practice are kept; nil keeps them in memory
	Now        func() time.Time // nil is the clock
	Random     func() uint64    // names visits; nil is the system's randomness
	Problem    string           // something to say at the start, such as that nothing is kept
	Started    func()           // told when the window is there
	Screen     func() fyne.Size // room for windows on the screen, in pixels, once the window is there; nil is not known
	Indexed    func()           // told, off the window's goroutine, when the index is built
	Inline     bool             // no background work, as tests need

	read  func(context.Context) (*content.Library, error) // instead of ContentDir
	index func(context.Context, *content.Library) (*search.Index, error)
	draw  scenes.Draw // instead of the vehicles of the handbook

	changed func(context.Context) error // instead of following ContentDir
}

// Window is the window with all its pages.
type Window struct {
	*frame.Frame
	session  *session.Session
	handbook *handbook.Area
	practice *practice.Area
	class    *class.Area
}

// New makes the window, not yet shown, and begins to read the handbook behind
// it.
func New(a fyne.App, o Options) *Window {
	o.fill()
	f := frame.New(a)
	s, problem := session.New(session.Options{Settings: o.Settings, Visits: o.Visits, Vehicles: o.Vehicles, Practice: o.Practice, Now: o.Now, Random: o.Random, Draw: o.draw})
	w := &Window{
		Frame: f, session: s,
		handbook: handbook.New(f, s, handbook.Sources{Read: o.read, Index: o.index, Indexed: o.Indexed, Changed: o.changed}),
		practice: practice.New(f, s),
		class:    class.New(f, s),
	}
	own := settings.New(f, s)
	f.Add(w.whenRead(walk.New(f, s).Pages(railFind, railPedestal)))
	f.Add(w.whenRead(flow.New(f, s).Pages(railHandbook)))
	f.Add(w.whenRead(w.handbook.Pages(railHandbook)))
	f.Add(w.whenRead(suspects.New(f, s).Pages(railSuspects)))
	f.Add(w.whenRead(circuit.New(f, s).Pages(railCircuit)))
	f.Add(w.whenRead(w.practice.Pages(railPractice)))
	f.Add(w.whenRead(w.class.Pages(railPractice)))
	making := scenarios.New(f, s)
	f.Add(w.whenRead(making.Pages(railPractice)))
	f.Add(w.whenRead(vehicles.New(f, s).Pages(railVehicles)))
	f.Add(w.whenRead(visits.New(f, s).Pages(railVisits)))
	f.Add(own.Pages(railSettings))
	f.Open(frame.Options{
		Title: "Faultwright", Inline: o.Inline, Rail: w.rail(), Shortcuts: own.Shortcuts(),
		Direct: w.direct, FirstHit: w.handbook.OpenFirstHit, Closed: func() {
			making.Keep()
			s.Close()
		},
	}, place.Opening())
	switch {
	case problem != nil:
		f.Say(problem.Error())
	case o.Problem != "":
		f.Say(o.Problem)
	}
	if o.Inline {
		w.handbook.Load()
		return w
	}
	a.Lifecycle().SetOnStarted(func() { // the window first, the handbook behind it
		if o.Started != nil {
			o.Started()
		}
		if o.Screen != nil {
			f.FitScreen(o.Screen())
		}
		w.handbook.Load()
		w.handbook.Follow()
	})
	return w
}

// ShowAndRun shows the window and returns once it is closed.
func (w *Window) ShowAndRun() { w.Window().ShowAndRun() }

// fill puts what a person uses where nothing else was asked for.
func (o *Options) fill() {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Random == nil {
		o.Random = func() uint64 {
			var b [8]byte
			rand.Read(b[:])
			return binary.LittleEndian.Uint64(b[:])
		}
	}
	if o.index == nil {
		o.index = search.Build
	}
	dir := o.ContentDir
	if o.changed == nil && dir != "" && !o.Inline {
		follower := load.Follow(dir)
		o.changed = func(ctx context.Context) error { return follower.Changed(ctx, betweenLooks) }
	}
	if o.read != nil {
		return
	}
	o.read = func(ctx context.Context) (*content.Library, error) {
		if dir == "" {
			return load.Shipped(), nil
		}
		return load.Dir(ctx, dir)
	}
}

// betweenLooks lets time pass from one look at a content folder to the next. A save
// shows after two looks.
func betweenLooks(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(400 * time.Millisecond):
		return nil
	}
}

// whenRead makes pages wait until a handbook was read.
func (w *Window) whenRead(pages map[place.Page]frame.Entry) map[place.Page]frame.Entry {
	for name, e := range pages {
		arrive, build := e.Arrive, e.Build
		if arrive != nil {
			e.Arrive = func(at place.Location) (string, error) {
				if w.session.Book() == nil {
					return "", nil
				}
				return arrive(at)
			}
		}
		e.Build = func(at place.Location) frame.Page {
			if w.session.Book() == nil {
				return w.handbook.Waiting()
			}
			return build(at)
		}
		pages[name] = e
	}
	return pages
}

// direct leads elsewhere than asked: to the caution at a first start, and back to a
// task whose assignment closes what was asked for.
func (w *Window) direct(to place.Location) (place.Location, string) {
	if here, closed := w.practice.Closed(to); closed {
		return here, "Your assignment closes this while you are at the vehicle."
	}
	return w.cautionFirst(to), ""
}

// cautionFirst leads a first start to the caution and the choice of the role,
// wherever else it would go.
func (w *Window) cautionFirst(to place.Location) place.Location {
	switch to.Page {
	case place.SettingsPage, place.DocumentPage:
		return to
	}
	if !w.session.Settings().Welcomed {
		return place.Welcome()
	}
	return to
}
