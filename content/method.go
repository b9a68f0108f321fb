package content

import (
	"slices"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Method is how quantities are taken, written once for every step and every
// column of a chart that asks for one of them.
type Method struct {
	ID, Title  string
	Quantities []string // ids of what is taken in this way
	Exposure   faulttree.Exposure
	Effort     int // from 1, what can be read at once
	Take       faulttree.Take
	Cautions   []string // ids
	Cards      []string // ids
	Sources    []string // ids
	Body       []document.Block
	Pos        source.Pos
}

// Prose is what the reader is told before these are taken: the body, and which of
// several readings is typed where one of them is read several times. The caller may
// keep and extend it.
func (m *Method) Prose(taken ...faulttree.Variable) []document.Block {
	out := append([]document.Block(nil), m.Body...)
	for _, v := range taken {
		if t := m.Take.Of(v.Quantity); t.Several() {
			return append(out, document.Paragraph{Text: []document.Inline{document.Text{Value: t.String()}}, Pos: m.Pos})
		}
	}
	return out
}

// Union is the ids of a, then those that only b holds. It changes neither.
func Union(a, b []string) []string {
	out := slices.Clone(a)
	for _, id := range b {
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}
