package figure

// Parts of circuit pictures.

// wire draws a conductor in the colour of its code, with a rim.
func (p pen) wire(ink Role, points ...Point) {
	p.line(WireEdge, 5.5, points...)
	p.line(ink, 3, points...)
}

func (p pen) joint(at Point) { p.disc(at, 4.5, Ink, Panel, 1) }

// supply draws an alternating source.
func (p pen) supply(at Point) {
	p.disc(at, 18, Panel, Ink, 2)
	p.line(Ink, 2, wave(at, 10, 15)...)
}

// wave is one period of an alternating current around a point.
func wave(at Point, half, height float64) []Point {
	up := curve(at.Add(-half, 0), at.Add(-half/2, -height), at.Add(-half/2, -height), at)
	return append(up, curve(at, at.Add(half/2, height), at.Add(half/2, height), at.Add(half, 0))[1:]...)
}

// earth draws the sign for earth below a point.
func (p pen) earth(at Point) {
	p.line(Ink, 2, at, at.Add(0, 10))
	for i, half := range []float64{13, 8.5, 4} {
		y := 10 + 5*float64(i)
		p.line(Ink, 2, at.Add(-half, y), at.Add(half, y))
	}
}

// load draws a resistor between two points one above the other, with its
// words to the right.
func (p pen) load(top, foot Point, words string) {
	p.wire(Hot1, top, foot)
	middle := (top.Y + foot.Y) / 2
	p.shape(Panel, Ink, 2, rounded(top.X-11, middle-24, top.X+11, middle+24, 3)...)
	if words != "" {
		p.text(Point{top.X + 19, middle + 5}, Start, body, Ink, words)
	}
}

// capacitor draws a capacitor between two points one above the other.
func (p pen) capacitor(top, foot Point) {
	middle := (top.Y + foot.Y) / 2
	p.line(Ink, 2, top, Point{top.X, middle - 4})
	p.line(Ink, 2, Point{top.X, middle + 4}, foot)
	p.line(Ink, 3, Point{top.X - 14, middle - 4}, Point{top.X + 14, middle - 4})
	p.line(Ink, 3, Point{top.X - 14, middle + 4}, Point{top.X + 14, middle + 4})
}

// breaker draws a breaker in a level wire.
func (p pen) breaker(at Point, open bool) {
	p.shape(Panel, Panel, 2, rounded(at.X-16, at.Y-8, at.X+16, at.Y+8, 2)...)
	p.disc(at.Add(-16, 0), 3.5, Ink, None, 0)
	p.disc(at.Add(16, 0), 3.5, Ink, None, 0)
	if open {
		p.line(Ink, 2.5, at.Add(-16, 0), at.Add(12, -16))
		return
	}
	p.line(Ink, 2.5, append([]Point{at.Add(-16, 0)}, curve(at.Add(-16, 0), at.Add(-8, -14), at.Add(8, -14), at.Add(16, 0))...)...)
}

// gap marks a break in a level wire.
func (p pen) gap(at Point, word string, below bool) {
	p.shape(Panel, None, 0, at.Add(-17, -7), at.Add(17, -7), at.Add(17, 7), at.Add(-17, 7))
	p.line(RedLead, 3.5, at.Add(-8, -8), at.Add(8, 8))
	p.line(RedLead, 3.5, at.Add(-8, 8), at.Add(8, -8))
	y := -16.0
	if below {
		y = 26
	}
	p.bold(at.Add(0, y), Middle, body, Ink, word)
}

// span draws a measure between two points one above the other, with its
// words beside it.
func (p pen) span(top, foot Point, words string) {
	middle := Point{top.X, (top.Y + foot.Y) / 2}
	p.arrow(Accent, 1.8, middle, top)
	p.arrow(Accent, 1.8, middle, foot)
	if words != "" {
		p.bold(Point{top.X + 9, middle.Y + 5}, Start, body, Ink, words)
	}
}

// flow draws the way of a current.
func (p pen) flow(points ...Point) { p.arrow(RedLead, 3, points...) }
