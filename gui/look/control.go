package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/source"
)

// handOn gives the window a key that a toolkit's widget has no use for.
func handOn(o fyne.CanvasObject, ev *fyne.KeyEvent) {
	if c := canvasOf(o); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(ev)
	}
}

// handRune gives the window a character that a toolkit's widget has no use for.
func handRune(o fyne.CanvasObject, r rune) {
	if c := canvasOf(o); r != ' ' && c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// Dial is a number to turn: a title, the value beside it, and a slider under
// both. The keyboard turns it with the arrow keys.
type Dial struct {
	widget.BaseWidget

	// OnChanged is told the share of the way from one end to the other.
	OnChanged func(share float64)

	title, value *Prose
	slide        *slide
	content      fyne.CanvasObject
}

// NewDial makes a dial at a share of its way, 0 to 1.
func NewDial(title, value string, share float64) *Dial {
	d := &Dial{title: NewText(title), value: NewStrong(value)}
	d.value.Align = fyne.TextAlignTrailing
	d.slide = newSlide()
	d.slide.SetValue(share)
	d.slide.OnChanged = func(share float64) {
		if d.OnChanged != nil {
			d.OnChanged(share)
		}
	}
	d.content = Stack(0, Beside(0, 76, 8, d.title, d.value), Tight(container.NewThemeOverride(d.slide, track{})))
	d.ExtendBaseWidget(d)
	return d
}

// SetValue shows another value; OnChanged is not called.
func (d *Dial) SetValue(text string) {
	if d.value.Plain() != text {
		d.value.SetRuns(Run{Text: text, Style: fyne.TextStyle{Bold: true}})
	}
}

// Turn moves the slider as a reader would; OnChanged is called.
func (d *Dial) Turn(share float64) { d.slide.SetValue(share) }

// Title is what is turned.
func (d *Dial) Title() string { return d.title.Plain() }

// Focusable is the part that takes the keyboard.
func (d *Dial) Focusable() fyne.Focusable { return d.slide }

func (d *Dial) held() []fyne.CanvasObject { return []fyne.CanvasObject{d.content} }

// CreateRenderer is called by the toolkit.
func (d *Dial) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(d.content) }

// inForce is the theme in force, for those that differ from it in something.
type inForce struct{}

func (inForce) base() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

func (t inForce) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	return t.base().Color(name, v)
}
func (t inForce) Font(s fyne.TextStyle) fyne.Resource     { return t.base().Font(s) }
func (t inForce) Icon(n fyne.ThemeIconName) fyne.Resource { return t.base().Icon(n) }
func (t inForce) Size(n fyne.ThemeSizeName) float32       { return t.base().Size(n) }

// track is the theme in force with a track that shows on a panel too.
type track struct{ inForce }

func (t track) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch name {
	case theme.ColorNameInputBackground:
		name = ColorInside
	case theme.ColorNameForeground:
		name = ColorAccent
	}
	return t.base().Color(name, v)
}

// slide is the toolkit's slider; it leaves to the window what it does not use.
type slide struct{ widget.Slider }

func newSlide() *slide {
	s := &slide{}
	s.Max, s.Step, s.Orientation = 1, 0.005, widget.Horizontal
	s.ExtendBaseWidget(s)
	return s
}

// FocusGained brings the slider into view.
func (s *slide) FocusGained() {
	s.Slider.FocusGained()
	Reveal(s)
}

// TypedKey turns by arrows: a hundredth of the way, or to an end.
func (s *slide) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyLeft, fyne.KeyDown:
		s.SetValue(s.Value - 0.02)
	case fyne.KeyRight, fyne.KeyUp:
		s.SetValue(s.Value + 0.02)
	case fyne.KeyHome:
		s.SetValue(0)
	case fyne.KeyEnd:
		s.SetValue(1)
	default:
		handOn(s, ev)
	}
}

// Select is the toolkit's list to choose from; it leaves to the window what it
// does not use.
type Select struct {
	widget.Select

	// OnEnter is what Enter does where it does not open the list; Space opens it.
	OnEnter func()

	whole bool // see [NewWholeSelect]
}

// NewSelect makes a list at the option of an index; -1 is none.
func NewSelect(options []string, chosen int, choose func(index int)) *Select {
	s := &Select{}
	for _, o := range options {
		s.Options = append(s.Options, source.Shown(o))
	}
	s.PlaceHolder = "none"
	s.ExtendBaseWidget(s)
	if chosen >= 0 && chosen < len(options) {
		s.Selected = s.Options[chosen]
	}
	s.OnChanged = func(string) { choose(s.SelectedIndex()) }
	return s
}

// ShowChosen chooses without telling.
func (s *Select) ShowChosen(index int) {
	changed := s.OnChanged
	s.OnChanged = nil
	if index < 0 {
		s.ClearSelected()
	} else {
		s.SetSelectedIndex(index)
	}
	s.OnChanged = changed
}

// Plain is what is chosen.
func (s *Select) Plain() string { return s.Selected }

// TypedRune gives the window what is typed.
func (s *Select) TypedRune(r rune) { handRune(s, r) }

// FocusGained brings the list into view.
func (s *Select) FocusGained() {
	s.Select.FocusGained()
	Reveal(s)
}

// TypedKey opens the list on Enter and Space; the arrow keys choose the option
// beside the present one without opening it.
func (s *Select) TypedKey(ev *fyne.KeyEvent) {
	at := s.SelectedIndex()
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if s.OnEnter != nil {
			s.OnEnter()
			return
		}
		s.open()
	case fyne.KeySpace:
		s.open()
	case fyne.KeyUp, fyne.KeyLeft:
		if at > 0 {
			s.SetSelectedIndex(at - 1)
		}
	case fyne.KeyDown, fyne.KeyRight:
		if at+1 < len(s.Options) {
			s.SetSelectedIndex(at + 1)
		}
	case fyne.KeyHome:
		s.SetSelectedIndex(0)
	case fyne.KeyEnd:
		s.SetSelectedIndex(len(s.Options) - 1)
	default:
		handOn(s, ev)
	}
}

// Labelled puts a small caption above a control, and a thin line around it.
func Labelled(caption string, o fyne.CanvasObject) *fyne.Container {
	box := NewPanel(o)
	box.Padding, box.Radius = 1, 8
	return Stack(4, newSmall(caption), box)
}

// Readout is a live number: a caption over a value. Object is what to show.
type Readout struct {
	Object         *Panel
	caption, value *Prose
}

// NewReadout makes a readout.
func NewReadout(caption, value string) *Readout {
	small, v := newSmall(caption), NewStrong(value)
	v.Type = SizeTitle
	small.Leading, v.Leading = 1.3, 1.3
	r := &Readout{NewPanel(Stack(2, small, v)), small, v}
	r.Object.Padding, r.Object.Radius = 10, 8
	return r
}

// Set shows another value; danger fills the readout with the colour of DANGER.
func (r *Readout) Set(value string, danger bool) {
	fill, ink, soft := ColorPanel, ColorInk, ColorSoftInk
	if danger {
		fill, ink, soft = ColorDanger, ColorOnDanger, ColorOnDanger
	}
	if r.value.Plain() != value || r.value.Ink != ink {
		r.value.Ink = ink
		r.value.SetRuns(Run{Text: value, Style: fyne.TextStyle{Bold: true}})
	}
	if r.Object.Fill != fill {
		r.Object.Fill, r.caption.Ink = fill, soft
		r.Object.Refresh()
	}
}
