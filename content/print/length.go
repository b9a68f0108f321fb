package print

import (
	"math"
	"strings"
	"unicode/utf8"

	"faultwright/content/document"
	"faultwright/content/view"
	"faultwright/faulttree/lists"
)

// Sizes of type in points, the largest first. Below the last nobody reads a page that is
// pinned to a wall.
var sizes = []float64{9, 8.5, 8, 7.5, 7.2, 7, 6.8, 6.5}

// MostPages is how many pages a walk may take, and how many a procedure of it.
const MostPages = 2

// roomiest is from which size on one page is better than two of larger type.
const roomiest = 8

// size is the size of type in which a sheet is set: one page if it fits there in type
// that is not small, else the largest type in which it fits two. A sheet that fits
// nowhere is set in the smallest and takes more pages; nothing of it is left out.
func (v treeSheet) size(p Paper) float64 {
	for _, s := range sizes {
		if s >= roomiest && v.pages(p, s) <= 1 {
			return s
		}
	}
	for _, s := range sizes {
		if v.pages(p, s) <= MostPages {
			return s
		}
	}
	return sizes[len(sizes)-1]
}

// pages is about how many pages a sheet takes in type of this size, by counting lines:
// a character is taken to be as wide as those of common sans-serif type are on average.
func (v treeSheet) pages(p Paper, size float64) float64 {
	width, height := (p.Width-2*marginSide)*pointsPerMM, (p.Height-marginTop-marginFoot)*pointsPerMM
	full, half := measure{size, width}, measure{size, (width - columnGap*pointsPerMM) / 2}
	return (v.above(full) + v.flow(half)/2) / (height * columnsFilled)
}

// What the style sheet says too, in millimetres.
const (
	marginSide, marginTop, marginFoot = 7, 7, 10
	columnGap                         = 4
	pointsPerMM                       = 72 / 25.4
)

const (
	perCharacter  = 0.455 // width of a character in parts of the size
	lineHeight    = 1.18  // of a line, likewise
	columnsFilled = 0.98  // what of a page its columns fill, since some blocks are not cut
)

// measure is a column of type: its size and its width, in points.
type measure struct{ size, width float64 }

// text is the height of a paragraph.
func (m measure) text(share float64, texts ...string) float64 {
	n := 0
	for _, t := range texts {
		n += utf8.RuneCountInString(t) + 1
	}
	if n <= len(texts) {
		return 0
	}
	lines := math.Ceil(float64(n) * perCharacter * m.size / (m.width * share))
	return lines * lineHeight * m.size
}

// em is a distance in parts of the size.
func (m measure) em(parts float64) float64 { return parts * m.size }

// above is the height of what stands over the columns.
func (v treeSheet) above(m measure) float64 {
	h := 28 + m.text(0.7, v.Summary)
	titles := lists.Each(v.Danger.Cautions, func(c view.Warned) string { return c.Title + c.Signal.Word() + "     " })
	h += 14 + m.text(0.9, v.Danger.Dangers...) + m.text(0.97, append(v.Danger.Limits, stopWords)...) + m.text(0.97, titles...) + m.text(0.97, clearsLine)
	h += m.text(1, v.Kit...) + m.text(1.15, legendLine) + m.em(1.5)
	for _, f := range v.Facts {
		h += m.text(1, append(lists.Each(f.Choices, func(c view.Choice) string { return "   " + short(c.Text) }), f.Question)...)
	}
	return h
}

// stopWords are as long as what stands beside the limits.
const stopWords = "STOP where a reading is. Within the meter's error of it counts as over it. After a STOP every finding is DANGER."

// flow is the height of what stands in the columns, as one column.
func (v treeSheet) flow(m measure) float64 {
	const heading = 2.3
	h := m.em(5*heading) + m.text(0.97, v.Elsewhere)
	for _, g := range v.Readings {
		h += m.text(1.07, g.Live, g.Set) + m.em(0.1)
		for _, r := range g.Reads {
			h += m.text(0.82, r.Code, r.Title, r.Take, r.Only) + m.em(0.22)
		}
	}
	if len(v.Proof.By) > 0 {
		h += m.em(heading) + m.text(0.97, append(v.Proof.By, proofWords)...)
		for _, c := range v.Proof.Else {
			h += m.text(0.97, c.Title, document.Plain(c.Prose))
		}
	}
	for _, s := range v.Steps {
		h += s.height(m)
	}
	for _, f := range v.Findings {
		h += m.text(0.97, f.Code, f.Title, f.Title[:len(f.Title)/8], f.Signal.Word()+"    ", f.Do, f.DoNot, f.DoNot[:len(f.DoNot)/8], f.By, f.Not) + m.em(0.3)
	}
	h += m.text(0.9, lists.Each(v.Walks, func(d door) string { return d.Code + "    " + d.What })...)
	for _, n := range v.Remain.Tests {
		h += m.text(1, n.Text()) + m.em(0.15)
	}
	return h + m.text(1, v.Remain.More, v.Remain.Rest) + m.text(1.17, v.Sources...)
}

// height is that of a step.
func (s step) height(m measure) float64 {
	h := m.em(0.4) + m.text(0.95, s.Code, s.Title, s.Title[:len(s.Title)/8])
	if s.Stop {
		h += m.em(1.4)
	}
	for _, paragraph := range strings.Split(document.Plain(s.Prose), "\n") {
		h += m.text(0.97, paragraph)
	}
	if len(s.Reads) > 0 && s.One() == "" {
		h += m.text(1, append(append(lists.Each(s.Reads, func(c column) string { return c.Code + " " + c.Name + "    " }), s.Sums...), "Read")...)
	}
	for _, w := range s.Ways {
		h += (m.text(1-targetsWidth(m, w.To), w.When, w.Label) + m.em(0.05)) * 1.06
	}
	return h + s.tableHeight(m)
}

// tableHeight is the height of the chart of a step. The columns share what the last one
// leaves, each by what its longest cell would take.
func (s step) tableHeight(m measure) float64 {
	if len(s.Rows) == 0 {
		return 0
	}
	widths := make([]float64, len(s.Columns))
	all, last := 0.0, 0.0
	for i, c := range s.Columns {
		widths[i] = float64(4 + utf8.RuneCountInString(c.Code+c.Name))
		for _, r := range s.Rows {
			widths[i] = max(widths[i], float64(2+utf8.RuneCountInString(r.Cells[i])))
		}
		all += widths[i]
	}
	for _, r := range s.Rows {
		last = max(last, targetsWidth(m, r.To))
	}
	h := m.em(2*lineHeight + 1)
	for _, r := range s.Rows {
		lines := lineHeight
		for i, text := range r.Cells {
			cell := m.text((1-last)*widths[i]/all*0.9, text) / m.size
			lines = max(lines, cell)
		}
		h += m.em(lines*0.95 + 0.2)
	}
	return h
}

// targetsWidth is what part of a line the targets of a way take.
func targetsWidth(m measure, to []target) float64 {
	n := 0
	for _, t := range to {
		n += utf8.RuneCountInString(t.From+t.Code+t.Signal.Word()) + 7
	}
	return min(0.6, float64(n)*perCharacter*m.size/m.width)
}
