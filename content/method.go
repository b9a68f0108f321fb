package content

import (
	"slices"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Method is how quantities are taken, written once for every step and every
// column of a chart that asks for one of them.
type Method struct {
	Document
	Quantities []string // ids of what is taken in this way
	Exposure   faulttree.Exposure
	Effort     int // from 1, what can be read at once
	Take       faulttree.Take
	Cautions   []string // ids
	Cards      []string // ids
}

// Prose is what a reader who knows this much is told before these are taken: the
// body, and which of several readings is typed where one of them is read several
// times. The caller may keep and extend it.
func (m *Method) Prose(points map[string]faulttree.Point, known faulttree.Known, taken ...faulttree.Variable) []document.Block {
	out := append([]document.Block(nil), m.Body...)
	for _, v := range taken {
		if said := m.Take.Tells(v.Quantity, points, known); said != "" {
			return append(out, document.Paragraph{Text: []document.Inline{document.Text{Value: said}}, Pos: m.Pos})
		}
	}
	return out
}

// HowTaken is what the methods of a measure step, or of a column of a chart, tell
// a reader who knows this much, each once; nothing for any other step. The step's
// own words come after it.
func (l *Library) HowTaken(s *faulttree.Step, known faulttree.Known) []document.Block {
	var out []document.Block
	for _, m := range l.MethodsOf(s) {
		out = append(out, m.Prose(l.Points, known, s.Measure...)...)
	}
	return out
}

// MethodsOf are the methods by which a measure step, or a column of a chart, is
// read, each once.
func (l *Library) MethodsOf(s *faulttree.Step) []*Method {
	var out []*Method
	for _, v := range s.Measure {
		if m := l.Methods[v.Quantity.ID]; s.Kind == faulttree.KindMeasure && m != nil && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// Union is the ids of a, then those that only b holds. It changes neither.
func Union(a, b []string) []string {
	out := slices.Clone(a)
	for _, id := range b {
		out = lists.With(out, id)
	}
	return out
}
