// Package settings is the page of the reader's own settings: who reads, with
// which meter, and how the window looks.
package settings

import (
	"strconv"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the page of the settings.
type Area struct {
	window  *frame.Frame
	session *session.Session
}

// New makes the page, and gives the window its colours and text size.
func New(w *frame.Frame, s *session.Session) *Area {
	a := &Area{window: w, session: s}
	a.look()
	return a
}

func (a *Area) look() { a.window.SetLook(a.session.Settings().Colours, a.session.Settings().TextSize) }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.SettingsPage: {Rail: rail, Build: a.page}}
}

// Shortcuts are the keys for the size of text, on every page.
func (a *Area) Shortcuts() []frame.Shortcut {
	const ctrl, shift = fyne.KeyModifierControl, fyne.KeyModifierShift
	larger, smaller := func() { a.resize(1) }, func() { a.resize(-1) }
	return []frame.Shortcut{
		{Key: fyne.KeyPlus, Modifier: ctrl, Run: larger},
		{Key: fyne.KeyEqual, Modifier: ctrl, Run: larger},
		{Key: fyne.KeyPlus, Modifier: ctrl | shift, Run: larger},
		{Key: fyne.KeyEqual, Modifier: ctrl | shift, Run: larger},
		{Key: fyne.KeyMinus, Modifier: ctrl, Run: smaller},
		{Key: fyne.Key0, Modifier: ctrl, Run: a.usualSize},
	}
}

// resize goes so many steps up the text sizes.
func (a *Area) resize(by int) {
	at, sizes := 0, session.TextSizes()
	for i, s := range sizes {
		if s <= a.session.Settings().TextSize+0.01 {
			at = i
		}
	}
	at = min(max(at+by, 0), len(sizes)-1)
	a.set(func(s *session.Settings) { s.TextSize = sizes[at] })
}

func (a *Area) usualSize() { a.set(func(s *session.Settings) { s.TextSize = 1 }) }

// set changes the settings and shows them.
func (a *Area) set(change func(*session.Settings)) {
	before := a.session.Settings()
	err := a.session.Set(change)
	if now := a.session.Settings(); now.Colours != before.Colours || now.TextSize != before.TextSize {
		a.look()
	}
	if err != nil {
		a.window.Say(err.Error())
		return
	}
	a.window.Render()
}

// page shows who reads, with which meter, and how the window looks.
func (a *Area) page(at place.Location) frame.Page {
	body := []fyne.CanvasObject{look.NewQuestion("Settings")}

	roles := look.Row(8)
	for _, r := range []struct {
		role faulttree.Role
		name string
	}{{faulttree.Owner, "Owner or user"}, {faulttree.Qualified, "Qualified for this work"}} {
		roles.Add(parts.Option(r.name, a.session.Settings().Role == r.role, func() { a.set(func(s *session.Settings) { s.Role = r.role }) }))
	}
	body = append(body, look.Stack(8, look.NewCaption("Who takes the readings"), roles,
		look.NewSoft("An owner's walk ends where an enclosure or panel must be opened. It counts for visits begun from now on.")))

	plugs := look.Row(8)
	for _, f := range figure.Faces("") {
		plugs.Add(parts.Option(f.Rating()+" plug", a.session.Settings().Face == f, func() { a.set(func(s *session.Settings) { s.Face = f }) }))
	}
	body = append(body, look.Stack(8, look.NewCaption("The plug of a vehicle without a name"), plugs))

	modes := look.Row(8)
	for _, m := range look.Modes() {
		modes.Add(parts.Option(modeName(m), a.mode() == m, func() { a.set(func(s *session.Settings) { s.Colours = m.String() }) }))
	}
	body = append(body, look.Stack(8, look.NewCaption("Colours"), modes))

	percent := strconv.Itoa(int(a.session.Settings().TextSize*100+0.5)) + " %"
	body = append(body, look.Stack(8, look.NewCaption("Text size"), look.Row(8,
		look.NewButton("Smaller", func() { a.resize(-1) }),
		look.NewButton("Larger", func() { a.resize(1) }),
		look.NewButton("Normal", a.usualSize)),
		look.NewSoft("Now "+percent+". Ctrl and plus or minus do the same on every page.")))

	body = append(body, a.meters(at)...)
	tools := parts.Tools(a.session.Settings().Tools, func(has suspect.Tools) { a.set(func(s *session.Settings) { s.SetTools(has) }) })
	body = append(body, look.Stack(8, look.NewCaption(view.ToolsHeading), tools,
		look.NewSoft("A multimeter is taken for granted. What needs more is proposed as the next reading only where it is at hand.")))
	body = append(body, look.Stack(8, look.NewCaption("Keys"), look.NewText(
		"1 to 9 choose an answer. Enter or Space press the button with the ring. Tab goes to the next thing. Esc or Alt and ← go back, Alt and → forward. "+
			"Ctrl and F, or /, search. Ctrl and C copies the page where nothing is selected.")))
	return frame.Page{Body: body}
}

// mode is the set of colours in force.
func (a *Area) mode() look.Mode {
	m, _ := look.ParseMode(a.session.Settings().Colours)
	return m
}

func modeName(m look.Mode) string {
	switch m {
	case look.Light:
		return "Light"
	case look.Dark:
		return "Dark"
	case look.HighContrast:
		return "High contrast"
	}
	return "As the desktop says"
}
