package flow

import (
	"math"
	"slices"

	"faultwright/content/figure"
)

// At is the box at a point of the drawing, -1 for none.
func (l Layout) At(p figure.Point) int {
	return slices.IndexFunc(l.Boxes, func(b Box) bool {
		return b.Left <= p.X && p.X <= b.Right && b.Top <= p.Y && p.Y <= b.Bottom
	})
}

// Next is the box that an arrow key leads to from another, X to the right and Y
// downwards: from a step to its plates and back, along the plates, and from one step to
// the next in that direction. It is the same box where there is none.
func (l Layout) Next(from int, dx, dy float64) int {
	if from < 0 || from >= len(l.Boxes) {
		return l.First()
	}
	plate := l.Boxes[from].Beside >= 0
	switch {
	case plate && dx < 0:
		return l.Boxes[from].Beside
	case !plate && dx > 0:
		if i := slices.IndexFunc(l.Boxes, func(b Box) bool { return b.Beside == from }); i >= 0 {
			return i
		}
	case plate && dy != 0:
		if i := from + int(math.Copysign(1, dy)); i < len(l.Boxes) && l.Boxes[i].Beside == l.Boxes[from].Beside {
			return i
		}
		from = l.Boxes[from].Beside
	case plate:
		from = l.Boxes[from].Beside
	}
	return l.nextStep(from, dx, dy)
}

// nextStep is the step next to another in a direction, the nearest that lies more in
// this direction than across it.
func (l Layout) nextStep(from int, dx, dy float64) int {
	best, found := math.Inf(1), from
	a := l.Boxes[from].center()
	for i, b := range l.Boxes {
		if b.Beside >= 0 || i == from {
			continue
		}
		x, y := b.center().X-a.X, b.center().Y-a.Y
		along, across := x*dx+y*dy, math.Abs(x*dy)+math.Abs(y*dx)
		if along <= 1 || across > 2*along {
			continue
		}
		if d := along + 2*across; d < best {
			best, found = d, i
		}
	}
	return found
}

// First is the box that a reader looks at first: where the walk marked stands, else
// where the tree begins.
func (l Layout) First() int {
	for _, holds := range []func(Node) bool{func(n Node) bool { return n.Here }, func(n Node) bool { return n.First }} {
		if i := slices.IndexFunc(l.Boxes, func(b Box) bool { return holds(l.Graph.Nodes[b.Node]) }); i >= 0 {
			return i
		}
	}
	return 0
}

// Around is the room of a step and its plates, one of which a box is.
func (l Layout) Around(box int) figure.Box {
	step := box
	if beside := l.Boxes[box].Beside; beside >= 0 {
		step = beside
	}
	out := l.Boxes[step].Box
	for _, b := range l.Boxes {
		if b.Beside == step {
			out.Right, out.Top, out.Bottom = max(out.Right, b.Right), min(out.Top, b.Top), max(out.Bottom, b.Bottom)
		}
	}
	return out
}

// BoxOf is the first box of a node, -1 for none: its own, or the first plate of a finding
// or a door.
func (l Layout) BoxOf(node int) int {
	return slices.IndexFunc(l.Boxes, func(b Box) bool { return b.Node == node })
}
