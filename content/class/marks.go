package class

import (
	"context"
	"slices"
	"time"

	"faultwright/content"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
)

// Marker marks an attempt that was verified.
type Marker interface {
	Mark(ctx context.Context, s *content.Scenario, c practice.Case, a practice.Attempt) (*Marks, error)
}

// Marks is the marks of an attempt.
type Marks struct {
	Total int // of 100
	Word  string
	Caps  []Cap
	Parts []Part
	Early bool // concluded before the readings held it
}

// Cap is an unsafe act.
type Cap struct {
	Rule string
	Act  int
	At   time.Duration
	Text string
	Card string
}

// Part is a part of the marks.
type Part struct {
	ID, Title  string
	Points, Of int
	Reason     string
	Acts       []int
	Card       string
}

// Missed lists the cards of the concepts that were missed, each once.
func (m Marks) Missed() []string {
	var out []string
	add := func(card string) {
		if card != "" && !slices.Contains(out, card) {
			out = append(out, card)
		}
	}
	for _, c := range m.Caps {
		add(c.Card)
	}
	for _, p := range m.Parts {
		if p.Points < p.Of {
			add(p.Card)
		}
	}
	return out
}

// NewMarker marks by the rubric of a handbook. What is drawn and worked out for one
// attempt serves the others; it is for one goroutine. A handbook without a rubric
// marks nothing: it is nil then.
func NewMarker(lib *content.Library) Marker {
	if lib.Rubric == nil {
		return nil
	}
	return &marker{lib: lib, beliefs: map[faulttree.Meter]*mark.Beliefs{}, best: map[ordered]*mark.Order{}}
}

// marker keeps what attempts share.
type marker struct {
	lib     *content.Library
	beliefs map[faulttree.Meter]*mark.Beliefs
	best    map[ordered]*mark.Order
}

// ordered is for whom and by which meter there is a best order at a scenario. The
// scenario counts as it was written: variants of it teach the same.
type ordered struct {
	scenario *content.Scenario
	role     faulttree.Role
	meter    faulttree.Meter
}

// Mark marks one attempt.
func (m *marker) Mark(ctx context.Context, s *content.Scenario, c practice.Case, a practice.Attempt) (*Marks, error) {
	if m.beliefs[a.Meter] == nil {
		m.beliefs[a.Meter] = scenes.NewBeliefs(m.lib, a.Meter)
	}
	b := scenes.MarkBook(m.lib, s, m.beliefs[a.Meter])
	by := ordered{s, a.Role, a.Meter}
	if m.best[by] == nil {
		order, err := mark.Best(ctx, scenes.CaseOf(m.lib, s), a.Role, b)
		if err != nil {
			return nil, err
		}
		m.best[by] = &order
	}
	b.Best = m.best[by]
	given, err := mark.Of(ctx, c, a, b)
	if err != nil {
		return nil, err
	}
	out := &Marks{Total: given.Total, Word: given.Word, Early: a.Conclusion != nil && given.Held < b.Rubric.Held}
	for _, c := range given.Caps {
		out.Caps = append(out.Caps, Cap{string(c.Rule), c.Act, c.At, c.Text, c.Card})
	}
	for _, p := range given.Parts {
		out.Parts = append(out.Parts, Part{p.ID, p.Title, p.Points, p.Of, p.Reason, p.Acts, p.Card})
	}
	return out, nil
}
