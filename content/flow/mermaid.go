package flow

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Mermaid writes a graph as a flowchart of Mermaid. A row of a table is told on its
// edge, with the names of its columns; a finding has a shape by its signal word. Every
// node links to what it stands for.
func Mermaid(g Graph) string {
	var b strings.Builder
	b.WriteString("flowchart TD\n")
	for i, n := range g.Nodes {
		open, shut := mermaidShape(n)
		lines := n.plateLines()
		if n.Step() {
			lines = append([]string{number(n.Number) + " " + n.Title}, n.Asks...)
			if n.For == faulttree.Qualified {
				lines = append(lines, qualifiedOnly)
			}
		}
		for k := range lines {
			lines[k] = entities(lines[k])
		}
		fmt.Fprintf(&b, "  n%d%s\"%s\"%s\n", i, open, strings.Join(lines, "<br/>"), shut)
	}
	for i, n := range g.Nodes {
		for _, r := range n.Rows {
			arrow := "-->"
			if r.Walked {
				arrow = "==>"
			}
			words := n.Limit(r)
			if r.Label != "" {
				words += ": " + r.Label
			}
			if g.differs(r) {
				words = r.Signal.Word() + ": " + words
			}
			fmt.Fprintf(&b, "  n%d %s|\"%s\"| n%d\n", i, arrow, entities(words), r.To)
		}
	}
	for i, n := range g.Nodes {
		fmt.Fprintf(&b, "  click n%d href \"%s\"\n", i, n.link())
	}
	b.WriteString("  classDef danger fill:#C8102E,color:#FFFFFF,stroke:#1C2126\n  classDef warning fill:#FF7900,color:#000000,stroke:#1C2126\n")
	b.WriteString("  classDef caution fill:#FFC72C,color:#000000,stroke:#1C2126\n  classDef notice fill:#0057B8,color:#FFFFFF,stroke:#1C2126\n")
	b.WriteString("  classDef walked stroke-width:4px\n")
	for i, n := range g.Nodes {
		if (n.Kind == Finding || n.Kind == Stop) && n.Signal != faulttree.NoSignal {
			fmt.Fprintf(&b, "  class n%d %s\n", i, n.Signal)
		}
		if n.Walked {
			fmt.Fprintf(&b, "  class n%d walked\n", i)
		}
	}
	return b.String()
}

// mermaidShape is what stands around the words of a node.
func mermaidShape(n Node) (open, shut string) {
	switch {
	case n.Kind == Door:
		return "[[", "]]"
	case n.Step():
		return "[", "]"
	}
	switch n.Signal {
	case faulttree.Danger:
		return "{{", "}}"
	case faulttree.Warning:
		return "[/", "\\]"
	case faulttree.Caution:
		return "[\\", "/]"
	}
	return "([", "])"
}

// entities is text between quotation marks of Mermaid: what means something there, or
// would begin a list or markup, is written by its number.
func entities(s string) string {
	var b strings.Builder
	for _, r := range source.Shown(s) {
		switch {
		case r == '\n' || r == '\r':
			b.WriteByte(' ')
		case strings.ContainsRune("\"#&<>`\\*_|[]{}", r):
			fmt.Fprintf(&b, "#%d;", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
