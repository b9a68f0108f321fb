package figure

import (
	"strings"

	"faultwright/faulttree"
)

func meterFigures() []entry {
	return []entry{
		{"meter-loading", "What an ordinary and a low-impedance meter show on a dead wire",
			"A dead wire runs beside a live one. Coupled by 1 nF to it and 1 nF to earth, it reads 57 V on a 10 megohm meter, and 0.1 V on one of 3 kilohm.", 292, loading},
		{"limit-ruler", "A reading near a limit",
			"A bar in three parts: grey below 5 V, hatched from 5 V to 30 V, red from 30 V. The reading of 29.4 V ± 0.9 V reaches past 30 V, a danger limit, so the worse side counts.", 190, ruler},
		{"prove-the-meter", "Prove the meter before and after",
			"First a source known to be live, then what is to be tested, then the known source again. Only between two good proofs does a low reading count.", 214, prove},
		{"choosing-the-range", "Range above the highest voltage",
			"Up to 240 V can stand there: the 600 V range is right, the 200 V range would show OL, which means more than the range, not zero.", 220, choosing},
	}
}

// probeVolts is a quantity for pictures: alternating volts on the 600 V range.
func probeVolts() faulttree.Quantity {
	return faulttree.Quantity{Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
}

// display draws a small meter that shows a reading.
func (p pen) display(at Point, reading, words string) {
	p.shape(Panel, Ink, 2, rounded(at.X-52, at.Y-34, at.X+52, at.Y+34, 9)...)
	p.shape(None, Soft, 1.5, rounded(at.X-43, at.Y-26, at.X+43, at.Y+6, 4)...)
	p.bold(Point{at.X, at.Y - 3}, Middle, 18, Ink, reading)
	p.text(Point{at.X, at.Y + 24}, Middle, 13, Soft, words)
}

func loading(p pen) {
	for _, half := range []struct {
		x              float64
		reading, words string
	}{{24, "57 V", "10 MΩ"}, {256, "0.1 V", "3 kΩ"}} {
		at := func(x, y float64) Point { return Point{half.x + x, y} }
		p.wire(Hot1, at(0, 44), at(196, 44))
		p.wire(Hot2, at(0, 104), at(196, 104))
		p.text(at(0, 30), Start, body, Ink, "live, 120 V")
		p.text(at(92, 128), Start, body, Ink, "dead")
		p.capacitor(at(52, 47), at(52, 101))
		p.capacitor(at(52, 107), at(52, 212))
		p.text(at(74, 79), Start, body, Soft, "1 nF")
		p.text(at(30, 165), End, body, Soft, "1 nF")
		p.line(Ink, 2, at(142, 107), at(142, 140))
		p.line(Ink, 2, at(142, 208), at(142, 212))
		p.joint(at(142, 104))
		p.joint(at(52, 104))
		p.earth(at(52, 212))
		p.earth(at(142, 212))
		p.display(at(142, 174), half.reading, half.words)
	}
	p.dots(Line, 2, Point{namedWidth / 2, 16}, Point{namedWidth / 2, 236})
	p.note(Point{namedWidth / 2, 262}, Middle, "A ghost voltage falls on low impedance; one that stays is", "driven. On a body neither reading softens a danger.")
}

func ruler(p pen) {
	const top, foot = 66.0, 92.0
	at := func(volts float64) float64 { // the scale of the picture
		if volts <= 30 {
			return 30 + volts*9
		}
		return 300 + (volts-30)*4
	}
	p.shape(Line, Ink, 1.2, Point{at(0), top}, Point{at(5), top}, Point{at(5), foot}, Point{at(0), foot})
	p.shape(Panel, Ink, 1.2, Point{at(5), top}, Point{at(30), top}, Point{at(30), foot}, Point{at(5), foot})
	for x := at(5) + 6; x+20 < at(30); x += 14 {
		p.line(WarningFill, 3, Point{x, foot - 3}, Point{x + 20, top + 3})
	}
	p.shape(DangerFill, Ink, 1.2, Point{at(30), top}, Point{450, top}, Point{450, foot}, Point{at(30), foot})
	p.text(Point{at(0), 112}, Middle, 13, Ink, "0")
	p.text(Point{at(5), 112}, Middle, 13, Ink, "5 V")
	p.text(Point{at(30), 112}, Middle, 13, Ink, "30 V")
	p.text(Point{450, 112}, End, 13, Ink, "OL")
	p.text(Point{at(17.5), 56}, End, 13, Ink, "look further")
	p.text(Point{450, 56}, End, 13, Ink, "stop, unplug")
	x := at(29.4)
	p.shape(Ink, Panel, 1, Point{x - 8, 46}, Point{x + 8, 46}, Point{x, 60})
	low, high := at(28.5), at(30.3)
	for _, stroke := range []struct {
		ink   Role
		width float64
	}{{Panel, 6}, {Ink, 2.4}} {
		p.line(stroke.ink, stroke.width, Point{low, 79}, Point{high, 79})
		p.line(stroke.ink, stroke.width, Point{low, 73}, Point{low, 85})
		p.line(stroke.ink, stroke.width, Point{high, 73}, Point{high, 85})
		p.line(stroke.ink, stroke.width, Point{x, 62}, Point{x, 96})
	}
	p.bold(Point{x, 38}, Middle, body, Ink, "29.4 V ± 0.9 V")
	p.note(Point{namedWidth / 2, 148}, Middle, "The uncertainty crosses 30 V, a danger limit: the", "worse side counts, a better reading settles it.")
}

func prove(p pen) {
	for i, s := range [][3]string{{"Before", "120 V", "known source"}, {"Test", "0 V", "what you test"}, {"After", "120 V", "known source"}} {
		x := 80 + 160*float64(i)
		p.bold(Point{x, 28}, Middle, body, Ink, s[0])
		p.display(Point{x, 80}, s[1], s[2])
		if i < 2 {
			p.arrow(Accent, 2.4, Point{x + 60, 80}, Point{x + 98, 80})
		}
	}
	p.note(Point{namedWidth / 2, 150}, Middle, "A low reading counts only between two good proofs.", "It never proves a thing dead by itself: a lead may have", "slipped, hold may be on, the fuse may be open.")
}

func choosing(p pen) {
	p.display(Point{130, 74}, "OL", "range 200 V")
	p.display(Point{350, 74}, "241 V", "range 600 V")
	p.bold(Point{130, 28}, Middle, body, Ink, "Too small")
	p.bold(Point{350, 28}, Middle, body, Ink, "Set this first")
	p.note(Point{namedWidth / 2, 144}, Middle, "OL means more than the range. It is not zero.", "Set the range above the highest voltage that could", "be there; below 20 V step down and read again.")
}

// dial is what the meter's dial is turned to, as a mark and in words.
func dial(u faulttree.Unit) (mark, words string) {
	mark = u.Symbol()
	if u == faulttree.VoltsAC || u == faulttree.AmpsAC {
		mark += "~"
	}
	return mark, strings.TrimSuffix(u.Function(), ", clamp")
}

const (
	meterWidth = 118.0
	meterTop   = 212.0
	meterFoot  = 300.0
)

// meterBody draws the case and the display, and returns where a lead would
// leave it.
func (p pen) meterBody(x float64, q faulttree.Quantity) Point {
	left, right := x-meterWidth/2, x+meterWidth/2
	p.shape(Panel, Ink, 2, rounded(left, meterTop, right, meterFoot, 10)...)
	p.shape(None, Soft, 1.5, rounded(left+7, meterTop+38, right-7, meterFoot-7, 5)...)
	mark, words := dial(q.Unit)
	y := meterTop + 56
	p.bold(Point{left + 13, y}, Start, 15, Accent, mark)
	if q.Unit.Signed() { // the mark for direct current: a bar over three dashes
		for _, bar := range [][3]float64{{0, 12, -8}, {0, 2.4, -3}, {4.8, 7.2, -3}, {9.6, 12, -3}} {
			p.line(Accent, 1.8, Point{left + 26 + bar[0], y + bar[2]}, Point{left + 26 + bar[1], y + bar[2]})
		}
	}
	p.text(Point{right - 12, y}, End, 13, Ink, words)
	p.text(Point{x, y + 19}, Middle, 13, Ink, "range "+q.Range.With(q.Unit))
	return Point{x, meterTop}
}

// jacks draws the two jacks and returns the left and the right one.
func (p pen) jacks(x float64, redLeft bool) (left, right Point) {
	left, right = Point{x - 36, meterTop + 12}, Point{x + 36, meterTop + 12}
	words := [2]string{"COM", "VΩ"}
	if redLeft {
		words = [2]string{"VΩ", "COM"}
	}
	for i, at := range []Point{left, right} {
		p.disc(at, 5, Panel, Ink, 1.5)
		p.text(at.Add(0, 21), Middle, 13, Soft, words[i])
	}
	return left, right
}

// lead draws a test lead: its core between two rims.
func (p pen) lead(ink Role, points ...Point) {
	p.line(LeadEdge, 5.5, points...)
	p.line(ink, 3, points...)
}

// badge draws the tip of a lead on what it touches, and its letter beside.
func (p pen) badge(ink Role, letter string, tip, at Point) {
	p.lead(ink, tip, at)
	p.disc(tip, 4.5, ink, LeadEdge, 1.5)
	p.disc(at, 10, ink, LeadEdge, 1.5)
	p.bold(at.Add(0, 4.6), Middle, 13, OnLead, letter)
	p.d.Marks = append(p.d.Marks, Mark{letter, tip, at})
}
