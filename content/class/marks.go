package class

import (
	"context"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
)

// Marker marks an attempt that was verified.
type Marker interface {
	Mark(ctx context.Context, s *content.Scenario, c practice.Case, a practice.Attempt) (*Marks, error)
}

// Marks is the marks of an attempt, and the rubric that they are by.
type Marks struct {
	mark.Marks
	Rubric rubric.Rubric
	Early  bool // concluded before the readings held it
}

// NewMarker marks by the rubric of a handbook. What is drawn and worked out for one
// attempt serves the others; it is for one goroutine. A handbook without a rubric
// marks nothing: it is nil then.
func NewMarker(lib *content.Library) *ByRubric {
	if lib.Rubric == nil {
		return nil
	}
	return &ByRubric{lib: lib, beliefs: map[faulttree.Meter]*mark.Beliefs{}, best: map[ordered]*mark.Order{}}
}

// ByRubric is the [Marker] of [NewMarker]. It keeps what attempts share.
type ByRubric struct {
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
func (m *ByRubric) Mark(ctx context.Context, s *content.Scenario, c practice.Case, a practice.Attempt) (*Marks, error) {
	b := m.book(s, a.Meter)
	by := ordered{s, a.Role, a.Meter.Nameless()}
	b.Best = func(ctx context.Context) (mark.Order, error) {
		if m.best[by] == nil {
			written := b
			written.Best = nil
			order, err := mark.Best(ctx, scenes.CaseOf(m.lib, s), a.Role, written)
			if err != nil {
				return order, err
			}
			m.best[by] = &order
		}
		return *m.best[by], nil
	}
	given, err := mark.Of(ctx, c, a, b)
	if err != nil {
		return nil, err
	}
	return &Marks{Marks: given, Rubric: b.Rubric, Early: a.Conclusion != nil && given.Held < b.Rubric.Held}, nil
}

// book is what marking an attempt takes, with the beliefs that are shared.
func (m *ByRubric) book(s *content.Scenario, of faulttree.Meter) mark.Book {
	if of = of.Nameless(); m.beliefs[of] == nil {
		m.beliefs[of] = scenes.NewBeliefs(m.lib, of)
	}
	return scenes.MarkBook(m.lib, s, m.beliefs[of])
}

// Tell says after each act of an attempt that verifies what the readings until then
// tell, "" after acts that read nothing. At most so many acts are told as are marked.
func (m *ByRubric) Tell(ctx context.Context, s *content.Scenario, x *Checked) ([]string, error) {
	if x.Edited != "" || len(x.Attempt.Acts) > mostMarkedActs {
		return nil, nil
	}
	out := make([]string, len(x.Attempt.Acts))
	for i, a := range x.Attempt.Acts {
		if a.Kind != practice.Read {
			continue
		}
		k, err := mark.Know(ctx, x.Case, x.Attempt, i+1, m.book(s, x.Attempt.Meter))
		if err != nil {
			return nil, err
		}
		out[i] = toldBy(view.SuspectsOf(m.lib, k.Belief, x.Attempt.Meter))
	}
	return out, nil
}

// toldBy is a belief in a line.
func toldBy(v view.Suspects) string {
	var parts []string
	if v.None != nil && v.None.Leads {
		parts = append(parts, v.None.Title)
	}
	for _, s := range v.Likely[:min(2, len(v.Likely))] {
		parts = append(parts, s.Text())
	}
	return strings.Join(parts, "; ")
}
