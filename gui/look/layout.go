package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// Gaps between things, in points; all are multiples of 4.
const (
	GapSmall   float32 = 8
	GapBlock   float32 = 16
	GapSection float32 = 24
)

// naturalSizer is a widget that wraps its text when narrow but would like to
// be as wide as this, so that a [Row] can give it one line where there is room.
type naturalSizer interface{ Natural() fyne.Size }

// natural is the size o would like best: without wrapping, as far as o can
// tell.
func natural(o fyne.CanvasObject) fyne.Size {
	if n, ok := o.(naturalSizer); ok {
		return n.Natural()
	}
	c, ok := o.(*fyne.Container)
	if !ok {
		return o.MinSize()
	}
	var m fyne.Size
	for i, o := range shown(c.Objects) {
		n := natural(o)
		if s, ok := c.Layout.(stack); ok {
			m = fyne.NewSize(max(m.Width, n.Width), m.Height+n.Height)
			if i > 0 {
				m.Height += s.gap
			}
			continue
		}
		m = m.Max(n)
	}
	switch l := c.Layout.(type) {
	case stack, squeezed:
		return m
	case pad:
		return m.AddWidthHeight(l.left+l.right, l.top+l.bottom)
	case maxWidth:
		return fyne.NewSize(min(m.Width, l.most*TextScale()), m.Height)
	}
	return o.MinSize()
}

// heightAt sets the width of o and returns the height it then needs.
func heightAt(o fyne.CanvasObject, width float32) float32 {
	if o.Size().Width != width {
		o.Resize(fyne.NewSize(width, max(o.Size().Height, 1)))
	}
	return o.MinSize().Height
}

// place gives o its final rectangle.
func place(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

func shown(objects []fyne.CanvasObject) []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, 0, len(objects))
	for _, o := range objects {
		if o != nil && o.Visible() {
			out = append(out, o)
		}
	}
	return out
}

// TextScale is the text-size setting in force: 1 where body text has 16 points.
func TextScale() float32 { return theme.Size(SizeText) / sizes[SizeText] }

// Stack puts objects under one another, each as wide as the stack and as tall
// as it needs to be at that width, with gap between them.
func Stack(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(stack{gap}, objects...)
}

type stack struct{ gap float32 }

func (s stack) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range shown(objects) {
		h := heightAt(o, size.Width)
		place(o, 0, y, size.Width, h)
		y += h + s.gap
	}
}

func (s stack) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for i, o := range shown(objects) {
		c := o.MinSize()
		m.Width = max(m.Width, c.Width)
		m.Height += c.Height
		if i > 0 {
			m.Height += s.gap
		}
	}
	return m
}

// Row puts objects beside one another at the width they like best and begins
// a new line where there is no room: buttons, chips.
func Row(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&sized{arrange: row{gap, gap}.arrange}, objects...)
}

// LinkRow is a Row of links: far enough apart to be told from one another, and
// the lines as close as those of a text.
func LinkRow(objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&sized{arrange: row{20, 6}.arrange}, objects...)
}

// Grid puts objects into as many equal columns of at least cell points (times
// the text size) as fit, at most most; all cells of a line are equally tall.
func Grid(cell, gap float32, most int, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&sized{arrange: grid{cell, gap, max(most, 1)}.arrange}, objects...)
}

// Beside puts left at the width it likes best (or at leftWidth points times
// the text size, if that is not 0) and right in the rest. Where less than
// rightLeast points would remain for right, it goes under left.
func Beside(leftWidth, rightLeast, gap float32, left, right fyne.CanvasObject) *fyne.Container {
	return container.New(&sized{arrange: beside{leftWidth, rightLeast, gap}.arrange}, left, right)
}

// cell is where an object goes.
type cell struct {
	o          fyne.CanvasObject
	x, y, w, h float32
}

// heightFunc says how tall an object is at a width: [heightAt] while laying
// out, the present minimum while only asking.
type heightFunc func(o fyne.CanvasObject, width float32) float32

// sized is a layout whose height depends on its width. It remembers the width
// it was last given, so that MinSize tells the height at that width.
type sized struct {
	arrange func(objects []fyne.CanvasObject, width float32, height heightFunc) []cell
	width   float32
}

func (s *sized) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	s.width = size.Width
	for _, c := range s.arrange(shown(objects), size.Width, heightAt) {
		place(c.o, c.x, c.y, c.w, c.h)
	}
}

func (s *sized) MinSize(objects []fyne.CanvasObject) fyne.Size {
	objects = shown(objects)
	var m fyne.Size
	for _, o := range objects {
		m.Width = max(m.Width, o.MinSize().Width)
	}
	now := func(o fyne.CanvasObject, _ float32) float32 { return o.MinSize().Height }
	for _, c := range s.arrange(objects, max(s.width, m.Width), now) {
		m.Height = max(m.Height, c.y+c.h)
	}
	return m
}

type row struct{ gap, between float32 } // things, and lines

func (r row) arrange(objects []fyne.CanvasObject, width float32, height heightFunc) []cell {
	var out []cell
	x, y, tall, first := float32(0), float32(0), float32(0), 0
	finish := func() {
		for i := first; i < len(out); i++ { // one height per line
			out[i].h = tall
		}
		first = len(out)
	}
	for _, o := range objects {
		w := min(natural(o).Width, width)
		if x > 0 && x+w > width+0.5 {
			finish()
			x, y, tall = 0, y+tall+r.between, 0
		}
		tall = max(tall, height(o, w))
		out = append(out, cell{o, x, y, w, 0})
		x += w + r.gap
	}
	finish()
	return out
}

type grid struct {
	cell, gap float32
	most      int
}

func (g grid) columns(width float32) int {
	return min(max(int((width+g.gap)/(g.cell*TextScale()+g.gap)), 1), g.most)
}

func (g grid) arrange(objects []fyne.CanvasObject, width float32, height heightFunc) []cell {
	n := g.columns(width)
	w := (width - float32(n-1)*g.gap) / float32(n)
	var out []cell
	y := float32(0)
	for i := 0; i < len(objects); i += n {
		line := objects[i:min(i+n, len(objects))]
		tall := float32(0)
		for _, o := range line {
			tall = max(tall, height(o, w))
		}
		for j, o := range line {
			out = append(out, cell{o, float32(j) * (w + g.gap), y, w, tall})
		}
		y += tall + g.gap
	}
	return out
}

type beside struct{ left, least, gap float32 }

func (b beside) arrange(objects []fyne.CanvasObject, width float32, height heightFunc) []cell {
	if len(objects) == 0 {
		return nil
	}
	if len(objects) == 1 {
		return []cell{{objects[0], 0, 0, width, height(objects[0], width)}}
	}
	scale := TextScale()
	left := b.left * scale
	if b.left == 0 {
		left = natural(objects[0]).Width
	}
	if rest := width - left - b.gap; rest >= b.least*scale {
		hl, hr := height(objects[0], left), height(objects[1], rest)
		yl, yr := float32(0), float32(0)
		if b.left == 0 { // a reading and its sentence: centred on one another
			yl, yr = (max(hl, hr)-hl)/2, (max(hl, hr)-hr)/2
		}
		return []cell{{objects[0], 0, yl, left, hl}, {objects[1], left + b.gap, yr, rest, hr}}
	}
	w := width
	if b.left == 0 {
		w = min(w, left)
	}
	h := height(objects[0], w)
	return []cell{{objects[0], 0, 0, w, h}, {objects[1], 0, h + b.gap, width, height(objects[1], width)}}
}

// Pad surrounds o with space, in the order of a clock: top, right, bottom,
// left.
func Pad(top, right, bottom, left float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(pad{top, right, bottom, left}, o)
}

type pad struct{ top, right, bottom, left float32 }

func (p pad) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		w := max(size.Width-p.left-p.right, 0)
		h := max(heightAt(o, w), size.Height-p.top-p.bottom)
		place(o, p.left, p.top, w, h)
	}
}

func (p pad) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range shown(objects) {
		m = m.Max(o.MinSize())
	}
	return m.AddWidthHeight(p.left+p.right, p.top+p.bottom)
}

// MaxWidth keeps o no wider than most points times the text size, at the left
// edge, or in the middle if centred.
func MaxWidth(most float32, centred bool, o fyne.CanvasObject) *fyne.Container {
	return container.New(maxWidth{most, centred}, o)
}

type maxWidth struct {
	most    float32
	centred bool
}

func (m maxWidth) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		w, x := min(size.Width, m.most*TextScale()), float32(0)
		if m.centred {
			x = (size.Width - w) / 2
		}
		place(o, x, 0, w, max(heightAt(o, w), size.Height))
	}
}

func (m maxWidth) MinSize(objects []fyne.CanvasObject) fyne.Size { return pad{}.MinSize(objects) }

// Tight takes away the space that the toolkit's text widgets keep around
// themselves, so that their text lines up with ours.
func Tight(o fyne.CanvasObject) *fyne.Container {
	return container.New(tight{}, o)
}

type tight struct{}

func (tight) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	p := theme.Size(theme.SizeNameInnerPadding)
	for _, o := range objects {
		place(o, -p, -p, size.Width+2*p, size.Height+2*p)
	}
}

func (tight) MinSize(objects []fyne.CanvasObject) fyne.Size {
	p := 2 * theme.Size(theme.SizeNameInnerPadding)
	m := pad{}.MinSize(objects)
	return fyne.NewSize(max(m.Width-p, 0), max(m.Height-p, 0))
}
