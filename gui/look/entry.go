package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/source"
)

// Field is the toolkit's entry with two things added: Esc calls OnEscape, and
// gaining focus brings the field into view.
type Field struct {
	widget.Entry
	OnEscape func()
	// OnShortcut is offered the shortcuts an entry has no use for; it reports
	// whether it used one.
	OnShortcut func(fyne.Shortcut) bool
	OnFocus    func() // it has got the keyboard
	Most       int    // bytes that it takes at most from the clipboard; 0 is no bound
	OnTooLong  func() // what was pasted is longer, and was left out

	onFocus func(bool)
	hint    string // the whole placeholder
}

// NewField is a one-line entry; Enter calls OnSubmitted.
func NewField(placeholder string) *Field {
	f := &Field{hint: placeholder}
	f.PlaceHolder = placeholder
	f.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	f.ExtendBaseWidget(f)
	return f
}

// NewLines is an entry of several lines. Enter calls OnSubmitted, with Shift it
// begins a line; what is pasted keeps its lines.
func NewLines(placeholder string, rows int) *Field {
	f := NewField(placeholder)
	f.MultiLine, f.Wrapping = true, fyne.TextWrapWord
	f.SetMinRowsVisible(rows)
	return f
}

// SetText puts another text in, without what may not be shown. What is typed next
// stands behind it.
func (f *Field) SetText(text string) {
	text = source.Shown(text)
	f.Entry.SetText(text)
	if f.MultiLine {
		f.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	} else {
		f.CursorColumn = len([]rune(text))
	}
	f.Refresh()
}

// AcceptsTab is false also for an entry of several lines: Tab leads on, so that whoever has
// keys alone gets out of it.
func (f *Field) AcceptsTab() bool { return false }

// TypedRune leaves out what may not be shown, and brings the field into view.
func (f *Field) TypedRune(r rune) {
	if source.Shown(string(r)) != "" {
		f.Entry.TypedRune(r)
		Reveal(f)
	}
}

// TypedKey adds Esc to the keys of an entry.
func (f *Field) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyEscape {
		if f.OnEscape != nil {
			f.OnEscape()
		}
		return
	}
	if f.MultiLine && (ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter) {
		f.enter()
		return
	}
	f.Entry.TypedKey(ev)
}

// enter is Enter in an entry of several lines.
func (f *Field) enter() {
	keys, _ := fyne.CurrentApp().Driver().(desktop.Driver)
	if keys != nil && keys.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		f.Entry.TypedRune('\n')
	} else if f.OnSubmitted != nil {
		f.OnSubmitted(f.Text)
	}
}

// TypedShortcut gives the window the shortcuts that an entry has no use for;
// copying with nothing selected is one.
func (f *Field) TypedShortcut(s fyne.Shortcut) {
	_, custom := s.(*desktop.CustomShortcut)
	_, copying := s.(*fyne.ShortcutCopy)
	if f.OnShortcut != nil && (custom || copying && f.SelectedText() == "") && f.OnShortcut(s) {
		return
	}
	if paste, ok := s.(*fyne.ShortcutPaste); ok {
		if f.Most > 0 && len(f.Text)+len(paste.Clipboard.Content()) > f.Most {
			if f.OnTooLong != nil {
				f.OnTooLong()
			}
			return
		}
		s = &fyne.ShortcutPaste{Clipboard: printed{paste.Clipboard}}
	}
	f.Entry.TypedShortcut(s)
}

// printed is a clipboard without what may not be shown.
type printed struct{ fyne.Clipboard }

func (p printed) Content() string { return source.Shown(p.Clipboard.Content()) }

// Resize cuts the placeholder to what fits, since a longer one would scroll.
func (f *Field) Resize(size fyne.Size) {
	f.Entry.Resize(size)
	if f.MultiLine {
		return
	}
	if fit := f.fitting(size.Width - 2*theme.Size(theme.SizeNameInnerPadding)); fit != f.PlaceHolder {
		f.Entry.SetPlaceHolder(fit)
	}
}

// SetPlaceHolder changes what an empty field says.
func (f *Field) SetPlaceHolder(text string) {
	f.hint = text
	f.Entry.SetPlaceHolder(text)
}

// fitting is as many words of the placeholder as have room, or all of it.
func (f *Field) fitting(width float32) string {
	wide := func(s string) float32 { return fyne.MeasureText(s, theme.Size(SizeText), f.TextStyle).Width }
	if f.hint == "" || wide(f.hint) <= width {
		return f.hint
	}
	return cutAtWord(f.hint, func(s string) bool { return wide(s) <= width })
}

// FocusGained brings the field into view.
func (f *Field) FocusGained() {
	f.Entry.FocusGained()
	if f.onFocus != nil {
		f.onFocus(true)
	}
	if f.OnFocus != nil {
		f.OnFocus()
	}
	Reveal(f)
}

// FocusLost follows the entry.
func (f *Field) FocusLost() {
	f.Entry.FocusLost()
	if f.onFocus != nil {
		f.onFocus(false)
	}
}

// ReadingEntry is where the reading is typed: the number large, the unit and
// the meter's uncertainty behind it in soft ink, an accent border around both.
type ReadingEntry struct {
	widget.BaseWidget

	// Field is the entry itself; set OnChanged, OnSubmitted (Enter) and
	// OnEscape on it.
	Field *Field

	unit    *Prose
	number  bigType
	big     *container.ThemeOverride
	focused bool
	laidOut string // the text that the unit stands behind
}

// NewReadingEntry makes an empty entry for readings in unit, such as "V".
func NewReadingEntry(unit string) *ReadingEntry {
	e := &ReadingEntry{Field: NewField(""), unit: NewText(unit)}
	e.unit.Type, e.unit.Ink = SizeUnit, ColorSoftInk
	e.Field.TextStyle = fyne.TextStyle{Bold: true}
	e.Field.onFocus = func(on bool) {
		e.focused = on
		e.Refresh()
	}
	e.Field.OnCursorChanged = func() {
		if e.Field.Text != e.laidOut {
			e.Refresh()
		}
	}
	e.number.share = 1
	e.big = container.NewThemeOverride(e.Field, &e.number)
	e.ExtendBaseWidget(e)
	return e
}

// Text is what is typed.
func (e *ReadingEntry) Text() string { return e.Field.Text }

// SetText types for the reader; OnChanged is called.
func (e *ReadingEntry) SetText(text string) {
	e.Field.SetText(text)
	e.Refresh()
}

// SetUnit changes what stands behind the number, such as "V ±0.7".
func (e *ReadingEntry) SetUnit(unit string) {
	if e.unit.Plain() != unit {
		e.unit.SetText(unit)
		e.Refresh()
	}
}

// Focus puts the keyboard into the entry, if it is in a window.
func (e *ReadingEntry) Focus() {
	if c := canvasOf(e.Field); c != nil {
		c.Focus(e.Field)
	}
}

func (e *ReadingEntry) held() []fyne.CanvasObject {
	return []fyne.CanvasObject{e.big, e.unit}
}

// Natural is room for a number as long as meters show, the unit and its
// uncertainty, whatever is typed, so that nothing beside it moves while one
// types; what is longer, such as "wanders 3-8", is set smaller instead of cut.
func (e *ReadingEntry) Natural() fyne.Size {
	n := fyne.MeasureText("-000.0", theme.Size(SizeReading), fyne.TextStyle{Bold: true}).Width
	u := fyne.MeasureText("V ±0.000", theme.Size(SizeUnit), fyne.TextStyle{}).Width
	return fyne.NewSize(n+u+3*readingPad, e.MinSize().Height)
}

const readingPad float32 = 16

// CreateRenderer is called by the toolkit.
func (e *ReadingEntry) CreateRenderer() fyne.WidgetRenderer {
	r := &readingRenderer{e: e, box: canvas.NewRectangle(none)}
	r.box.CornerRadius = 12
	r.Refresh()
	return r
}

type readingRenderer struct {
	e   *ReadingEntry
	box *canvas.Rectangle
}

func (r *readingRenderer) Refresh() {
	r.box.FillColor, r.box.StrokeColor = colorOf(ColorPanel, r.e), colorOf(ColorAccent, r.e)
	r.box.StrokeWidth = 2
	if r.e.focused {
		r.box.StrokeWidth = 3
	}
	r.box.Refresh()
	r.e.unit.Refresh()
	r.Layout(r.e.Size())
	canvas.Refresh(r.e)
}

func (r *readingRenderer) MinSize() fyne.Size {
	n := fyne.MeasureText("000", theme.Size(SizeReading), fyne.TextStyle{Bold: true})
	return fyne.NewSize(n.Width+r.e.unit.Natural().Width+3*readingPad, n.Height+12)
}

// Layout puts the unit close behind the number, their baselines level, and at
// the right edge once the number is long.
func (r *readingRenderer) Layout(size fyne.Size) {
	r.box.Resize(size)
	r.e.laidOut = r.e.Field.Text
	style := fyne.TextStyle{Bold: true}
	full := fyne.MeasureText(r.e.laidOut+"0", theme.Size(SizeReading), style)
	u := r.e.unit.Natural()
	right := size.Width - u.Width - readingPad
	inner := 4 + theme.Size(theme.SizeNameInnerPadding)
	if share := min(1, max(leastShare, (right-inner)/full.Width)); size.Width > 0 && share != r.e.number.share {
		r.e.number.share = share
		r.e.big.Refresh()
	}
	points := r.e.number.Size(theme.SizeNameText)
	number := fyne.MeasureText(r.e.laidOut+"0", points, style)
	left := min(right, inner+number.Width)
	h := r.e.big.MinSize().Height
	field := size.Width - 8 // the whole box can be clicked
	if left == right {
		field = right - 4
	}
	place(r.e.big, 4, (size.Height-h)/2, max(field, 0), h)
	_, base := fyne.CurrentApp().Driver().RenderedTextSize("0", points, style, nil)
	small, low := fyne.CurrentApp().Driver().RenderedTextSize("V", theme.Size(SizeUnit), fyne.TextStyle{}, nil)
	y := (size.Height-number.Height)/2 + base - low - (u.Height-small.Height)/2
	place(r.e.unit, left, y, u.Width, u.Height)
}

func (r *readingRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box, r.e.big, r.e.unit}
}
func (r *readingRenderer) Destroy() {}

// bigType is the theme in force with the type of the reading, and without the
// entry's own box.
type bigType struct {
	inForce
	share float32 // of the reading's type, so that long text has room
}

// leastShare keeps long text legible: a third is about the size of running text.
const leastShare = 1.0 / 3

func (b *bigType) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch name {
	case theme.ColorNameInputBackground, theme.ColorNameInputBorder, theme.ColorNameShadow:
		return none
	}
	return b.base().Color(name, v)
}

func (b *bigType) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameText:
		return b.base().Size(SizeReading) * b.share
	case theme.SizeNameInputBorder, theme.SizeNameScrollBar, theme.SizeNameScrollBarSmall:
		return 0
	}
	return b.base().Size(name)
}
