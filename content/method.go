package content

import (
	"slices"
	"strings"

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
	Effort     int      // from 1, what can be read at once
	Take       []string // places that are read one after the other; the highest reading counts
	Cautions   []string // ids
	Cards      []string // ids
	Sources    []string // ids
	Body       []document.Block
	Pos        source.Pos
}

// Prose is what the reader is told: the body, and of which places the highest
// reading is typed. The caller may keep and extend it.
func (m *Method) Prose() []document.Block {
	out := append([]document.Block(nil), m.Body...)
	if len(m.Take) > 0 {
		text := "Read one after the other, and type the highest: " + strings.Join(m.Take, ", ") + "."
		out = append(out, document.Paragraph{Text: []document.Inline{document.Text{Value: text}}, Pos: m.Pos})
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
