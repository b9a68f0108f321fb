package flow

import (
	"math"

	"faultwright/content/figure"
	"faultwright/faulttree"
)

// Marks are what a reader has marked in a drawing, by indexes of nodes.
type Marks struct {
	At    int   // index of the box that has the keyboard, -1 for none
	Found []int // nodes that a search has found
}

// NoMarks marks nothing.
func NoMarks() Marks { return Marks{At: -1} }

// Draw is the layout as a figure.
func (l Layout) Draw(m Marks) figure.Drawing {
	d := figure.Drawing{Width: l.Width, Height: l.Height, Title: l.Graph.Title, Description: l.Graph.Text()}
	add := func(items ...figure.Item) { d.Items = append(d.Items, items...) }
	for _, walked := range []bool{false, true} { // the way walked lies on top
		for _, line := range l.Lines {
			if line.Walked == walked {
				add(l.drawLine(line, m)...)
			}
		}
	}
	for _, b := range l.Badges {
		add(figure.Circle{Center: b.At, Radius: ringSize, Fill: figure.Panel, Stroke: figure.Soft, Width: 1.2},
			figure.Text{At: b.At.Add(0, 4.4), Value: number(l.Graph.Nodes[b.Node].Number), Size: 12, Anchor: figure.Middle, Ink: figure.Ink})
	}
	found := map[int]bool{}
	for _, i := range m.Found {
		found[i] = true
	}
	for i, b := range l.Boxes {
		add(l.drawBox(b, i == m.At, found[b.Node])...)
		d.Areas = append(d.Areas, l.area(b))
	}
	return d
}

// area makes a step what its plates lead to.
func (l Layout) area(b Box) figure.Area {
	n := l.Graph.Nodes[b.Node]
	a := figure.Area{Box: b.Box, Title: n.Name()}
	switch name := l.Graph.Tree + "-" + number(n.Number); {
	case b.Beside < 0:
		a.Name = name
	case n.Step():
		a.To = name
	}
	return a
}

// drawLine draws a line with an arrow head where it goes on to a step. Lines that begin
// or end at the box marked stand out.
func (l Layout) drawLine(line Line, m Marks) []figure.Item {
	ink, width := figure.Soft, 1.4
	if m.At >= 0 && m.At < len(l.Boxes) && (line.From == m.At || line.To == m.At) {
		ink, width = figure.Ink, 2.4
	}
	if line.Walked {
		ink, width = figure.Accent, 3
	}
	out := []figure.Item{figure.Polyline{Points: rounded(line.Points, 7), Ink: ink, Width: width}}
	if l.Boxes[line.To].Beside < 0 {
		tip := line.Points[len(line.Points)-1]
		out = append(out, figure.Polygon{Points: []figure.Point{tip, tip.Add(-5, -11), tip.Add(5, -11)}, Fill: ink})
	}
	return out
}

// rounded makes corners round, so that a line shows which way it turns where it joins
// another.
func rounded(points []figure.Point, radius float64) []figure.Point {
	if len(points) < 3 {
		return points
	}
	out := []figure.Point{points[0]}
	for i := 1; i+1 < len(points); i++ {
		a, b, c := points[i-1], points[i], points[i+1]
		r := min(radius, math.Hypot(b.X-a.X, b.Y-a.Y)/2, math.Hypot(c.X-b.X, c.Y-b.Y)/2)
		from, to := toward(b, a, r), toward(b, c, r)
		for k := range 5 {
			t := float64(k) / 4
			out = append(out, figure.Point{
				X: (1-t)*(1-t)*from.X + 2*t*(1-t)*b.X + t*t*to.X,
				Y: (1-t)*(1-t)*from.Y + 2*t*(1-t)*b.Y + t*t*to.Y,
			})
		}
	}
	return append(out, points[len(points)-1])
}

// toward is the point that lies d from p in the direction of q.
func toward(p, q figure.Point, d float64) figure.Point {
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	if l == 0 {
		return p
	}
	return p.Add((q.X-p.X)*d/l, (q.Y-p.Y)*d/l)
}

// drawBox draws a step or a plate.
func (l Layout) drawBox(b Box, at, found bool) []figure.Item {
	n := l.Graph.Nodes[b.Node]
	edge, width := figure.Soft, 1.4
	switch {
	case b.Beside >= 0 && n.Signal != faulttree.NoSignal:
		edge, _ = signInks(n.Signal)
	case n.Step() && b.Beside < 0:
		edge = figure.Ink
	}
	if n.Walked {
		edge, width = figure.Accent, 3
	}
	var out []figure.Item
	outline := func(grow float64, ink figure.Role, width float64) {
		out = append(out, figure.Polygon{Points: corners(b.Box, -grow), Fill: figure.None, Stroke: ink, Width: width})
	}
	out = append(out, figure.Polygon{Points: corners(b.Box, 0), Fill: figure.Panel, Stroke: edge, Width: width})
	if n.For == faulttree.Qualified && n.Step() || n.Kind == Door {
		outline(-3, figure.Soft, 1) // a second edge: not for everybody, or not of this walk
	}
	if found {
		outline(3, figure.Accent, 2)
	}
	if at {
		outline(6, figure.Ink, 3)
	}
	for _, r := range b.rules {
		out = append(out, figure.Polyline{Points: []figure.Point{r.from, r.to}, Ink: figure.Line, Width: 1})
	}
	for _, s := range b.signs {
		fill, _ := signInks(s.signal)
		out = append(out, figure.Polygon{Points: signShape(s), Fill: fill, Stroke: figure.None})
	}
	for _, c := range b.rings {
		out = append(out, figure.Circle{Center: c, Radius: badge, Fill: figure.Panel, Stroke: figure.Ink, Width: 1.4})
	}
	for _, t := range b.texts {
		out = append(out, t)
	}
	return out
}

// corners are those of a box, made smaller on every side.
func corners(b figure.Box, by float64) []figure.Point {
	return []figure.Point{{X: b.Left + by, Y: b.Top + by}, {X: b.Right - by, Y: b.Top + by}, {X: b.Right - by, Y: b.Bottom - by}, {X: b.Left + by, Y: b.Bottom - by}}
}

// signInks are the fill of a signal word and the ink on it.
func signInks(s faulttree.Signal) (fill, ink figure.Role) {
	switch s {
	case faulttree.Danger:
		return figure.DangerFill, figure.OnDanger
	case faulttree.Warning:
		return figure.WarningFill, figure.OnWarning
	case faulttree.Caution:
		return figure.CautionFill, figure.OnCaution
	}
	return figure.NoticeFill, figure.OnNotice
}

// signShape tells a signal without colour: eight corners for DANGER, a point at
// either side for WARNING, slanted sides for CAUTION, four corners for NOTICE.
func signShape(s sign) []figure.Point {
	const in = 8.0
	l, t, r, b := s.Left, s.Top, s.Right, s.Bottom
	mid := (t + b) / 2
	switch s.signal {
	case faulttree.Danger:
		return []figure.Point{{X: l + in, Y: t}, {X: r - in, Y: t}, {X: r, Y: t + in}, {X: r, Y: b - in}, {X: r - in, Y: b}, {X: l + in, Y: b}, {X: l, Y: b - in}, {X: l, Y: t + in}}
	case faulttree.Warning:
		return []figure.Point{{X: l + in, Y: t}, {X: r - in, Y: t}, {X: r, Y: mid}, {X: r - in, Y: b}, {X: l + in, Y: b}, {X: l, Y: mid}}
	case faulttree.Caution:
		return []figure.Point{{X: l + in, Y: t}, {X: r - in, Y: t}, {X: r, Y: b}, {X: l, Y: b}}
	}
	return corners(s.Box, 0)
}
