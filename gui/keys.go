package gui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"faultwright/gui/look"
)

// listen takes the keys that belong to the window as a whole.
func (d *Desk) listen() {
	c := d.window.Canvas()
	c.SetOnTypedKey(func(ev *fyne.KeyEvent) { d.typedKey(ev) })
	c.SetOnTypedRune(func(r rune) { d.typedRune(r) })
	for _, s := range d.shortcuts() {
		run := s.run
		c.AddShortcut(&desktop.CustomShortcut{KeyName: s.key, Modifier: s.modifier}, func(fyne.Shortcut) { run() })
	}
	c.AddShortcut(&fyne.ShortcutCopy{}, func(fyne.Shortcut) { d.copyPage() })
}

type shortcut struct {
	key      fyne.KeyName
	modifier fyne.KeyModifier
	run      func()
}

func (d *Desk) shortcuts() []shortcut {
	const ctrl, alt = fyne.KeyModifierControl, fyne.KeyModifierAlt
	bigger := func() { d.resizeText(1) }
	smaller := func() { d.resizeText(-1) }
	return []shortcut{
		{fyne.KeyLeft, alt, d.Back},
		{fyne.KeyRight, alt, d.Forward},
		{fyne.KeyF, ctrl, d.shell.startSearch},
		{fyne.KeyPlus, ctrl, bigger},
		{fyne.KeyEqual, ctrl, bigger},
		{fyne.KeyPlus, ctrl | fyne.KeyModifierShift, bigger},
		{fyne.KeyEqual, ctrl | fyne.KeyModifierShift, bigger},
		{fyne.KeyMinus, ctrl, smaller},
		{fyne.Key0, ctrl, func() { d.set(func(s *Settings) { s.TextSize = 1 }) }},
		{fyne.KeyC, ctrl | fyne.KeyModifierShift, d.copyPage},
		{fyne.KeyQ, ctrl, d.close},
	}
}

// shortcutFor runs the window's shortcut of this name, for an entry that has
// the keyboard and does not use it itself.
func (d *Desk) shortcutFor(s fyne.Shortcut) bool {
	if _, copying := s.(*fyne.ShortcutCopy); copying {
		d.copyPage()
		return true
	}
	for _, own := range d.shortcuts() {
		if (&desktop.CustomShortcut{KeyName: own.key, Modifier: own.modifier}).ShortcutName() == s.ShortcutName() {
			own.run()
			return true
		}
	}
	return false
}

// field is an entry that leaves to the window what it does not use itself.
func (d *Desk) field(hint string) *look.Field {
	f := look.NewField(hint)
	d.adopt(f)
	return f
}

func (d *Desk) adopt(f *look.Field) {
	f.OnEscape, f.OnShortcut = d.escape, d.shortcutFor
}

// typedKey is a key that nothing else has used.
func (d *Desk) typedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyEscape:
		d.escape()
	case fyne.KeyPageDown:
		d.shell.page(1)
	case fyne.KeyPageUp:
		d.shell.page(-1)
	case fyne.KeyDown:
		d.shell.scrollBy(60)
	case fyne.KeyUp:
		d.shell.scrollBy(-60)
	case fyne.KeyHome:
		d.shell.scrollTo(0)
	}
}

// typedRune is a character typed while no entry has the keyboard.
func (d *Desk) typedRune(r rune) {
	if r == '/' {
		d.shell.startSearch()
		return
	}
	if run := d.pane.keys[r]; run != nil {
		run()
		return
	}
	for _, o := range d.pane.body {
		if look.Digits(o, r) {
			return
		}
	}
}

// escape leaves the search entry, the menu, or the page.
func (d *Desk) escape() {
	if d.shell.menuOpen {
		d.shell.toggleMenu()
		return
	}
	d.Back()
}

// copyPage puts the page on the clipboard as text.
func (d *Desk) copyPage() {
	text := d.pane.text
	if text == "" {
		for _, o := range d.pane.body {
			text += look.TextOf(o) + "\n"
		}
	}
	d.app.Clipboard().SetContent(text)
	d.shell.say("This page is on the clipboard as text.")
}

// textSizes are the steps of the text-size setting.
var textSizes = []float32{0.75, 0.85, 1, 1.15, 1.3, 1.5, 1.75, 2, 2.5}

func (d *Desk) resizeText(by int) {
	at := 0
	for i, s := range textSizes {
		if s <= d.settings.TextSize+0.01 {
			at = i
		}
	}
	at = min(max(at+by, 0), len(textSizes)-1)
	d.set(func(s *Settings) { s.TextSize = textSizes[at] })
}
