package figure

import (
	"strings"

	"faultwright/faulttree"
)

const (
	probesWidth  = 360.0
	probesHeight = 308.0
	small        = 13.0 // the size of type in probe pictures
)

// Faces lists the faces that a plug can have whose configuration is known by
// name: that one, or where it is unknown the two usual ones.
func Faces(plug string) []Face {
	if f, known := ParseFace(plug); known {
		return []Face{f}
	}
	return []Face{FaceTT30, Face14_50}
}

// ShowsFace reports whether the picture of q depends on the face of the
// supply, so that a reader with the other one needs another picture.
func ShowsFace(q faulttree.Quantity) bool {
	if second(q) {
		return false
	}
	for _, point := range []string{q.Red, q.Black} {
		switch group, _ := split(point); group {
		case "pedestal":
			return point != "pedestal.cover"
		case "plug", "adapter", "cord", "inlet", "panel", "feed", "generator":
			return true
		}
	}
	return false
}

// second reports whether a quantity touches a second hot, which only a 14-50
// supply has.
func second(q faulttree.Quantity) bool {
	return strings.HasSuffix(q.Red, "l2") || strings.HasSuffix(q.Black, "l2")
}

// ends is the face of the connector a point lies on. An inverter has one hot.
// An adapter joins two faces: its plug is that of the supply, its receptacle
// the other one, unless the quantity reads a second hot there.
func ends(point string, q faulttree.Quantity, face Face) Face {
	if strings.HasPrefix(point, "inverter.") {
		return FaceTT30
	}
	if !strings.HasPrefix(point, "adapter.out-") || q.Red == "adapter.out-l2" || q.Black == "adapter.out-l2" {
		return face
	}
	if face == Face14_50 {
		return FaceTT30
	}
	return Face14_50
}

// Probes draws where the two probes go for a quantity and what the meter is
// set to. The face is that of the supply; a quantity with a second hot is
// drawn on 14-50 whatever face is asked for.
func Probes(q faulttree.Quantity, face Face) Drawing {
	if second(q) {
		face = Face14_50
	}
	if tips := tipsAt[q.Proves]; tips.red != "" {
		q.Red, q.Black = tips.red, tips.black
	}
	d := Drawing{Width: probesWidth, Height: probesHeight, Title: q.Title}
	p := pen{&d}
	red, black := objectOf(q.Red, ends(q.Red, q, face)), object{}
	if clamped(q) {
		p.clampPicture(q, red, face)
		return d
	}
	black = objectOf(q.Black, ends(q.Black, q, face))
	top := p.conditions(q, red)
	if red.name == black.name {
		p.onOneObject(red, top, q, face)
	} else {
		p.onTwoObjects(red, black, top, q, face)
	}
	d.Description = describe(q, face)
	return d
}

// tipsAt is where the tips are drawn when the meter is proved: on hot and neutral
// of a live source, on the posts of a battery, on each other, on nothing.
var tipsAt = map[faulttree.Proof]struct{ red, black string }{
	faulttree.ProvesVoltsAC:  {"meter.known-source", "meter.n"},
	faulttree.ProvesVoltsDC:  {"meter.known-battery", "meter.neg"},
	faulttree.ProvesLeads:    {"meter.leads", "meter." + otherTip + "leads"},
	faulttree.ProvesOpenTips: {"meter.tips", "meter." + otherTip + "tips"},
}

// otherTip is before the name of how the tips are held, for the black one.
const otherTip = "other-"

// clamped reports whether q is a current read with a clamp.
func clamped(q faulttree.Quantity) bool {
	return q.Unit == faulttree.AmpsAC || q.Unit == faulttree.AmpsDC
}

// conditions writes the state of the rig at the top and returns the base line
// of the caption below.
func (p pen) conditions(q faulttree.Quantity, s object) float64 {
	y := 16.0
	for _, line := range wrap(stateWords(q), 40) {
		p.bold(Point{probesWidth / 2, y}, Middle, small, Accent, line)
		y += 17
	}
	return y + 1
}

// onOneObject draws both probes on the same object.
func (p pen) onOneObject(s object, captionY float64, q faulttree.Quantity, face Face) {
	middle := probesWidth / 2
	p.text(Point{middle, captionY}, Middle, small, Soft, s.caption+frontWords(s))
	if s.face {
		p.lines(Point{8, 72}, Start, Soft, s.note()...)
	}
	places := s.draw(p, slotArea{center: middle})
	red, black := places.at(q.Red), places.at(q.Black)
	redTip, blackTip := red(0).tip, black(0).tip
	redLeft := redTip.X < blackTip.X
	if abs(redTip.X-blackTip.X) < 1 && s.name == "panel" {
		redLeft = (redTip.X > middle) == (redTip.Y < blackTip.Y) // the upper lead goes round the far side
	} else if abs(redTip.X-middle) < 1 && abs(blackTip.X-middle) >= 1 {
		redLeft = blackTip.X > middle
	} else if abs(blackTip.X-middle) < 1 {
		redLeft = redTip.X <= middle
	}
	p.leads(red, black, redLeft, q, face)
}

// onTwoObjects draws the red probe's object on the left, the black one's on
// the right.
func (p pen) onTwoObjects(left, right object, captionY float64, q faulttree.Quantity, face Face) {
	a, b := slotArea{94, true}, slotArea{266, true}
	p.text(Point{a.center, captionY}, Middle, small, Soft, left.caption)
	p.text(Point{b.center, captionY}, Middle, small, Soft, right.caption)
	if left.face && right.name == "earth" {
		p.lines(Point{b.center, captionY + 30}, Middle, Soft, wrap(strings.Join(left.note(), " "), 18)...)
	}
	places := left.draw(p, a)
	for id, spot := range right.draw(p, b) {
		if _, taken := places[id]; !taken || right.name != left.name {
			places["right/"+id] = spot
		}
	}
	p.leads(places.at(q.Red), places.right(q.Black), true, q, face)
}

// at finds the spot of a point by its full id or its local part.
func (s spots) at(point string) func(float64) touch {
	if f := s[point]; f != nil {
		return f
	}
	_, local := split(point)
	return s.or(local)
}

// or is the spot of an id, or the middle of the object where nothing is known
// of it.
func (s spots) or(id string) func(float64) touch {
	if f := s[id]; f != nil {
		return f
	}
	return func(sign float64) touch {
		at := Point{probesWidth/2 + sign*60, objectMiddle}
		return touch{at, at.Add(0, 34), nil}
	}
}

func (s spots) right(point string) func(float64) touch {
	if f := s["right/"+point]; f != nil {
		return f
	}
	_, local := split(point)
	return s.or("right/" + local)
}

// leads draws the meter and both leads, and says beside the meter what each
// touches.
func (p pen) leads(red, black func(float64) touch, redLeft bool, q faulttree.Quantity, face Face) {
	middle := probesWidth / 2
	p.meterBody(middle, q)
	leftJack, rightJack := p.jacks(middle, redLeft)
	type end struct {
		spot   func(float64) touch
		ink    Role
		letter string
		name   []string
	}
	l := end{red, RedLead, "R", leadWords("Red lead", q.Red, ends(q.Red, q, face))}
	r := end{black, BlackLead, "B", leadWords("Black lead", q.Black, ends(q.Black, q, face))}
	if !redLeft {
		l, r = r, l
	}
	for _, e := range []struct {
		end
		jack Point
		sign float64
	}{{l, leftJack, -1}, {r, rightJack, 1}} {
		t := e.spot(e.sign)
		p.lead(e.ink, route(t, e.jack)...)
		p.disc(e.jack, 4, e.ink, LeadEdge, 1)
		p.badge(e.ink, e.letter, t.tip, t.badge)
	}
	p.side(Point{8, 236}, Start, l.name)
	p.side(Point{probesWidth - 8, 236}, End, r.name)
}

// route is the way of a lead from its badge into a jack from above.
func route(t touch, jack Point) []Point {
	above := jack.Add(0, -18)
	if len(t.way) == 0 {
		return append(curve(t.badge, t.badge.Add(0, 14), jack.Add(0, -34), jack), jack)
	}
	way := append([]Point{t.badge}, t.way...)
	return through(append(way, above, jack)...)
}

// side writes what a lead touches; the first line is bold.
func (p pen) side(at Point, anchor Anchor, lines []string) {
	p.bold(at, anchor, small, Ink, lines[0])
	p.lines(at.Add(0, 18), anchor, Ink, lines[1:]...)
}

func (p pen) lines(at Point, anchor Anchor, ink Role, lines ...string) {
	for i, line := range lines {
		p.text(at.Add(0, 17*float64(i)), anchor, small, ink, line)
	}
}

func abs(v float64) float64 { return max(v, -v) }

// clampPicture draws a clamp meter round one conductor that leaves an object.
func (p pen) clampPicture(q faulttree.Quantity, s object, f Face) {
	captionY := p.conditions(q, s)
	p.text(Point{94, captionY}, Middle, small, Soft, s.caption)
	jaw := Point{276, 150}
	from := Point{94, jaw.Y}
	if s.name == "battery" { // the cable leaves the post upwards
		from = pen{&Drawing{}}.battery(slotArea{94, true}).at(q.Red)(0).tip
	}
	path := through(from, from.Add(10, -28), Point{148, from.Y - 22}, Point{206, 128}, jaw, Point{probesWidth - 8, jaw.Y})
	if from.Y == jaw.Y {
		path = []Point{from, {probesWidth - 8, jaw.Y}}
	}
	p.line(WireEdge, 9, path...)
	p.line(wireOf(q.Red), 6, path...)
	s.draw(p, slotArea{94, true})
	p.bold(Point{probesWidth - 12, jaw.Y - 10}, End, small, Ink, wireWord(q.Red, f))
	p.line(Accent, 7, arc(jaw, 27, -78, 70)...)
	p.line(Accent, 7, arc(jaw, 27, 110, 258)...)
	p.shape(Panel, Ink, 2, jaw.Add(-20, 30), jaw.Add(20, 30), jaw.Add(30, meterTop+2-jaw.Y), jaw.Add(-30, meterTop+2-jaw.Y))
	p.meterBody(jaw.X, q)
	badge := jaw.Add(0, -46)
	p.line(Accent, 2, jaw, badge)
	p.disc(jaw, 4.5, Accent, LeadEdge, 1.5)
	p.disc(badge, 10, Ink, LeadEdge, 1.5)
	p.bold(badge.Add(0, 4.6), Middle, small, Panel, "C")
	p.d.Marks = append(p.d.Marks, Mark{"C", jaw, badge})
	p.side(Point{8, 236}, Start, []string{"Clamp", "round this one", "conductor only:", wireWords(q.Red, f)})
	_, words := dial(q.Unit)
	p.d.Description = "Clamp meter set to " + words + ", range " + q.Range.With(q.Unit) + ", round one conductor alone: " + where(q.Red, q, f) + "."
	if state := stateWords(q); state != "" {
		p.d.Description += " State: " + inSentence(state) + "."
	}
}

// wireOf is the conductor colour that belongs to a point.
func wireOf(point string) Role {
	switch _, local := split(point); strings.TrimPrefix(local, "out-") {
	case "n", "neg", "gnd":
		if strings.HasSuffix(point, "neg") {
			return Hot1
		}
		return Neutral
	case "g":
		return Ground
	case "l2", "pos", "aux":
		return Hot2
	}
	return Hot1
}

// wireWord is the letter of the conductor that a clamp goes round.
func wireWord(point string, f Face) string {
	_, local := split(point)
	return map[string]string{"l1": hotWord("l1", f), "l2": hotWord("l2", f), "n": "N", "g": "G", "pos": "+", "neg": "−"}[local]
}

// wireWords names it.
func wireWords(point string, f Face) string {
	_, local := split(point)
	return map[string]string{"l1": hotWord("l1", f), "l2": hotWord("l2", f), "n": "neutral", "g": "grounding", "pos": "positive", "neg": "negative"}[local]
}
