package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// press is what everything that can be pressed has in common: the pointer,
// Enter and Space activate it, focus shows as a ring, and gaining focus brings
// it into view.
type press struct {
	widget.DisableableWidget

	// OnTapped is what happens when it is pressed.
	OnTapped func()

	self             fyne.Widget
	hovered, focused bool
}

// extend must be called by constructors with the outermost widget.
func (p *press) extend(self fyne.Widget) {
	p.self = self
	p.ExtendBaseWidget(self)
}

// AccessibilityRole is that of a button.
func (p *press) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// Tapped activates; the event may be nil.
func (p *press) Tapped(*fyne.PointEvent) {
	if p.OnTapped != nil && !p.Disabled() {
		p.OnTapped()
	}
}

// TypedKey activates on Enter and Space; other keys belong to the window.
func (p *press) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		p.self.(fyne.Tappable).Tapped(nil)
	default:
		handOn(p.self, ev)
	}
}

// TypedRune gives the window what is typed, such as the digit of a choice.
func (p *press) TypedRune(r rune) { handRune(p.self, r) }

// canvasOf is the canvas that shows o, or nil.
func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	if app := fyne.CurrentApp(); app != nil && o != nil {
		return app.Driver().CanvasForObject(o)
	}
	return nil
}

// FocusGained shows the ring.
func (p *press) FocusGained() {
	p.focused = true
	p.Refresh()
	Reveal(p.self)
}

// FocusLost hides the ring.
func (p *press) FocusLost() {
	p.focused = false
	p.Refresh()
}

// Focused reports whether the keyboard is on it.
func (p *press) Focused() bool { return p.focused }

// MouseIn shades it.
func (p *press) MouseIn(*desktop.MouseEvent) {
	p.hovered = true
	p.Refresh()
}

// MouseMoved does nothing.
func (p *press) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the shade away.
func (p *press) MouseOut() {
	p.hovered = false
	p.Refresh()
}

// Cursor is a hand while it can be pressed.
func (p *press) Cursor() desktop.Cursor {
	if p.Disabled() {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// colorOf asks the theme in force for w.
func colorOf(name fyne.ThemeColorName, w fyne.Widget) color.Color {
	return theme.ColorForWidget(name, w)
}

func sizeOf(name fyne.ThemeSizeName, w fyne.Widget) float32 { return theme.SizeForWidget(name, w) }

// frame is the drawn body of a pressable or a panel: ground, shade, border and
// focus ring.
type frame struct {
	ground, shade, ring *canvas.Rectangle
}

func newFrame(radius float32) *frame {
	f := &frame{canvas.NewRectangle(none), canvas.NewRectangle(none), canvas.NewRectangle(none)}
	f.ground.CornerRadius, f.shade.CornerRadius, f.ring.CornerRadius = radius, radius, radius+ringGap
	f.ring.StrokeWidth = 2
	return f
}

// ringGap is the space between a thing and its focus ring.
const ringGap = 4

func (f *frame) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{f.ground, f.shade, f.ring}
}

func (f *frame) layout(size fyne.Size) {
	f.ground.Resize(size)
	f.shade.Resize(size)
	f.ring.Move(fyne.NewPos(-ringGap, -ringGap))
	f.ring.Resize(size.AddWidthHeight(2*ringGap, 2*ringGap))
}

// paint sets the colours: fill and border by name ("" for none), and the
// states of p.
func (f *frame) paint(w fyne.Widget, p *press, fill, border fyne.ThemeColorName, width float32) {
	f.ground.FillColor, f.ground.StrokeColor, f.ground.StrokeWidth = none, none, width
	if fill != "" {
		f.ground.FillColor = colorOf(fill, w)
	}
	if border != "" {
		f.ground.StrokeColor = colorOf(border, w)
	}
	f.shade.FillColor, f.ring.StrokeColor = none, none
	if p != nil && p.hovered && !p.Disabled() {
		f.shade.FillColor = colorOf(theme.ColorNameHover, w)
	}
	if p != nil && p.focused {
		f.ring.StrokeColor = colorOf(ColorAccent, w)
	}
	f.ground.Refresh()
	f.shade.Refresh()
	f.ring.Refresh()
}
