package figure

import (
	"strings"

	"faultwright/faulttree"
)

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
