package frame

import (
	"cmp"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"faultwright/content/view"
	"faultwright/gui/look"
)

// listen takes the keys that belong to the window as a whole.
func (f *Frame) listen() {
	c := f.window.Canvas()
	c.SetOnTypedKey(func(ev *fyne.KeyEvent) { f.typedKey(ev) })
	c.SetOnTypedRune(func(r rune) { f.typedRune(r) })
	for _, s := range f.shortcuts() {
		run := s.Run
		c.AddShortcut(&desktop.CustomShortcut{KeyName: s.Key, Modifier: s.Modifier}, func(fyne.Shortcut) { run() })
	}
	c.AddShortcut(&fyne.ShortcutCopy{}, func(fyne.Shortcut) { f.CopyPage() })
}

// Shortcut is a key pressed with others.
type Shortcut struct {
	Key      fyne.KeyName
	Modifier fyne.KeyModifier
	Run      func()
}

func (f *Frame) shortcuts() []Shortcut {
	const ctrl, alt = fyne.KeyModifierControl, fyne.KeyModifierAlt
	return append([]Shortcut{
		{fyne.KeyLeft, alt, f.Back},
		{fyne.KeyRight, alt, f.Forward},
		{fyne.KeyF, ctrl, f.StartSearch},
		{fyne.KeyReturn, ctrl, f.pressPrimary},
		{fyne.KeyC, ctrl | fyne.KeyModifierShift, f.CopyPage},
		{fyne.KeyQ, ctrl, f.Close},
	}, f.options.Shortcuts...)
}

// pressPrimary presses the coloured button of the page, that of its foot first, wherever the
// keyboard is. One that waits for something is not pressed.
func (f *Frame) pressPrimary() {
	var found *look.Button
	for _, o := range append([]fyne.CanvasObject{f.page.Foot}, f.page.Body...) {
		look.Walk(o, func(o fyne.CanvasObject) bool {
			if b, ok := o.(*look.Button); ok && found == nil && b.Primary && !b.Disabled() {
				found = b
			}
			return found == nil
		})
	}
	if found != nil {
		found.Tapped(nil)
	}
}

// RunShortcut runs the window's shortcut of this name, for an entry that has
// the keyboard and does not use it itself.
func (f *Frame) RunShortcut(s fyne.Shortcut) bool {
	if _, copying := s.(*fyne.ShortcutCopy); copying {
		f.CopyPage()
		return true
	}
	for _, own := range f.shortcuts() {
		if (&desktop.CustomShortcut{KeyName: own.Key, Modifier: own.Modifier}).ShortcutName() == s.ShortcutName() {
			own.Run()
			return true
		}
	}
	return false
}

// Field is an entry that leaves to the window what it does not use itself.
func (f *Frame) Field(hint string) *look.Field {
	field := look.NewField(hint)
	f.Adopt(field)
	return field
}

// Adopt makes an entry leave to the window what it does not use itself.
func (f *Frame) Adopt(field *look.Field) {
	field.OnEscape, field.OnShortcut = f.escape, f.RunShortcut
	field.OnFocus = func() { f.typed.field = field }
}

// typedKey is a key that nothing else has used.
func (f *Frame) typedKey(ev *fyne.KeyEvent) {
	if run := f.page.Arrows[ev.Name]; run != nil {
		run()
		return
	}
	switch ev.Name {
	case fyne.KeyEscape:
		if f.typed.refused {
			f.choose("")
			return
		}
		f.escape()
	case fyne.KeyBackspace:
		if text := f.typed.text; text != "" {
			f.choose(text[:len(text)-1])
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if f.typed.refused { // the reading is over; what is typed next is not part of it
			f.typed.text = ""
		}
	case fyne.KeyPageDown:
		f.shell.page(1)
	case fyne.KeyPageUp:
		f.shell.page(-1)
	case fyne.KeyDown:
		f.shell.scrollBy(60)
	case fyne.KeyUp:
		f.shell.scrollBy(-60)
	case fyne.KeyHome:
		f.shell.scrollTo(0)
	}
}

// typedRune is a character typed while no entry has the keyboard.
func (f *Frame) typedRune(r rune) {
	if r == '/' {
		f.StartSearch()
		return
	}
	if run := f.page.Keys[r]; run != nil {
		run()
		return
	}
	if field := f.field(); field != nil { // a click beside it took the keyboard away
		f.Focus(field)
		field.TypedRune(r)
		return
	}
	if r >= unicode.MaxASCII || f.numbered(1) == nil {
		return
	}
	switch a := f.typed.armed; {
	case a != nil && f.window.Canvas().Focused() != a: // the keyboard has been taken elsewhere since
		f.typed.text = ""
	case a == nil && !f.typed.refused && !strings.EqualFold(f.typed.text, "o"): // a slip, but for the O of OL
		f.typed.text = ""
	}
	f.choose(f.typed.text + string(r))
}

// typed is what was typed towards a choice of the page shown. It is never taken
// along to another page.
type typed struct {
	field   *look.Field // the entry of the page that had the keyboard last; nil for none
	text    string
	armed   look.Armed // what it has chosen; nil for nothing
	refused bool       // it reads like a reading, which the message says
}

// field is the entry of the page that had the keyboard last, or has it at first,
// so that nothing typed beside it is lost; nil where a choice is asked.
func (f *Frame) field() *look.Field {
	first, _ := f.page.Focus.(*look.Field)
	if last := f.typed.field; last != nil && last != f.shell.search && first != nil {
		return last
	}
	return first
}

// choose marks what is typed for. A digit only marks; Enter takes it. What
// cannot be a digit for a choice marks nothing.
func (f *Frame) choose(text string) {
	digit, said := view.Chosen(text, func(digit int) bool { return f.numbered(digit) != nil }, cmp.Or(f.page.Typed, view.AtChoice))
	takenBack := digit == 0 && (said != "" || f.typed.armed != nil)
	if takenBack && f.page.Unmark != nil {
		f.page.Unmark()
	}
	if said != "" || f.typed.refused {
		f.note = said
		f.Render()
	}
	f.typed = typed{field: f.typed.field, text: text, refused: said != ""}
	switch {
	case takenBack:
		f.window.Canvas().Unfocus()
	case digit > 0:
		f.typed.armed = f.numbered(digit)
		f.typed.armed.Arm()
		f.Focus(f.typed.armed)
	}
}

// numbered is what a digit of the page leads to; nil for nothing.
func (f *Frame) numbered(digit int) look.Armed {
	for _, o := range append(f.page.Body[:len(f.page.Body):len(f.page.Body)], f.page.Foot) {
		if found := look.ByDigit(o, digit); found != nil {
			return found
		}
	}
	return nil
}

// escape leaves the search entry, the menu, or the page.
func (f *Frame) escape() {
	if f.shell.menuOpen {
		f.shell.toggleMenu()
		return
	}
	f.Back()
}
