package practice

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
)

// touch puts the next probe where the drawing was tapped, or takes up a probe
// that was tapped where it lies.
func (b *bench) touch(at figure.Point, reach float64) {
	if b.surface == nil {
		return
	}
	if node, ok := b.surface.Nearest(at, reach); ok && b.isPoint(node) {
		b.putNext(node)
		return
	}
	if probe, ok := b.surface.Grab(at, reach, b.state()); ok {
		b.t.blackNext = probe == figure.BlackProbe
	}
}

// putNext puts the probe whose turn it is on a point; then it is the other's.
func (b *bench) putNext(node string) {
	b.put(b.turn(), node)
	b.t.blackNext = !b.t.blackNext
}

// turn is the probe that is moved next.
func (b *bench) turn() figure.Probe {
	if b.t.blackNext {
		return figure.BlackProbe
	}
	return figure.RedProbe
}

// on is where a probe is.
func (b *bench) on(p figure.Probe) string {
	if p == figure.BlackProbe {
		return b.t.black
	}
	return b.t.red
}

// put puts a probe on a point, or lifts it: "".
func (b *bench) put(p figure.Probe, node string) {
	if p == figure.BlackProbe {
		b.t.black = node
	} else {
		b.t.red = node
	}
	points := b.t.scene.Points()
	b.red.ShowChosen(slices.Index(points, b.t.red) + 1)
	b.black.ShowChosen(slices.Index(points, b.t.black) + 1)
	b.moved()
}

// grab takes up the probe at which a drag begins.
func (b *bench) grab(at figure.Point, reach float64) bool {
	if b.surface == nil {
		return false
	}
	probe, ok := b.surface.Grab(at, reach, b.state())
	if ok {
		b.held = figure.Held{Probe: probe, At: at}
	}
	return ok
}

// move draws a probe where it is dragged.
func (b *bench) move(at figure.Point) {
	b.held.At = at
	b.redraw()
}

// drop puts the probe on the point that it was dragged to, or lets it lie.
func (b *bench) drop(at figure.Point, reach float64) {
	probe := b.held.Probe
	b.held = figure.Held{}
	node, ok := b.surface.Nearest(at, reach)
	if !ok || !b.isPoint(node) {
		node = ""
	}
	b.put(probe, node)
	b.t.blackNext = probe == figure.RedProbe && b.t.black == ""
}

// arrow moves the probe whose turn it is to the next point that way.
func (b *bench) arrow(dx, dy float64) {
	if b.surface == nil {
		return
	}
	node := b.on(b.turn())
	for range len(b.t.scene.Points()) { // what is drawn and is no test point is passed over
		next, ok := figure.Toward(b.surface.Spots(), node, dx, dy)
		if !ok {
			return
		}
		if node = next; b.isPoint(node) {
			b.put(b.turn(), node)
			return
		}
	}
}

// key lifts a probe, or reads.
func (b *bench) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		b.read()
	case fyne.KeyDelete, fyne.KeyBackspace:
		b.put(b.turn(), "")
	default:
		return false
	}
	return true
}

// typed takes a probe by its letter.
func (b *bench) typed(r rune) bool {
	switch r {
	case 'r', 'R':
		b.t.blackNext = false
	case 'b', 'B':
		b.t.blackNext = true
	default:
		return false
	}
	return true
}
