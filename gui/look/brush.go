package look

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"

	"faultwright/content/figure"
)

// brush fills and strokes polygons on an image, with soft edges and round
// joints and ends. Points are in drawing units.
type brush struct {
	img    *image.RGBA
	scale  float64      // pixels per unit
	origin figure.Point // what lies at the image's corner, in units
	shapes [][]figure.Point
	r      vector.Rasterizer
}

func newBrush(img *image.RGBA, scale float64) *brush { return &brush{img: img, scale: scale} }

// add gathers a polygon given in pixels.
func (b *brush) add(ps []figure.Point) { b.shapes = append(b.shapes, ps) }

// flush paints what has been gathered, as one area.
func (b *brush) flush(c color.NRGBA) {
	box := bounds(b.shapes).Intersect(b.img.Bounds())
	if !box.Empty() {
		b.r.Reset(box.Dx(), box.Dy())
		for _, ps := range b.shapes {
			b.trace(ps, box.Min)
		}
		b.r.Draw(b.img, box, image.NewUniform(c), image.Point{})
	}
	b.shapes = b.shapes[:0]
}

func bounds(shapes [][]figure.Point) image.Rectangle {
	low, high := figure.Point{X: math.Inf(1), Y: math.Inf(1)}, figure.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, ps := range shapes {
		for _, p := range ps {
			low = figure.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
			high = figure.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
		}
	}
	if low.X > high.X {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(low.X)), int(math.Floor(low.Y)), int(math.Ceil(high.X)), int(math.Ceil(high.Y)))
}

// trace gives the rasterizer a polygon, turned so that its area is positive:
// signed areas are summed, and parts that overlap must not cancel.
func (b *brush) trace(ps []figure.Point, origin image.Point) {
	area := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		area += p.X*q.Y - q.X*p.Y
	}
	at := func(i int) (float32, float32) {
		if area < 0 {
			i = len(ps) - 1 - i
		}
		return float32(ps[i].X - float64(origin.X)), float32(ps[i].Y - float64(origin.Y))
	}
	b.r.MoveTo(at(0))
	for i := 1; i < len(ps); i++ {
		b.r.LineTo(at(i))
	}
	b.r.ClosePath()
}

func (b *brush) pixels(ps []figure.Point) []figure.Point {
	out := make([]figure.Point, len(ps))
	for i, p := range ps {
		out[i] = figure.Point{X: (p.X - b.origin.X) * b.scale, Y: (p.Y - b.origin.Y) * b.scale}
	}
	return out
}

// fill paints the inside of a polygon.
func (b *brush) fill(ps []figure.Point, c color.NRGBA) {
	if len(ps) < 3 || c.A == 0 {
		return
	}
	b.add(b.pixels(ps))
	b.flush(c)
}

// stroke paints along a line of a width in drawing units, at least one pixel.
func (b *brush) stroke(ps []figure.Point, closed bool, width float64, c color.NRGBA) {
	if len(ps) == 0 || c.A == 0 || width <= 0 {
		return
	}
	half := max(width*b.scale, 1) / 2
	line := distinct(b.pixels(ps), closed)
	n := len(line)
	if n == 1 {
		b.add(circle(line[0], half))
	}
	pieces := n - 1
	if closed && n > 2 {
		pieces = n
	}
	for i := 0; i < pieces; i++ {
		p, q := line[i], line[(i+1)%n]
		own := normal(p, q)
		start, end := own, own // where neighbours bend little, edges are shared
		if before, ok := neighbour(line, i, -1, closed); ok && gentle(normal(before, p), own) {
			start = mitre(normal(before, p), own)
		} else {
			b.add(circle(p, half))
		}
		if after, ok := neighbour(line, (i+1)%n, 1, closed); ok && gentle(own, normal(q, after)) {
			end = mitre(own, normal(q, after))
		} else {
			b.add(circle(q, half))
		}
		b.add([]figure.Point{
			p.Add(start.X*half, start.Y*half), q.Add(end.X*half, end.Y*half),
			q.Add(-end.X*half, -end.Y*half), p.Add(-start.X*half, -start.Y*half),
		})
	}
	b.flush(c)
}

// distinct leaves out points that repeat the one before.
func distinct(ps []figure.Point, closed bool) []figure.Point {
	out := ps[:0:0]
	for _, p := range ps {
		if len(out) == 0 || p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	if n := len(out); closed && n > 1 && out[0] == out[n-1] {
		out = out[:n-1]
	}
	return out
}

// neighbour is the point before or after point i, if the line has one.
func neighbour(line []figure.Point, i, step int, closed bool) (figure.Point, bool) {
	j := i + step
	if n := len(line); closed && n > 2 {
		j = (j + n) % n
	}
	if j < 0 || j >= len(line) {
		return figure.Point{}, false
	}
	return line[j], true
}

// normal is the unit vector across the way from p to q.
func normal(p, q figure.Point) figure.Point {
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	return figure.Point{X: -(q.Y - p.Y) / l, Y: (q.X - p.X) / l}
}

// gentle reports a bend of less than 37 degrees.
func gentle(a, b figure.Point) bool { return a.X*b.X+a.Y*b.Y > 0.8 }

// mitre is the vector to the corner where the edges of two strokes meet.
func mitre(a, b figure.Point) figure.Point {
	k := 1 / (1 + a.X*b.X + a.Y*b.Y)
	return figure.Point{X: (a.X + b.X) * k, Y: (a.Y + b.Y) * k}
}
