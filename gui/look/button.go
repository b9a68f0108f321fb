package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"faultwright/faulttree/source"
)

// Button says what happens and does it on a tap, Enter or Space. Its text
// wraps when there is no room; put buttons into a [Row].
type Button struct {
	press

	// Primary fills the button with the accent: at most one in a view.
	Primary bool
	// Hint is a key that does the same, shown small behind the text: "1", "↵".
	Hint string

	text string
	word *Prose
}

// NewButton is an outlined button.
func NewButton(text string, tapped func()) *Button {
	b := &Button{text: source.Shown(text), word: NewText(text)}
	b.OnTapped = tapped
	b.extend(b)
	return b
}

// NewPrimary is the filled button, for the one thing to do next.
func NewPrimary(text string, tapped func()) *Button {
	b := NewButton(text, tapped)
	b.Primary = true
	b.Refresh()
	return b
}

// Text is what the button says.
func (b *Button) Text() string { return b.text }

// Arm does nothing: its digit only brings the keyboard, Enter presses it.
func (b *Button) Arm() {}

// Plain is the same; see [TextOf].
func (b *Button) Plain() string { return b.text }

// SetPrimary fills the button with the accent, or takes that away; neither
// moves it nor changes what it does.
func (b *Button) SetPrimary(on bool) {
	if b.Primary != on {
		b.Primary = on
		b.Refresh()
	}
}

// AccessibilityLabel is the text.
func (b *Button) AccessibilityLabel() string { return b.text }

const (
	buttonPadX float32 = 20
	buttonPadY float32 = 12
)

// Natural is the size with the text on one line.
func (b *Button) Natural() fyne.Size {
	b.sync()
	return b.word.Natural().AddWidthHeight(2*buttonPadX, 2*buttonPadY)
}

// sync copies the state into the text.
func (b *Button) sync() {
	ink, style := ColorInk, fyne.TextStyle{}
	if b.Primary {
		ink, style = ColorOnAccent, fyne.TextStyle{Bold: true}
	}
	if b.Disabled() {
		ink = ColorSoftInk
	}
	runs := []Run{{Text: b.text, Style: style, Color: ink}}
	if b.Hint != "" {
		soft := ColorSoftInk
		if b.Primary {
			soft = ink
		}
		runs = append(runs, Run{Text: "\u00a0\u00a0" + b.Hint, Style: style, Size: SizeLead, Color: soft})
	}
	b.word.Align = fyne.TextAlignCenter
	if len(b.word.runs) != len(runs) || b.word.runs[0] != runs[0] || b.word.runs[len(runs)-1] != runs[len(runs)-1] {
		b.word.SetRuns(runs...)
	}
}

// CreateRenderer is called by the toolkit.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	r := &buttonRenderer{b: b, frame: newFrame(theme.Size(theme.SizeNameButtonRadius))}
	r.objects = append(r.frame.objects(), b.word)
	r.Refresh()
	return r
}

type buttonRenderer struct {
	b       *Button
	frame   *frame
	objects []fyne.CanvasObject
}

func (r *buttonRenderer) Refresh() {
	r.b.sync()
	fill, border := ColorPanel, ColorLine
	switch {
	case r.b.Disabled(): // no line: soft ink alone cannot be told in high contrast
		fill, border = ColorChosen, ""
	case r.b.Primary:
		fill, border = ColorAccent, ColorAccent
	}
	r.frame.paint(r.b, &r.b.press, fill, border, 1)
	r.b.word.Refresh()
	canvas.Refresh(r.b)
}

func (r *buttonRenderer) MinSize() fyne.Size {
	return r.b.word.MinSize().AddWidthHeight(2*buttonPadX, 2*buttonPadY)
}

func (r *buttonRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	w := size.Width - 2*buttonPadX
	h := heightAt(r.b.word, w)
	place(r.b.word, buttonPadX, (size.Height-h)/2, w, h)
}

func (r *buttonRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *buttonRenderer) Destroy()                     {}
