package look

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"

	"faultwright/content/figure"
)

// brush fills and strokes polygons on an image, with soft edges and round
// joints and ends. Points are in drawing units.
type brush struct {
	img   draw.Image
	scale float64 // pixels per unit
	r     *vector.Rasterizer
}

func newBrush(img draw.Image, scale float64) *brush {
	size := img.Bounds().Size()
	return &brush{img, scale, vector.NewRasterizer(size.X, size.Y)}
}

// flush paints what has been gathered.
func (b *brush) flush(c color.NRGBA) {
	b.r.Draw(b.img, b.img.Bounds(), image.NewUniform(c), image.Point{})
	size := b.img.Bounds().Size()
	b.r.Reset(size.X, size.Y)
}

// add gathers a polygon given in pixels, turned so that its area is positive:
// the rasterizer sums signed areas, and parts that overlap must not cancel.
func (b *brush) add(ps []figure.Point) {
	area := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		area += p.X*q.Y - q.X*p.Y
	}
	at := func(i int) (float32, float32) {
		if area < 0 {
			i = len(ps) - 1 - i
		}
		return float32(ps[i].X), float32(ps[i].Y)
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
		out[i] = figure.Point{X: p.X * b.scale, Y: p.Y * b.scale}
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
	line := b.pixels(ps)
	n := len(line) - 1
	if closed {
		n = len(line)
	}
	for i := 0; i < n; i++ {
		p, q := line[i], line[(i+1)%len(line)]
		l := math.Hypot(q.X-p.X, q.Y-p.Y)
		if l == 0 {
			continue
		}
		x, y := -(q.Y-p.Y)/l*half, (q.X-p.X)/l*half
		b.add([]figure.Point{{X: p.X + x, Y: p.Y + y}, {X: q.X + x, Y: q.Y + y}, {X: q.X - x, Y: q.Y - y}, {X: p.X - x, Y: p.Y - y}})
	}
	for _, p := range line {
		b.add(circle(p, half))
	}
	b.flush(c)
}
