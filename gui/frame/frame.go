package frame

import (
	"cmp"
	"maps"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// Page is what a page shows: a body, something to read beside it, and what
// the keyboard does there.
type Page struct {
	Body   []fyne.CanvasObject
	Side   []fyne.CanvasObject
	Foot   fyne.CanvasObject       // stays in view under the body; nil for none
	Focus  fyne.Focusable          // has the keyboard at first; nil for none
	Keys   map[rune]func()         // what a typed character does, besides the digits of choices
	Arrows map[fyne.KeyName]func() // what a key without a character does before the window's own use of it
	Typed  string                  // what can be done with a reading that is typed here; "" where a choice is asked
	Whole  bool                    // needs the whole height: no search entry above it, "/" leads to the search page
	Fills  *look.Viewport          // what of the body takes the room that all else leaves; nil for nothing
	Unmark func()                  // takes back what a digit has marked; nil if none marks
	Text   string                  // the page as text; "" takes it from the widgets
}

// Entry is a page of the window's table.
type Entry struct {
	// Rail is the rail's entry that the page belongs to; "" for none.
	Rail string
	// Arrive, if set, is called when the reader arrives at the place, before
	// the page is drawn. On an error the page shows that instead; the text, if
	// any, is shown above the page.
	Arrive func(at place.Location) (said string, err error)
	// Leave, if set, is called when the reader goes elsewhere.
	Leave func()
	// Build draws the place. It only reads.
	Build func(at place.Location) Page
}

// Frame is the window.
type Frame struct {
	app     fyne.App
	window  fyne.Window
	runner  Runner
	history place.History
	entries map[place.Page]Entry
	options Options

	shell    *shell
	note     string // the message under the page
	typed    typed  // towards a choice of the page
	arriving bool   // the page is drawn once this is over
	missing  error  // why the present place cannot be shown
	page     Page
}

// Options join the window to what it shows. Every function may be nil.
type Options struct {
	Title     string
	Inline    bool // no background work, as tests need
	Rail      []RailEntry
	Shortcuts []Shortcut                                            // besides the window's own
	Direct    func(place.Location) (to place.Location, said string) // another place to go to instead, and why
	FirstHit  func(place.Location)                                  // Enter in the search entry, at the place of a search
	Closed    func()                                                // the window is about to close
}

// RailEntry is an entry of the rail and where it leads.
type RailEntry struct {
	Name string
	Open func()
}

// New makes the window, not yet shown and without any page.
func New(a fyne.App) *Frame {
	return &Frame{app: a, window: a.NewWindow(""), entries: map[place.Page]Entry{}}
}

// Add puts pages into the table.
func (f *Frame) Add(pages map[place.Page]Entry) {
	maps.Copy(f.entries, pages)
}

// Pages lists the pages of the table, in no order.
func (f *Frame) Pages() []place.Page { return slices.Collect(maps.Keys(f.entries)) }

// Open fills the window and shows its first place.
func (f *Frame) Open(o Options, first place.Location) {
	f.options, f.runner.Inline = o, o.Inline
	f.window.SetTitle(o.Title)
	f.window.SetPadded(false)
	f.shell = newShell(f)
	f.window.SetContent(f.shell.root)
	f.restoreSize()
	f.window.SetCloseIntercept(f.Close)
	f.listen()
	f.Go(first)
}

// Window is the toolkit's window.
func (f *Frame) Window() fyne.Window { return f.window }

// Runner does long work for the pages.
func (f *Frame) Runner() *Runner { return &f.runner }

// Here is the place shown.
func (f *Frame) Here() place.Location { return f.history.Here() }

// Rail is the rail's entry that the place shown belongs to.
func (f *Frame) Rail() string { return f.entries[f.Here().Page].Rail }

// RailEntries are all entries of the rail.
func (f *Frame) RailEntries() []RailEntry { return f.options.Rail }

// Go shows a place and remembers the one before it. What is said with it
// stands under that page.
func (f *Frame) Go(to place.Location, said ...string) {
	if f.options.Direct != nil {
		var why string
		to, why = f.options.Direct(to)
		said = append(said, why)
	}
	f.move(func() bool { f.history.Go(to); return true }, said...)
}

// Back shows the place before this one; at the first place, and where it is closed, it
// does nothing else than say so.
func (f *Frame) Back() { f.along(f.history.Back, f.history.Forward) }

// Forward undoes Back.
func (f *Frame) Forward() { f.along(f.history.Forward, f.history.Back) }

// along steps through the history, and back again where the place it comes to is
// closed.
func (f *Frame) along(step, undo func() bool) {
	why := ""
	f.move(func() bool {
		if !step() {
			return false
		}
		if f.options.Direct == nil {
			return true
		}
		to, said := f.options.Direct(f.Here())
		if said == "" || to.Same(f.Here().Top()) {
			return true
		}
		why = said
		undo()
		return false
	})
	if why != "" {
		f.Say(why)
	}
}

// Replace shows a place instead of the present one, without remembering that.
func (f *Frame) Replace(to place.Location) {
	f.move(func() bool { f.history.Replace(to); return true })
}

// Return arrives at the present place anew, as when the handbook has changed
// under it. What is said stands under the page; "" leaves what stands there.
func (f *Frame) Return(said string) {
	said = cmp.Or(said, f.note)
	f.move(func() bool { return true }, said)
}

// move goes somewhere else by a step in the history, if there is such a step.
func (f *Frame) move(step func() bool, said ...string) {
	before := f.Here()
	f.history.Scrolled(f.shell.offset())
	if !step() {
		return
	}
	at := f.Here()
	if e := f.entries[before.Page]; e.Leave != nil && !before.Same(at) {
		e.Leave()
	}
	f.note, f.missing, f.typed = "", nil, typed{}
	for _, text := range said {
		f.addNote(text)
	}
	f.arrive(at)
	f.Render()
}

func (f *Frame) arrive(at place.Location) {
	e := f.entries[at.Page]
	if e.Arrive == nil {
		return
	}
	f.arriving = true
	defer func() { f.arriving = false }()
	said, err := e.Arrive(at)
	f.missing = err
	f.addNote(said)
}

func (f *Frame) addNote(text string) {
	if f.note != "" && text != "" {
		f.note += " "
	}
	f.note += text
}

// Remember keeps words typed at the present place with it, without a new page.
func (f *Frame) Remember(at place.Location) {
	f.history.Replace(at)
	f.shell.at = at
}

// Forget removes places that are no longer there from the way back.
func (f *Frame) Forget(gone func(place.Location) bool) { f.history.Forget(gone) }

// Render draws the present place anew, scrolled as it is.
func (f *Frame) Render() {
	if f.arriving {
		return
	}
	at := f.Here()
	e, ok := f.entries[at.Page]
	switch {
	case !ok:
		f.page = f.Missing("There is no such page.")
	case f.missing != nil:
		f.page = f.Missing(view.Sentence(f.missing.Error()))
	default:
		f.page = e.Build(at)
	}
	f.shell.show(e.Rail, at, f.page)
}

// Say shows a message under the page, where it is in view wherever the page is
// scrolled, until the next place is shown.
func (f *Frame) Say(text string) {
	f.note, f.typed.text, f.typed.refused = text, "", false
	f.Render()
}

// Said is the message under the page; "" for none.
func (f *Frame) Said() string { return f.note }

// Shown is the page that is shown.
func (f *Frame) Shown() Page { return f.page }

// Missing says that something a place names is not there.
func (f *Frame) Missing(what string) Page {
	home := look.NewPrimary("To the beginning", func() { f.Go(place.Opening()) })
	return Page{Body: []fyne.CanvasObject{
		look.NewQuestion("Not found"),
		look.NewText(what),
		look.Row(look.GapSmall, home, look.NewButton("Back", f.Back)),
	}, Focus: home}
}

// Narrow reports whether the window has one column only.
func (f *Frame) Narrow() bool { return f.shell.narrow() }

// Wide reports whether the window has room for three columns.
func (f *Frame) Wide() bool { return f.shell.root.Count() == 3 }

// Focus gives the keyboard to an entry or a button of the page.
func (f *Frame) Focus(o fyne.Focusable) { f.window.Canvas().Focus(o) }

// Focused is what has the keyboard; nil for nothing.
func (f *Frame) Focused() fyne.Focusable { return f.window.Canvas().Focused() }

// Relayout makes room for texts that have changed on the page.
func (f *Frame) Relayout() { f.shell.relayout() }

// ScrollTop shows the top of the page.
func (f *Frame) ScrollTop() { f.shell.scrollTo(0) }
