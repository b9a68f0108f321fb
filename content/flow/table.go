package flow

import "faultwright/content/document"

// Table is the exits of a step as a table: for each its limit, and where it leads.
func (g Graph) Table(step int) document.Table {
	n := g.Nodes[step]
	t := document.Table{Header: cells("Answer", "Leads to")}
	if n.Kind == Measure || n.Kind == Chart {
		t.Header = cells("Reading", "Leads to")
	}
	for _, r := range n.Rows {
		to := g.Nodes[r.To].Name()
		if r.Label != "" {
			to = r.Label + " → " + to
		}
		if g.differs(r) {
			to = r.Signal.Word() + ": " + to
		}
		t.Rows = append(t.Rows, cells(n.Limit(r), to))
	}
	return t
}

func cells(texts ...string) [][]document.Inline {
	out := make([][]document.Inline, len(texts))
	for i, text := range texts {
		out[i] = []document.Inline{document.Text{Value: text}}
	}
	return out
}
