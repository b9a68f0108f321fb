package figure

import "math"

// Point is a place in a drawing: X to the right, Y downwards, in units of
// which a drawing is Width by Height.
type Point struct{ X, Y float64 }

// Add is p moved by x and y.
func (p Point) Add(x, y float64) Point { return Point{p.X + x, p.Y + y} }

// toward is the point that lies d from p in the direction of q.
func (p Point) toward(q Point, d float64) Point {
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	if l == 0 {
		return p
	}
	return Point{p.X + (q.X-p.X)*d/l, p.Y + (q.Y-p.Y)*d/l}
}

// Item is one thing drawn: a [Polyline], [Polygon], [Circle] or [Text].
type Item interface{ item() }

// Polyline is a line through points. Curves are flattened to short pieces.
type Polyline struct {
	Points []Point
	Ink    Role
	Width  float64
}

// Polygon is a closed shape; Fill or Stroke may be [None].
type Polygon struct {
	Points       []Point
	Fill, Stroke Role
	Width        float64
}

// Circle is a full circle; Fill or Stroke may be [None].
type Circle struct {
	Center       Point
	Radius       float64
	Fill, Stroke Role
	Width        float64
}

// Anchor says which part of a text stands at its point.
type Anchor uint8

const (
	Start Anchor = iota // the text begins at the point
	Middle
	End
)

// Text is one line of words; At lies on its base line.
type Text struct {
	At     Point
	Value  string
	Size   float64 // height of the type, in drawing units
	Bold   bool
	Anchor Anchor
	Ink    Role
}

func (Polyline) item() {}
func (Polygon) item()  {}
func (Circle) item()   {}
func (Text) item()     {}

// Mark says where a probe touches and which letter its lead carries: R for
// the red lead, B for the black one, C for a clamp.
type Mark struct {
	Letter string
	Tip    Point // what is touched
	Badge  Point // where the letter stands
}

// Drawing is a picture as a display list; items are drawn in order.
type Drawing struct {
	Width, Height float64
	Title         string // what it shows, in a few words
	Description   string // the same in sentences, for who cannot see it
	Items         []Item
	Marks         []Mark // probe pictures only
	Areas         []Area // flows only
}

// Area is a part of a drawing that can be led to, or that leads to another part.
type Area struct {
	Box
	Name  string // by which others lead here, letters, digits and hyphens; "" for none does
	To    string // the name of the area it leads to; "" for none
	Title string // what is there, in words
}

// Box is an upright rectangle.
type Box struct{ Left, Top, Right, Bottom float64 }

// Bounds is the room a text takes, estimated for a wide sans-serif face at
// 0.6 of its size per character, 0.68 in bold.
func (t Text) Bounds() Box {
	w := 0.6
	if t.Bold {
		w = 0.68
	}
	width := w * t.Size * float64(len([]rune(t.Value)))
	left := t.At.X
	switch t.Anchor {
	case Middle:
		left -= width / 2
	case End:
		left -= width
	}
	return Box{left, t.At.Y - 0.76*t.Size, left + width, t.At.Y + 0.2*t.Size}
}

// pen adds items to a drawing.
type pen struct{ d *Drawing }

func (p pen) add(items ...Item) { p.d.Items = append(p.d.Items, items...) }

func (p pen) line(ink Role, width float64, points ...Point) {
	p.add(Polyline{points, ink, width})
}

func (p pen) shape(fill, stroke Role, width float64, points ...Point) {
	p.add(Polygon{points, fill, stroke, width})
}

func (p pen) disc(at Point, radius float64, fill, stroke Role, width float64) {
	p.add(Circle{at, radius, fill, stroke, width})
}

func (p pen) text(at Point, anchor Anchor, size float64, ink Role, value string) {
	p.add(Text{At: at, Value: value, Size: size, Anchor: anchor, Ink: ink})
}

func (p pen) bold(at Point, anchor Anchor, size float64, ink Role, value string) {
	p.add(Text{At: at, Value: value, Size: size, Bold: true, Anchor: anchor, Ink: ink})
}

// curve flattens a cubic Bézier curve.
func curve(a, b, c, d Point) []Point {
	const pieces = 18
	out := make([]Point, 0, pieces+1)
	for i := 0; i <= pieces; i++ {
		t := float64(i) / pieces
		u := 1 - t
		k0, k1, k2, k3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		out = append(out, Point{
			k0*a.X + k1*b.X + k2*c.X + k3*d.X,
			k0*a.Y + k1*b.Y + k2*c.Y + k3*d.Y,
		})
	}
	return out
}

// through is a smooth line through points (a Catmull-Rom spline, flattened).
func through(ps ...Point) []Point {
	if len(ps) < 3 {
		return ps
	}
	at := func(i int) Point { return ps[max(0, min(i, len(ps)-1))] }
	out := []Point{ps[0]}
	for i := 0; i+1 < len(ps); i++ {
		a, b, c, d := at(i-1), at(i), at(i+1), at(i+2)
		piece := curve(b, b.Add((c.X-a.X)/6, (c.Y-a.Y)/6), c.Add((b.X-d.X)/6, (b.Y-d.Y)/6), c)
		out = append(out, piece[1:]...)
	}
	return out
}

// arc flattens part of a circle, from one angle to another in degrees,
// clockwise from three o'clock.
func arc(center Point, radius, from, to float64) []Point {
	pieces := max(2, int(math.Ceil(math.Abs(to-from)/12)))
	out := make([]Point, 0, pieces+1)
	for i := 0; i <= pieces; i++ {
		out = append(out, polar(center, radius, from+(to-from)*float64(i)/float64(pieces)))
	}
	return out
}

// polar is the point at an angle in degrees, clockwise from three o'clock.
func polar(center Point, radius, degrees float64) Point {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return Point{center.X + radius*c, center.Y + radius*s}
}

// rounded is an upright rectangle with round corners.
func rounded(left, top, right, bottom, radius float64) []Point {
	var out []Point
	out = append(out, arc(Point{right - radius, top + radius}, radius, -90, 0)...)
	out = append(out, arc(Point{right - radius, bottom - radius}, radius, 0, 90)...)
	out = append(out, arc(Point{left + radius, bottom - radius}, radius, 90, 180)...)
	return append(out, arc(Point{left + radius, top + radius}, radius, 180, 270)...)
}

// dots draws an explicit dotted line: short dashes from a to b.
func (p pen) dots(ink Role, width float64, a, b Point) {
	const step, dash = 8.0, 3.0
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	for d := 0.0; d+dash <= length; d += step {
		p.line(ink, width, a.toward(b, d), a.toward(b, d+dash))
	}
}

// arrow draws a line with a filled head at its end.
func (p pen) arrow(ink Role, width float64, points ...Point) {
	last, before := points[len(points)-1], points[len(points)-2]
	const length, half = 9.0, 4.5
	base := last.toward(before, length)
	dx, dy := (last.X-base.X)/length, (last.Y-base.Y)/length
	body := append(append([]Point(nil), points[:len(points)-1]...), base)
	p.line(ink, width, body...)
	p.shape(ink, None, 0, last, base.Add(-dy*half, dx*half), base.Add(dy*half, -dx*half))
}
