package look

import (
	"sort"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Ruler draws a [RulerValue]: grey inside limits, orange stripes where to look
// further, red where to stop; the reading as a pointer with its uncertainty as
// a bar; the side that is taken outlined where they reach over a limit.
type Ruler struct {
	widget.BaseWidget
	value RulerValue
}

// NewRuler draws v.
func NewRuler(v RulerValue) *Ruler {
	r := &Ruler{value: v}
	r.ExtendBaseWidget(r)
	return r
}

// SetValue draws another value, as while typing.
func (r *Ruler) SetValue(v RulerValue) {
	r.value = v
	r.Refresh()
}

// Plain is the ruler in words.
func (r *Ruler) Plain() string { return r.value.Words() }

// AccessibilityLabel is the ruler in words.
func (r *Ruler) AccessibilityLabel() string { return r.value.Words() }

// AccessibilityRole is that of a text.
func (r *Ruler) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by the toolkit.
func (r *Ruler) CreateRenderer() fyne.WidgetRenderer {
	v := &rulerRenderer{r: r}
	v.Refresh()
	return v
}

const (
	barHeight   float32 = 16
	pointerRoom float32 = 12 // between labels and bar
	tickRoom    float32 = 4
	stripe      float32 = 8 // from one stripe to the next
)

type rulerRenderer struct {
	r       *Ruler
	objects []fyne.CanvasObject
	width   float32
	height  float32
}

func (v *rulerRenderer) MinSize() fyne.Size           { return fyne.NewSize(200, v.height) }
func (v *rulerRenderer) Objects() []fyne.CanvasObject { return v.objects }
func (v *rulerRenderer) Destroy()                     {}

func (v *rulerRenderer) Refresh() {
	v.build(v.r.Size().Width)
	canvas.Refresh(v.r)
}

func (v *rulerRenderer) Layout(size fyne.Size) {
	if size.Width != v.width {
		v.build(size.Width)
	}
}

func (v *rulerRenderer) build(width float32) {
	v.width, v.objects = width, nil
	if width <= 0 {
		width = 400
	}
	value := v.r.value
	line := fyne.MeasureText("0g", sizeOf(SizeRuler, v.r), fyne.TextStyle{}).Height

	labels, above := v.labels(value, width)
	top := float32(max(rowsOf(above), 1))*line + pointerRoom
	for i, s := range above {
		if s.shown {
			labels[i].Move(fyne.NewPos(s.x, top-pointerRoom-float32(s.row+1)*line))
			v.objects = append(v.objects, labels[i])
		}
	}
	for i, g := range value.Segments {
		v.segment(g, width, top)
		if i > 0 {
			v.edge(float32(g.From)*width, top)
		}
	}
	if o := value.Outlined; o >= 0 && o < len(value.Segments) {
		v.outline(value.Segments[o], width, top)
	}
	if value.Marker != nil {
		v.marker(*value.Marker, width, top)
	}
	texts, below := v.ticks(value, width)
	for i, s := range below {
		if s.shown {
			texts[i].Move(fyne.NewPos(s.x, top+barHeight+tickRoom+float32(s.row)*line))
			v.objects = append(v.objects, texts[i])
		}
	}
	v.height = top + barHeight + tickRoom + float32(max(rowsOf(below), 1))*line
}

func (v *rulerRenderer) text(s string, ink fyne.ThemeColorName, bold bool) *canvas.Text {
	t := canvas.NewText(source.Shown(s), colorOf(ink, v.r))
	t.TextSize, t.TextStyle = sizeOf(SizeRuler, v.r), fyne.TextStyle{Bold: bold}
	t.Resize(t.MinSize())
	return t
}

// labels says where each segment leads. Those of the segments that the reading
// touches are placed first, then the worst.
func (v *rulerRenderer) labels(value RulerValue, width float32) ([]*canvas.Text, []spot) {
	texts := make([]*canvas.Text, len(value.Segments))
	tags := make([]tag, len(value.Segments))
	for i, g := range value.Segments {
		ink := ColorInk
		if g.Signal <= faulttree.Notice {
			ink = ColorSoftInk
		}
		texts[i] = v.text(g.Label, ink, g.Signal == faulttree.Danger)
		tags[i] = tag{float32(g.From+g.To) / 2 * width, texts[i].Size().Width, int(g.Signal)}
		if g.Label == "" {
			tags[i].width = 0
		}
		for _, s := range value.standing {
			if s == i {
				tags[i].rank += 10
			}
		}
	}
	return texts, placeTags(tags, width, 8)
}

// ticks are the limits. The ends are placed first, then those at the reading.
func (v *rulerRenderer) ticks(value RulerValue, width float32) ([]*canvas.Text, []spot) {
	texts := make([]*canvas.Text, len(value.Ticks))
	tags := make([]tag, len(value.Ticks))
	for i, t := range value.Ticks {
		texts[i] = v.text(t.Text, ColorInk, false)
		tags[i] = tag{float32(t.At) * width, texts[i].Size().Width, 0}
		if t.At == 0 || t.At == 1 {
			tags[i].rank = 2
		}
		for _, s := range value.standing {
			if value.Segments[s].From == t.At || value.Segments[s].To == t.At {
				tags[i].rank++
			}
		}
	}
	return texts, placeTags(tags, width, 6)
}

func (v *rulerRenderer) rect(x, y, w, h float32, fill fyne.ThemeColorName) *canvas.Rectangle {
	r := canvas.NewRectangle(colorOf(fill, v.r))
	place(r, x, y, w, h)
	v.objects = append(v.objects, r)
	return r
}

func (v *rulerRenderer) segment(g RulerSegment, width, top float32) {
	x, w := float32(g.From)*width, float32(g.To-g.From)*width
	switch {
	case g.Signal == faulttree.Danger:
		v.rect(x, top, w, barHeight, ColorDanger)
	case g.Signal >= faulttree.Caution:
		v.rect(x, top, w, barHeight, ColorHatch)
		v.stripes(x, top, w)
	default:
		v.rect(x, top, w, barHeight, ColorInside)
	}
}

// stripes hatches a rectangle of the bar's height with lines that rise to the
// right, each cut off at the rectangle's sides.
func (v *rulerRenderer) stripes(x, top, w float32) {
	for start := -barHeight; start < w; start += stripe {
		left, right := max(start, 0), min(start+barHeight, w)
		if left >= right {
			continue
		}
		l := canvas.NewLine(colorOf(ColorWarning, v.r))
		l.StrokeWidth = 2
		l.Position1 = fyne.NewPos(x+left, top+barHeight-(left-start))
		l.Position2 = fyne.NewPos(x+right, top+barHeight-(right-start))
		v.objects = append(v.objects, l)
	}
}

// edge parts two segments, so that equal colours do not run together.
func (v *rulerRenderer) edge(x, top float32) {
	v.rect(x-1, top-2, 2, barHeight+4, ColorPage)
}

func (v *rulerRenderer) outline(g RulerSegment, width, top float32) {
	r := canvas.NewRectangle(none)
	r.StrokeColor, r.StrokeWidth, r.CornerRadius = colorOf(ColorInk, v.r), 2, 2
	place(r, float32(g.From)*width-2, top-3, float32(g.To-g.From)*width+4, barHeight+6)
	v.objects = append(v.objects, r)
}

func (v *rulerRenderer) marker(m RulerMarker, width, top float32) {
	x := float32(m.At) * width
	x = max(1, min(x, width-1))
	low, high := float32(m.Low)*width, float32(m.High)*width
	if high-low < 8 { // always to be seen
		low, high = (low+high)/2-4, (low+high)/2+4
	}
	low, high = max(low, 0), min(high, width)
	if !m.OverRange {
		r := v.rect(low, top+barHeight/2-3, high-low, 6, ColorPanel)
		r.StrokeColor, r.StrokeWidth = colorOf(ColorInk, v.r), 1
	}
	v.rect(x-1, top-2, 2, barHeight+5, ColorInk)
	tip := canvas.NewArbitraryPolygon([]fyne.Position{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0.5, Y: 1}}, colorOf(ColorInk, v.r))
	tip.NormalizedPoints = true
	place(tip, x-6, top-11, 12, 10)
	v.objects = append(v.objects, tip)
}

// tag is a short label that belongs at a place along a line.
type tag struct {
	centre, width float32
	rank          int // the higher ranks are placed first
}

// spot is where a tag went: its left edge and its row, 0 nearest the bar.
// Shown is false where there was no room.
type spot struct {
	x     float32
	row   int
	shown bool
}

// tagRows is how many rows of tags there may be.
const tagRows = 2

// placeTags gives each tag a place as near its centre as the ends of the line
// allow, in the first row where it keeps gap from those placed
// before it. What fits nowhere is not shown; nothing overlaps.
func placeTags(tags []tag, length float32, gap float32) []spot {
	order := make([]int, len(tags))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return tags[order[a]].rank > tags[order[b]].rank })
	out := make([]spot, len(tags))
	for _, i := range order {
		t := tags[i]
		if t.width > length || t.width == 0 {
			continue
		}
		x := max(0, min(t.centre-t.width/2, length-t.width))
		for row := range tagRows {
			if free(tags, out, x, t.width, row, gap) {
				out[i] = spot{x, row, true}
				break
			}
		}
	}
	return out
}

func free(tags []tag, placed []spot, x, width float32, row int, gap float32) bool {
	for j, s := range placed {
		if s.shown && s.row == row && x < s.x+tags[j].width+gap && s.x < x+width+gap {
			return false
		}
	}
	return true
}

// rowsOf is how many rows the shown spots need.
func rowsOf(spots []spot) int {
	n := 0
	for _, s := range spots {
		if s.shown {
			n = max(n, s.row+1)
		}
	}
	return n
}
