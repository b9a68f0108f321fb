package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/source"
)

// NewCaption heads a section of a column: small bold spaced capitals in soft
// ink.
func NewCaption(text string) *Tracked {
	return NewTracked(strings.ToUpper(text), SizeSmall, ColorSoftInk)
}

// newSmall is small text in soft ink, such as stands above a value.
func newSmall(text string) *Prose {
	p := NewSoft(text)
	p.Type = SizeSmall
	return p
}

// NewValue is a bold value that can be selected and copied with the keyboard
// or the pointer.
func NewValue(text string) *fyne.Container {
	l := widget.NewLabelWithStyle(source.Shown(text), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	l.Selectable, l.SizeName = true, SizeLead
	return Tight(l)
}

// NewSelectable is wrapping body text that can be selected and copied.
func NewSelectable(text string) *fyne.Container {
	l := widget.NewLabel(source.Shown(text))
	l.Selectable, l.Wrapping = true, fyne.TextWrapWord
	return Tight(l)
}

// NewChip is a small bordered box with a caption over a value: the meter's
// function, its range, hold.
func NewChip(caption, value string) *Panel {
	small := newSmall(caption)
	v := NewText(value)
	v.Type = SizeLead
	small.Leading, v.Leading = 1.3, 1.3
	p := NewPanel(Stack(4, small, v))
	p.Padding = 10
	p.Radius = 8
	return p
}

// TrailRow is one past step: what was asked at the left, what was answered in
// bold at the right, a thin line under it. Pressing it goes there.
type TrailRow struct {
	press
	Unruled bool // without the line: what stands below belongs to it
	label   *Prose
	value   *Prose
}

// NewTrailRow makes a row; where tapped is nil it cannot be pressed.
func NewTrailRow(label, value string, tapped func()) *TrailRow {
	t := &TrailRow{label: NewText(label), value: NewStrong(value)}
	t.label.Type, t.value.Type = SizeLead, SizeLead
	t.value.Align = fyne.TextAlignTrailing
	t.OnTapped = tapped
	if tapped == nil {
		t.Disable()
	}
	t.extend(t)
	return t
}

// Plain is label and value, see [TextOf].
func (t *TrailRow) Plain() string { return t.label.Plain() + "\t" + t.value.Plain() }

// AccessibilityLabel is label and value.
func (t *TrailRow) AccessibilityLabel() string { return t.label.Plain() + " " + t.value.Plain() }

// CreateRenderer is called by the toolkit.
func (t *TrailRow) CreateRenderer() fyne.WidgetRenderer {
	r := &trailRenderer{t: t, frame: newFrame(4), line: NewLine()}
	r.Refresh()
	return r
}

type trailRenderer struct {
	t     *TrailRow
	frame *frame
	line  *Line
}

const trailPad float32 = 8

func (r *trailRenderer) Refresh() {
	r.frame.paint(r.t, &r.t.press, "", "", 0)
	r.t.label.Refresh()
	r.t.value.Refresh()
	r.line.Hidden = r.t.Unruled
	r.line.Refresh()
	canvas.Refresh(r.t)
}

// valueWidth leaves the label at least half of the row.
func (r *trailRenderer) valueWidth(width float32) float32 {
	return min(r.t.value.Natural().Width, width/2)
}

func (r *trailRenderer) MinSize() fyne.Size {
	l, v := r.t.label.MinSize(), r.t.value.MinSize()
	return fyne.NewSize(l.Width+v.Width+12, max(l.Height, v.Height)+2*trailPad+1)
}

func (r *trailRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	v := r.valueWidth(size.Width)
	w := size.Width - v - 12
	place(r.t.label, 0, trailPad, w, heightAt(r.t.label, w))
	place(r.t.value, size.Width-v, trailPad, v, heightAt(r.t.value, v))
	place(r.line, 0, size.Height-1, size.Width, 1)
}

func (r *trailRenderer) Objects() []fyne.CanvasObject {
	return append(r.frame.objects(), r.t.label, r.t.value, r.line)
}
func (r *trailRenderer) Destroy() {}

// Nav is an entry of the rail. The one the window is at is bold on a tinted
// ground.
type Nav struct {
	press
	label  *Prose
	chosen bool
}

// NewNav makes a rail entry.
func NewNav(text string, tapped func()) *Nav {
	n := &Nav{label: NewSoft(text)}
	n.OnTapped = tapped
	n.extend(n)
	return n
}

// Plain is the text.
func (n *Nav) Plain() string { return n.label.Plain() }

// Chosen reports whether the window is at this entry.
func (n *Nav) Chosen() bool { return n.chosen }

// SetChosen marks the entry the window is at.
func (n *Nav) SetChosen(on bool) {
	n.chosen = on
	ink := ColorSoftInk
	if on {
		ink = ColorInk
	}
	n.label.SetRuns(Run{Text: n.label.Plain(), Style: fyne.TextStyle{Bold: on}, Color: ink})
	n.Refresh()
}

// Natural is the size on one line, the same whether it is chosen or not, so that
// those beside it stay where they are.
func (n *Nav) Natural() fyne.Size {
	size := n.label.Natural()
	bold := fyne.MeasureText(n.Plain(), sizeOf(SizeLead, n), fyne.TextStyle{Bold: true}).Width + 1
	return fyne.NewSize(max(size.Width, bold), size.Height).AddWidthHeight(24, 20)
}

// AccessibilityLabel is the text.
func (n *Nav) AccessibilityLabel() string { return n.Plain() }

// CreateRenderer is called by the toolkit.
func (n *Nav) CreateRenderer() fyne.WidgetRenderer {
	r := &navRenderer{n: n, frame: newFrame(8)}
	r.Refresh()
	return r
}

type navRenderer struct {
	n     *Nav
	frame *frame
}

func (r *navRenderer) Refresh() {
	fill, border := fyne.ThemeColorName(""), fyne.ThemeColorName("")
	if r.n.chosen {
		fill = ColorChosen
		if colorOf(ColorChosen, r.n) == colorOf(ColorPage, r.n) {
			border = ColorInk // no tints in high contrast
		}
	}
	r.frame.paint(r.n, &r.n.press, fill, border, 1)
	r.n.label.Refresh()
	canvas.Refresh(r.n)
}

func (r *navRenderer) MinSize() fyne.Size { return r.n.label.MinSize().AddWidthHeight(24, 20) }

func (r *navRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	w := size.Width - 24
	h := heightAt(r.n.label, w)
	place(r.n.label, 12, (size.Height-h)/2, w, h)
}

func (r *navRenderer) Objects() []fyne.CanvasObject { return append(r.frame.objects(), r.n.label) }
func (r *navRenderer) Destroy()                     {}
