package flow

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// DOT writes a graph in the DOT language, for programs that lay it out themselves. A
// step is a table whose rows the edges leave from; a finding has a shape by its signal
// word. Every node links to what it stands for.
func DOT(g Graph) string {
	var b strings.Builder
	fmt.Fprintf(&b, "digraph %s {\n", quoted(g.Tree))
	fmt.Fprintf(&b, "  graph [label=%s, labelloc=t, rankdir=TB, fontname=\"DejaVu Sans\"];\n", quoted(g.Title))
	b.WriteString("  node [fontname=\"DejaVu Sans\", fontsize=12];\n  edge [fontname=\"DejaVu Sans\", fontsize=11];\n")
	for i, n := range g.Nodes {
		if n.Step() {
			fmt.Fprintf(&b, "  n%d [shape=plain, URL=%s, tooltip=%s, label=<%s>];\n", i, quoted(n.link()), quoted(n.Name()), g.table(n))
			continue
		}
		fmt.Fprintf(&b, "  n%d [shape=%s, style=%s, URL=%s, tooltip=%s, label=%s];\n", i, dotShape(n), quoted(dotStyle(n)),
			quoted(n.link()), quoted(n.Name()), quoted(strings.Join(n.plateLines(), "\n")))
	}
	for i, n := range g.Nodes {
		for r, row := range n.Rows {
			style := ""
			if row.Walked {
				style = " [penwidth=3]"
			}
			fmt.Fprintf(&b, "  n%d:r%d -> n%d%s;\n", i, r, row.To, style)
		}
	}
	b.WriteString("}\n")
	return b.String()
}

// plateLines are what stands on the plate of a finding or a door.
func (n Node) plateLines() []string {
	var out []string
	if n.Walk != "" {
		out = append(out, "Walk: "+n.Walk)
	}
	if word := n.Signal.Word(); word != "" {
		out = append(out, word)
	}
	return append(out, n.Title)
}

// table is a step as a table in the markup of DOT's labels.
func (g Graph) table(n Node) string {
	across := max(len(n.Columns), 1)
	var b strings.Builder
	border := 1
	if n.Walked {
		border = 3
	}
	fmt.Fprintf(&b, `<TABLE BORDER="%d" CELLBORDER="0" CELLSPACING="0" CELLPADDING="3">`, border)
	row := func(words string) {
		fmt.Fprintf(&b, `<TR><TD ALIGN="LEFT" COLSPAN="%d">%s</TD></TR>`, across, marked(words))
	}
	kind := n.Kind.String()
	if n.For == faulttree.Qualified {
		kind += ", " + qualifiedOnly
	}
	if n.Here {
		kind += ", you are here"
	}
	row(kind)
	fmt.Fprintf(&b, `<TR><TD ALIGN="LEFT" COLSPAN="%d"><B>%s</B></TD></TR>`, across, marked(number(n.Number)+" "+n.Title))
	for _, ask := range n.Asks {
		row(ask)
	}
	if n.Columns != nil {
		b.WriteString("<HR/><TR>")
		for _, c := range n.Columns {
			fmt.Fprintf(&b, `<TD ALIGN="LEFT"><B>%s</B></TD>`, marked(c))
		}
		b.WriteString("</TR>")
	}
	for i, r := range n.Rows {
		b.WriteString("<HR/><TR>")
		word := ""
		if g.differs(r) {
			word = r.Signal.Word() + ": "
		}
		if r.Cells == nil {
			words := word + r.Words
			if r.Label != "" {
				words += ": " + r.Label
			}
			fmt.Fprintf(&b, `<TD PORT="r%d" ALIGN="LEFT" COLSPAN="%d">%s</TD>`, i, across, marked(words))
		}
		for c, cell := range r.Cells {
			port := ""
			if c == len(r.Cells)-1 {
				port = fmt.Sprintf(` PORT="r%d"`, i)
			}
			if c == 0 {
				cell = word + cell
			}
			fmt.Fprintf(&b, `<TD%s ALIGN="LEFT">%s</TD>`, port, marked(cell))
		}
		b.WriteString("</TR>")
	}
	b.WriteString("</TABLE>")
	return b.String()
}

func dotShape(n Node) string {
	if n.Kind == Door {
		return "component"
	}
	return [...]string{"box", "box", "trapezium", "hexagon", "octagon"}[n.Signal]
}

func dotStyle(n Node) string {
	if n.Walked {
		return "bold"
	}
	if !n.Owner {
		return "dashed"
	}
	return "solid"
}

// quoted is a string of DOT. Only a line break and a quotation mark mean anything
// inside; a backslash is doubled, for it would begin an escape of a label.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\r", " ").Replace(source.Shown(s)) + `"`
}

// marked is text for the markup of a label.
func marked(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "[", "&#91;", "]", "&#93;", "\n", " ", "\r", " ").Replace(source.Shown(s))
}
