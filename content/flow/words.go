package flow

import (
	"net/url"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// Limit is what the exit asks, in one line: a row of a table names its columns.
func (n Node) Limit(r Row) string {
	if r.Cells == nil {
		return r.Words
	}
	var out []string
	for i, cell := range r.Cells {
		if cell != "" {
			out = append(out, n.Columns[i]+" "+cell)
		}
	}
	if len(out) == 0 {
		return rest
	}
	return strings.Join(out, "; ")
}

// Find lists the nodes whose words hold every one of the words, in order.
func (g Graph) Find(words string) []int {
	all := strings.Fields(strings.ToLower(words))
	var out []int
	for i, n := range g.Nodes {
		text := strings.ToLower(n.words())
		if len(all) > 0 && !slices.ContainsFunc(all, func(word string) bool { return !strings.Contains(text, word) }) {
			out = append(out, i)
		}
	}
	return out
}

// words is everything that a box says of itself.
func (n Node) words() string {
	parts := append([]string{n.Title, n.Signal.Word(), n.Walk}, n.Asks...)
	parts = append(parts, n.Columns...)
	for _, r := range n.Rows {
		parts = append(parts, n.Limit(r), r.Label)
	}
	return strings.Join(parts, " ")
}

// Text is the graph in words, a line for each step and each of its rows.
func (g Graph) Text() string {
	var b strings.Builder
	b.WriteString(g.Title + "\n")
	for _, n := range g.Nodes {
		if !n.Step() {
			continue
		}
		b.WriteString("\n" + n.Name() + "\n")
		for _, ask := range n.Asks {
			b.WriteString("    " + ask + "\n")
		}
		for _, r := range n.Rows {
			b.WriteString("  - " + n.When(r) + " → " + g.Nodes[r.To].Name() + "\n")
		}
	}
	return b.String()
}

// When is the limit of a row with its signal word and label.
func (n Node) When(r Row) string {
	out := n.Limit(r)
	if r.Label != "" {
		out += " (" + r.Label + ")"
	}
	if word := r.Signal.Word(); word != "" {
		out = word + ": " + out
	}
	return out
}

// Name is what a node is called in a line: number or signal word, and title.
func (n Node) Name() string {
	name := n.Title
	switch word := n.Signal.Word(); {
	case n.Number > 0:
		name = number(n.Number) + " " + name
	case word != "":
		name = word + ": " + name
	}
	if n.Walk != "" {
		name += " (" + n.Walk + ")"
	}
	if n.Step() && n.For == faulttree.Qualified {
		name += " (" + qualifiedOnly + ")"
	}
	return name
}

// link is where a box leads, written as in the documents of a handbook: "step:tree#step".
// No character in it means anything in DOT or Mermaid.
func (n Node) link() string {
	return "step:" + url.PathEscape(n.Ref.Tree) + "#" + url.PathEscape(n.Ref.Step)
}
