package figure

import (
	"strings"

	"faultwright/faulttree"
)

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
