package figure

import (
	"slices"

	"faultwright/faulttree/lists"
)

// entry is a figure that cards ask for by name.
type entry struct {
	name, title, description string
	height                   float64
	draw                     func(p pen)
}

const (
	namedWidth = 480.0
	body       = 14.0 // the size of type in named figures
)

// gallery lists every named figure. It is a function so that no table can be
// changed from elsewhere.
func gallery() []entry {
	return slices.Concat(faceFigures(), systemFigures(), groundFigures(), meterFigures())
}

// Named draws the figure of a name; false if there is none.
func Named(name string) (Drawing, bool) {
	for _, e := range gallery() {
		if e.name == name {
			d := Drawing{Width: namedWidth, Height: e.height, Title: e.title, Description: e.description}
			e.draw(pen{&d})
			return d, true
		}
	}
	return Drawing{}, false
}

// Names lists the names that [Named] knows, sorted.
func Names() []string {
	names := lists.Each(gallery(), func(e entry) string { return e.name })
	slices.Sort(names)
	return names
}

// note writes lines of words, the first base line at the point.
func (p pen) note(at Point, anchor Anchor, lines ...string) {
	for i, line := range lines {
		p.text(at.Add(0, 19*float64(i)), anchor, body, Ink, line)
	}
}

func faceFigures() []entry {
	figure := func(name, title, description string, f Face, s side) entry {
		return entry{name, title, description, 300, func(p pen) { p.faceFigure(f, s) }}
	}
	return []entry{
		figure("receptacle-5-15", "Household receptacle 5-15, from the front",
			"A round face. The ground is the U, drawn at the bottom. Going clockwise from it come the neutral, the longer slot, and the hot.", Face5_15, receptacle),
		figure("receptacle-tt-30", "30 A receptacle TT-30, from the front",
			"A round face with two slanted slots above a U. Going clockwise from the ground come the neutral and the hot.", FaceTT30, receptacle),
		figure("receptacle-14-50", "50 A receptacle 14-50, from the front",
			"A round face. The ground is the U, drawn at the top. Left and right of the middle are the two hots, opposite the ground is the neutral.", Face14_50, receptacle),
		figure("plug-5-15", "Household plug 5-15, pins towards you",
			"The mirror image of the receptacle: going clockwise from the ground come the hot and the neutral.", Face5_15, pins),
		figure("plug-tt-30", "30 A plug TT-30, pins towards you",
			"The mirror image of the receptacle: going clockwise from the ground come the hot and the neutral.", FaceTT30, pins),
		figure("plug-14-50", "50 A plug 14-50, pins towards you",
			"The mirror image of the receptacle: ground at the top, neutral opposite, the hots left and right, exchanged.", Face14_50, pins),
		{"plugs-are-mirrored", "A receptacle and its plug are mirror images",
			"Left a TT-30 receptacle from the front, right its plug with the pins towards you. Hot and neutral have changed sides; the ground stays below.", 270, mirrored},
	}
}

// faceFigure draws one large face with each contact named.
func (p pen) faceFigure(f Face, s side) {
	center, radius := Point{namedWidth / 2, 138}, 92.0
	spots := p.face(center, radius, f, s, false)
	for _, c := range contacts(f, s, false) {
		name := map[string]string{"g": "ground", "n": "neutral", "l1": hotWord("l1", f), "l2": hotWord("l2", f)}[c.id]
		shape := map[string]string{"g": "the U shape", "n": "straight blade", "l1": "straight blade", "l2": "straight blade"}[c.id]
		switch {
		case f == FaceTT30 && c.id != "g":
			shape = "slanted blade"
		case f == Face5_15 && c.id == "n":
			shape = "longer blade"
		case f == Face5_15 && c.id == "l1":
			shape = "shorter blade"
		}
		tip := spots[c.id]
		side, anchor := 1.0, Start
		if c.at.X < -0.1 || c.at.X < 0.1 && c.id == "n" {
			side, anchor = -1, End
		}
		label := Point{center.X + side*(radius+28), tip.Y}
		if c.at.X > -0.1 && c.at.X < 0.1 {
			label.Y += 0.2 * (tip.Y - center.Y)
		}
		p.line(Soft, 1.4, tip.Add(side*8, 0), Point{label.X - side*8, label.Y})
		p.bold(label.Add(0, -1), anchor, body, Ink, name)
		p.text(label.Add(0, 17), anchor, body, Soft, shape)
	}
	what := "Mounted any way up: find the ground by its shape first."
	if s == pins {
		what = "Pins towards you: the mirror image of the receptacle."
	}
	p.text(Point{namedWidth / 2, 262}, Middle, body, Ink, what)
	order := map[Face]string{Face14_50: "ground, hot, neutral, hot", FaceTT30: "ground, neutral, hot", Face5_15: "ground, neutral, hot"}[f]
	if s == pins && f != Face14_50 {
		order = "ground, hot, neutral"
	}
	p.text(Point{namedWidth / 2, 284}, Middle, body, Soft, "Clockwise: "+order+".")
}

func mirrored(p pen) {
	left, right, y, radius := 125.0, 355.0, 112.0, 78.0
	p.face(Point{left, y}, radius, FaceTT30, receptacle, false)
	p.face(Point{right, y}, radius, FaceTT30, pins, false)
	p.dots(Soft, 1.8, Point{namedWidth / 2, 24}, Point{namedWidth / 2, 200})
	p.bold(Point{left, 222}, Middle, body, Ink, "Receptacle")
	p.bold(Point{right, 222}, Middle, body, Ink, "Plug")
	p.text(Point{left, 242}, Middle, body, Soft, "clockwise G, N, L1")
	p.text(Point{right, 242}, Middle, body, Soft, "clockwise G, L1, N")
}
