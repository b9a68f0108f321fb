package figure

import (
	"math/cmplx"
	"strconv"

	"faultwright/faulttree/rig"
)

// hang draws a part between two rows.
func (p onelinePen) hang(u olUpright) {
	top, foot := u.top, u.foot
	middle := Point{top.X, (top.Y + min(foot.Y, top.Y+p.o.step)) / 2}
	open := p.isOpen(u.part)
	edit, wrong := p.edit(u.part)
	ink := Ink
	if open && u.part.Kind == rig.Load {
		ink = Soft
	}
	switch {
	case joined(u.part):
		p.fault(u, middle)
		return
	case u.part.Kind == rig.Source && u.part.Direct:
		p.cell(top, foot, middle)
	case u.part.Kind == rig.Source:
		p.line(ink, 2, top, foot)
		p.source(middle)
	case u.part.Kind == rig.Capacitance:
		p.capacitor(top, Point{top.X, top.Y + 2*(middle.Y-top.Y)})
		p.line(ink, 2, Point{top.X, top.Y + 2*(middle.Y-top.Y)}, foot)
	case u.part.Kind == rig.Load:
		p.line(ink, 2, top, foot)
		p.shape(Panel, ink, 2, rounded(middle.X-8, middle.Y-16, middle.X+8, middle.Y+16, 3)...)
		if !u.part.Always {
			p.loadWords(u, middle, open)
		}
	case u.part.Kind == rig.Charger:
		p.line(ink, 2, top, foot)
		p.shape(Panel, ink, 2, rounded(middle.X-15, middle.Y-14, middle.X+15, middle.Y+14, 3)...)
		p.line(ink, 1.6, middle.Add(-15, 14), middle.Add(15, -14))
	case u.part.Kind == rig.Resistance:
		p.line(ink, 1.6, top, foot)
		p.shape(Panel, ink, 1.6, rounded(middle.X-5, middle.Y-12, middle.X+5, middle.Y+12, 1)...)
	case u.part.Kind == rig.Breaker:
		p.line(ink, 2, top, foot)
		p.contact(middle, open)
	default: // a bond
		p.wire(u.ink, top, foot)
	}
	p.disc(top, 3.2, ink, None, 0)
	p.disc(foot, 3.2, ink, None, 0)
	switch {
	case wrong && edit.Kind == rig.Open:
		p.gap(middle, "", true)
	case wrong:
		p.halo(middle)
	case open && u.part.Kind != rig.Load && u.part.Kind != rig.Breaker:
		p.shape(Panel, None, 0, middle.Add(-6, -9), middle.Add(6, -9), middle.Add(6, 9), middle.Add(-6, 9))
		p.line(Ink, 2, middle.Add(-6, -9), middle.Add(6, -9))
		p.line(Ink, 2, middle.Add(-6, 9), middle.Add(6, 9))
	}
	p.fall(u)
}

// fall draws the arrow of the current through an upright part, below its top.
func (p onelinePen) fall(u olUpright) {
	amps := p.s.Amps[u.part.Name]
	if i := cmplx.Abs(amps); p.s.Live && i >= leastDrawn {
		p.head(u.top.Add(0, 10), halfPi, ahead(amps) == u.down, i)
	}
}

const halfPi = 1.5707963267948966

// source is a small alternating source.
func (p onelinePen) source(at Point) {
	p.disc(at, 14, Panel, Ink, 2)
	p.line(Ink, 2, wave(at, 8, 12)...)
}

// cell is a battery.
func (p onelinePen) cell(top, foot, middle Point) {
	p.line(Ink, 2, top, middle.Add(0, -5))
	p.line(Ink, 2, middle.Add(0, 5), foot)
	p.line(Ink, 2, middle.Add(-14, -5), middle.Add(14, -5))
	p.line(Ink, 4, middle.Add(-8, 5), middle.Add(8, 5))
}

// fault draws a join that a fault has made.
func (p onelinePen) fault(u olUpright, middle Point) {
	if p.s.Fault == nil {
		return
	}
	p.line(RedLead, 3, u.top, u.foot)
	p.disc(u.top, 4, RedLead, None, 0)
	p.disc(u.foot, 4, RedLead, None, 0)
	p.shape(WarningFill, Ink, 1.6, rounded(middle.X-7, middle.Y-13, middle.X+7, middle.Y+13, 2)...)
	for i, e := range p.s.Fault.Edits {
		if u.part.Name == rig.FaultPart(i) {
			p.bold(middle.Add(12, 5), Start, 12, Ink, p.ohms(e))
		}
	}
	p.fall(u)
}

// loadWords are a load's watts, and what stands across it and flows in it.
func (p onelinePen) loadWords(u olUpright, middle Point, open bool) {
	at := middle.Add(13, -9)
	foot := 3.0
	switch {
	case p.s.Live && !open:
		foot = 33
	case open:
		foot = 18
	}
	p.shape(Panel, None, 0, at.Add(-1, -10), at.Add(50, -10), at.Add(50, foot), at.Add(-1, foot)) // a wire may pass here
	i := u.part.Params[rig.AttrWatts]
	if i != rig.None && i < len(p.s.Values) {
		p.text(at, Start, 12, Soft, strconv.FormatFloat(p.s.Values[i], 'f', 0, 64)+" W")
	}
	if open {
		p.text(at.Add(0, 15), Start, 12, Soft, "off")
		return
	}
	if !p.s.Live {
		return
	}
	a, okA := p.s.Volts[u.part.A]
	b, okB := p.s.Volts[u.part.B]
	if okA && okB {
		t := Text{At: at.Add(0, 15), Value: rig.FormatVolts(a-b, p.s.Direct), Size: 12, Bold: true, Ink: Ink}
		if p.s.Danger[u.part.A] && p.s.Danger[u.part.B] { // its own voltage is one
			box := t.Bounds()
			p.shape(DangerFill, None, 0, rounded(box.Left-3, box.Top-3, box.Right+1, box.Bottom+1, 4)...)
			t.Ink = OnDanger
		}
		p.add(t)
	} else {
		p.bold(at.Add(0, 15), Start, 12, Ink, "—")
	}
	p.text(at.Add(0, 30), Start, 12, Soft, AmpsText(cmplx.Abs(p.s.Amps[u.part.Name])))
}
