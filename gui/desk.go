package gui

import (
	"context"
	"fmt"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/look"
	"faultwright/search"
)

// Options says how a desk is set up. The zero value is the program as a
// person starts it, without any visits kept.
type Options struct {
	ContentDir string           // read the handbook from this folder; "" is the built-in one
	Settings   string           // path of the settings file; "" keeps settings in memory
	Visits     *store.Store     // where visits are kept; nil keeps them in memory
	Now        func() time.Time // nil is the clock
	Random     func() uint64    // names visits; nil is the system's randomness
	Problem    string           // something to say at the start, such as that nothing is kept
	Started    func()           // told when the window is there
	Indexed    func()           // told, off the window's thread, when the index is built
	Inline     bool             // no background work, as tests need
}

// Desk is the window: what it shows now, where it was, and what it works on.
type Desk struct {
	app     fyne.App
	window  fyne.Window
	options Options
	runner  Runner
	history History

	settings Settings
	book     *content.Library // nil until it is loaded
	bookErr  error            // why it could not be loaded at all
	finder   search.Holder    // empty until the index is built
	indexErr error            // why there is no index
	visit    *visiting        // the visit under way; nil if there is none
	drafts   map[string]string
	practice practising
	bench    bench // the rig on show

	shell *shell
	pane  pane
}

// New makes the desk and its window, not yet shown, and begins to read the
// handbook behind it.
func New(a fyne.App, o Options) *Desk {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Random == nil {
		o.Random = randomNumber
	}
	d := &Desk{app: a, options: o, runner: Runner{Inline: o.Inline}, drafts: map[string]string{}}
	problem := d.readSettings()
	a.Settings().SetTheme(look.NewTheme(d.settings.Mode, d.settings.TextSize))

	d.window = a.NewWindow("Faultwright")
	d.window.SetPadded(false)
	d.shell = newShell(d)
	d.window.SetContent(d.shell.root)
	d.restoreSize()
	d.window.SetCloseIntercept(d.close)
	d.listen()
	d.Go(d.firstPlace())
	switch {
	case problem != nil:
		d.say(problem.Error())
	case o.Problem != "":
		d.say(o.Problem)
	}
	if o.Inline {
		d.load()
		return d
	}
	a.Lifecycle().SetOnStarted(func() { // the window first, the handbook behind it
		if o.Started != nil {
			o.Started()
		}
		d.load()
	})
	return d
}

// Window is the desk's window.
func (d *Desk) Window() fyne.Window { return d.window }

func (d *Desk) firstPlace() Location {
	if !d.settings.Welcomed {
		return Location{Page: pageWelcome}
	}
	return Location{Page: pageOpening}
}

// loaded is what reading the handbook gives.
type loaded struct {
	book *content.Library
	err  error
}

const jobLoad, jobIndex = "handbook", "index"

// load reads the handbook, then builds the index over it.
func (d *Desk) load() {
	dir := d.options.ContentDir
	d.book, d.bookErr = nil, nil
	Run(&d.runner, jobLoad, func(ctx context.Context) loaded {
		if dir == "" {
			return loaded{book: load.Shipped()}
		}
		book, err := load.Dir(ctx, dir)
		return loaded{book, err}
	}, func(l loaded) {
		d.book, d.bookErr = l.book, l.err
		d.render()
		if l.book != nil {
			d.index()
		}
	})
}

// cancelLoad stops reading the handbook; the reader may start it again.
func (d *Desk) cancelLoad() {
	d.runner.Cancel(jobLoad)
	d.bookErr = errStopped
	d.render()
}

// close remembers the window's size, lets go of the visit and ends.
func (d *Desk) close() {
	d.rememberSize()
	d.runner.CancelAll()
	d.release()
	d.window.Close()
}

func (d *Desk) readSettings() error {
	d.settings = DefaultSettings()
	if d.options.Settings == "" {
		return nil
	}
	s, err := ReadSettings(d.options.Settings)
	d.settings = s
	return err
}

// set changes the settings, shows them and keeps them.
func (d *Desk) set(change func(*Settings)) {
	before := d.settings
	change(&d.settings)
	if d.settings.Mode != before.Mode || d.settings.TextSize != before.TextSize {
		d.app.Settings().SetTheme(look.NewTheme(d.settings.Mode, d.settings.TextSize))
		d.shell.retext()
	}
	d.render()
	if d.options.Settings == "" {
		return
	}
	if err := WriteSettings(d.options.Settings, d.settings); err != nil {
		d.say("The settings are in force, but could not be kept for the next start: " + err.Error())
	}
}

const (
	prefSize = "window.size" // one entry, since each is a file written anew

	usualWidth, usualHeight = 1280, 800
	leastWidth, leastHeight = 480, 640
	mostWidth, mostHeight   = 7680, 4320
)

func (d *Desk) restoreSize() {
	var w, h int
	if n, err := fmt.Sscanf(d.app.Preferences().String(prefSize), "%dx%d", &w, &h); n != 2 || err != nil {
		w, h = usualWidth, usualHeight
	}
	w = min(max(w, leastWidth), mostWidth)
	h = min(max(h, leastHeight), mostHeight)
	d.window.Resize(fyne.NewSize(float32(w), float32(h)))
}

func (d *Desk) rememberSize() {
	size := d.window.Canvas().Size()
	now := fmt.Sprintf("%dx%d", int(size.Width), int(size.Height))
	if now != d.app.Preferences().String(prefSize) {
		d.app.Preferences().SetString(prefSize, now)
	}
}
