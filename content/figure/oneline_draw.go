package figure

import (
	"math"
	"math/cmplx"
	"slices"
	"strconv"
	"strings"

	"faultwright/faulttree/rig"
)

// OnelineState is what a one-line drawing shows besides the rig itself. With
// the zero value it shows the rig alone: no voltage, no current, no fault.
type OnelineState struct {
	Live       bool                  // show voltages and currents
	Direct     bool                  // they are direct, with a sign
	Volts      map[string]complex128 // by node, to remote earth; a node that is not there floats
	Amps       map[string]complex128 // by part, from A to B
	Tripped    []string              // parts or their devices that have opened
	Off        map[string]bool       // switches that are off
	Loads      map[string]bool       // legs whose loads are on
	Values     []float64             // of the rig's parameters, for the words beside loads
	Fault      *rig.Variant          // mark what is wrong; nil hides it
	Severity   float64               // of the fault, in its unit
	Red, Black string                // nodes the probes touch
	Loose      bool                  // a probe that touches nothing is drawn where it lies
	Held       Held                  // a probe that is being moved
	Danger     map[string]bool       // nodes whose voltage can hurt
}

// AmpsText is a current as the drawing shows it.
func AmpsText(i float64) string {
	switch {
	case i < 50e-6:
		return "0 A"
	case i < 10e-3:
		return strconv.FormatFloat(i*1000, 'f', 1, 64) + " mA"
	case i < 1:
		return strconv.FormatFloat(i*1000, 'f', 0, 64) + " mA"
	}
	return strconv.FormatFloat(i, 'f', 1, 64) + " A"
}

// leastDrawn is the smallest current with an arrow, in amperes.
const leastDrawn = 200e-6

// Draw draws the rig in a state.
func (o *Oneline) Draw(s OnelineState) Drawing {
	d := Drawing{Width: o.width, Height: o.height, Title: o.rig.Title, Description: "One-line drawing of " + o.rig.Title + ".", Items: make([]Item, 0, 512)}
	if s.Live {
		d.Description += " Its voltages and currents stand in the table below it."
	}
	if tripped := o.rig.TrippedText(s.Tripped); tripped != "" {
		d.Description += " " + tripped
	}
	p := onelinePen{pen{&d}, o, s}
	p.frame()
	p.wires()
	for _, u := range o.upright {
		p.hang(u)
	}
	shown := map[float64]written{} // by the height of the row
	for _, l := range o.level {
		p.symbol(l)
		p.current(l, shown)
	}
	for _, n := range o.nodes {
		p.node(n)
	}
	p.probes()
	return d
}

// onelinePen draws one state of a plan.
type onelinePen struct {
	pen
	o *Oneline
	s OnelineState
}

// twoHots reports whether a second hot is drawn anywhere.
func (o *Oneline) twoHots() bool {
	for _, b := range o.bands {
		for _, r := range b.rows {
			if r.wire == "l2" && r.used {
				return true
			}
		}
	}
	return false
}

// frame draws column titles and the names of the wires.
func (p onelinePen) frame() {
	for _, b := range p.o.bands {
		for _, c := range b.columns {
			if c.title != "" {
				p.text(Point{c.x0 - 4, b.top + 20}, Start, 12, Soft, c.title)
			}
		}
		for _, r := range b.rows {
			if !r.used {
				continue
			}
			name := wireNames[r.wire]
			switch {
			case r.wire == "l1" && !p.o.twoHots():
				name = hotWord("l1", FaceTT30)
			case name == "":
				name = r.wire
			}
			p.bold(Point{6, r.y + 5}, Start, 13, Ink, name)
		}
	}
}

// isOpen reports whether a part does not conduct because of a switch, a trip or
// a leg without loads.
func (p onelinePen) isOpen(part rig.Part) bool {
	return part.Switch != "" && p.s.Off[part.Switch] || p.tripped(part) ||
		part.Kind == rig.Load && !part.Always && !p.s.Loads[part.Leg]
}

func (p onelinePen) tripped(part rig.Part) bool {
	return slices.Contains(p.s.Tripped, part.Name) || part.Run != "" && slices.Contains(p.s.Tripped, part.Run)
}

// edit is what the fault does to a part; it may name the part's run.
func (p onelinePen) edit(part rig.Part) (rig.Edit, bool) {
	if p.s.Fault != nil {
		for _, e := range p.s.Fault.Edits {
			if slices.Contains(e.Parts, part.Name) || part.Run != "" && slices.Contains(e.Parts, part.Run) {
				return e, true
			}
		}
	}
	return rig.Edit{}, false
}

// wires draws everything along the rows: first all rims, then all cores, so
// that pieces which meet are one.
func (p onelinePen) wires() {
	for _, rim := range []bool{true, false} {
		for _, l := range p.o.level {
			for _, way := range l.pieces {
				p.strand(l.ink, rim, way...)
			}
		}
		for _, n := range p.o.nodes {
			if !n.bar {
				p.strand(rowInk(n.wire), rim, n.at, Point{n.x1, n.at.Y})
			}
		}
	}
	for _, l := range p.o.level {
		if len(l.pieces) == 2 {
			out, in := l.pieces[0], l.pieces[1]
			p.onward(out[len(out)-1])
			p.onward(in[0].Add(7, 0))
		}
	}
	for _, n := range p.o.nodes {
		switch {
		case n.name == "0":
			p.dots(Soft, 2, n.at, Point{n.x1, n.at.Y})
		case n.bar:
			p.line(WireEdge, 9, n.at, Point{n.x1, n.at.Y})
			p.line(Line, 6, n.at, Point{n.x1, n.at.Y})
		}
	}
}

func (p onelinePen) strand(ink Role, rim bool, way ...Point) {
	if rim {
		p.line(WireEdge, 5, way...)
		return
	}
	p.line(ink, 3, way...)
}

// onward is the sign that a wire goes on elsewhere.
func (p onelinePen) onward(at Point) {
	p.line(Soft, 2, at.Add(-4, -6), at.Add(2, 0), at.Add(-4, 6))
}

// symbol draws what stands in a wire.
func (p onelinePen) symbol(l olLevel) {
	at := l.mid
	open := p.isOpen(l.part)
	edit, wrong := p.edit(l.part)
	switch {
	case wrong && edit.Kind == rig.Open:
		p.gap(at, "", true)
	case wrong && edit.Kind == rig.Resist:
		p.shape(WarningFill, Ink, 1.6, rounded(at.X-15, at.Y-7, at.X+15, at.Y+7, 2)...)
		p.bold(at.Add(0, 24), Middle, 12, Ink, p.ohms(edit))
	case l.part.Kind == rig.Breaker:
		p.contact(at, open)
		if p.tripped(l.part) {
			p.bold(at.Add(0, 28), Middle, 12, Ink, "tripped")
		}
	case open:
		p.shape(Panel, None, 0, at.Add(-12, -5), at.Add(12, -5), at.Add(12, 5), at.Add(-12, 5))
		p.line(Ink, 2, at.Add(-12, -7), at.Add(-12, 7))
		p.line(Ink, 2, at.Add(12, -7), at.Add(12, 7))
	case l.part.Kind == rig.Joint && l.part.Switch != "":
		p.shape(Panel, Ink, 1.6, rounded(at.X-6, at.Y-7, at.X+6, at.Y+7, 2)...)
		p.line(Ink, 1.6, at.Add(0, -7), at.Add(0, 7))
	case l.part.Kind == rig.Source && !l.part.Direct:
		p.source(at)
	case l.part.Kind == rig.Source || l.part.Kind == rig.Charger:
		p.disc(at, 12, Panel, Ink, 2)
		p.text(at.Add(0, 4), Middle, 12, Ink, "+−")
	case l.part.Kind == rig.Resistance || l.part.Kind == rig.Inductance:
		p.shape(Panel, Ink, 1.6, rounded(at.X-12, at.Y-6, at.X+12, at.Y+6, 2)...)
	}
	if wrong && edit.Kind == rig.Swap {
		p.bold(at.Add(23, 5), Start, 12, Ink, "swapped")
	}
	if wrong && edit.Kind == rig.Swap || wrong && edit.Kind == rig.Set || wrong && edit.Kind == rig.Replace {
		p.halo(at)
	}
}

// contact draws a breaker whose contact hangs below its wire, since the
// voltages stand above it.
func (p onelinePen) contact(at Point, open bool) {
	p.shape(Panel, None, 0, at.Add(-15, -4), at.Add(15, -4), at.Add(15, 4), at.Add(-15, 4))
	p.disc(at.Add(-15, 0), 3, Ink, None, 0)
	p.disc(at.Add(15, 0), 3, Ink, None, 0)
	if open {
		p.line(Ink, 2.4, at.Add(-15, 0), at.Add(10, 14))
		return
	}
	p.line(Ink, 2.4, curve(at.Add(-15, 0), at.Add(-8, 13), at.Add(8, 13), at.Add(15, 0))...)
}

// ohms words the resistance of an edit.
func (p onelinePen) ohms(e rig.Edit) string { return rig.Ohms.Format(e.Ohms.Of(p.s.Severity)) }

// halo rings what a fault has changed.
func (p onelinePen) halo(at Point) { p.disc(at, 19, None, RedLead, 2.4) }

// plain reports whether nothing stands in a wire, so that an arrow can.
func (p onelinePen) plain(l olLevel) bool {
	_, wrong := p.edit(l.part)
	return !wrong && (l.part.Kind == rig.Conductor || l.part.Kind == rig.Joint && l.part.Switch == "") && !p.isOpen(l.part)
}

// current draws the arrow of a current, and its number where it differs from
// the one written before it along the row.
func (p onelinePen) current(l olLevel, shown map[float64]written) {
	if !p.s.Live {
		return
	}
	amps := p.s.Amps[l.part.Name]
	i := cmplx.Abs(amps)
	if p.plain(l) && i >= leastDrawn {
		way := l.pieces[0]
		a, b := way[len(way)-2], way[len(way)-1]
		p.head(l.mid, math.Atan2(b.Y-a.Y, b.X-a.X), ahead(amps) == l.forward, i)
	}
	if edit, wrong := p.edit(l.part); p.tripped(l.part) || wrong && (edit.Kind == rig.Resist || edit.Kind == rig.Swap) {
		return // other words stand there
	}
	if way := l.pieces[0]; len(way) > 2 { // it goes around something, or across
		return
	}
	before, seen := shown[l.mid.Y]
	t := Text{At: l.mid.Add(0, 25), Value: AmpsText(i), Size: 12, Anchor: Middle, Ink: Soft}
	if i < leastDrawn || seen && (math.Abs(i-before.amps) <= 0.02*max(i, before.amps) || t.Bounds().Left < before.right) {
		return
	}
	box := t.Bounds()
	p.shape(Panel, None, 0, rounded(box.Left, box.Top, box.Right, box.Bottom, 3)...)
	p.add(t)
	shown[l.mid.Y] = written{i, t.Bounds().Right}
}

// written is the current written last along a row, and where it ends.
type written struct{ amps, right float64 }

// ahead reports whether a current flows from A to B at the moment at which
// source L1 is at its crest. A current a quarter turn away goes by the rise.
func ahead(amps complex128) bool {
	if math.Abs(real(amps)) > 0.1*cmplx.Abs(amps) {
		return real(amps) > 0
	}
	return imag(amps) > 0
}

// head draws an arrow head; its size grows with the logarithm of the current.
func (p onelinePen) head(at Point, angle float64, along bool, amps float64) {
	size := 2.8 + 1.25*math.Log10(amps/leastDrawn)
	if !along {
		angle += math.Pi
	}
	sin, cos := math.Sincos(angle)
	to := func(x, y float64) Point { return at.Add(x*cos-y*sin, x*sin+y*cos) }
	p.shape(Accent, Panel, 1.4, to(size*1.1, 0), to(-size*0.8, size*0.8), to(-size*0.8, -size*0.8))
}

// node draws a node's spot and its voltage.
func (p onelinePen) node(n olNode) {
	if !n.probe {
		if !n.bar {
			p.disc(n.at, 3, Ink, None, 0)
		} else {
			p.barName(n)
		}
		return
	}
	p.disc(n.at, 5.5, Panel, Ink, 2)
	at := n.at.Add(-4, -11)
	if n.bar {
		at = n.at.Add(9, -10)
		p.barName(n)
	}
	if !p.s.Live || n.name == "0" {
		return
	}
	v, defined := p.s.Volts[n.name]
	word := "—"
	if defined {
		word = rig.FormatVolts(v, p.s.Direct)
		if !n.bar { // the room is small, and all of them are volts
			word = strings.TrimSuffix(word, " V")
		}
	}
	t := Text{At: at, Value: word, Size: 12, Bold: true, Ink: Ink}
	box := t.Bounds()
	ground := Panel
	if p.s.Danger[n.name] && defined {
		ground, t.Ink = DangerFill, OnDanger
	}
	width := (box.Right - box.Left) * 0.97
	p.shape(ground, None, 0, rounded(box.Left-3, box.Top-3, box.Left+width+4, box.Bottom+1, 4)...)
	p.add(t)
}

// barName words a bar at its right end.
func (p onelinePen) barName(n olNode) {
	word := n.name
	switch n.name {
	case "0":
		word = "soil"
	case "earth":
		word = "spike"
	}
	p.text(Point{n.x1 + 7, n.at.Y + 4}, Start, 12, Soft, word)
}

// probes draws the two leads' tips.
func (p onelinePen) probes() { p.putProbes(p.s, p.o.tip, p.o.lie) }

// tip is where a probe touches a node.
func (o *Oneline) tip(node string) (Point, bool) {
	i, ok := o.at[node]
	if !ok {
		return Point{}, false
	}
	return o.nodes[i].at, true
}

// Grab is the probe that lies or stands nearest to a point, and not farther than
// reach.
func (o *Oneline) Grab(at Point, reach float64, s OnelineState) (Probe, bool) {
	return grab(at, reach, s, o.tip, o.lie)
}
