package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"faultwright/content/document"
)

// blocks writes the blocks of a document with an empty line between them.
func (g page) blocks(indent string, blocks []document.Block) {
	for i, b := range blocks {
		if i > 0 {
			g.blank()
		}
		g.block(indent, b)
	}
}

func (g page) block(indent string, b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		g.para(indent, strings.Repeat("#", max(1, b.Level-1))+" "+inline(b.Text))
	case document.Paragraph:
		g.para(indent, inline(b.Text))
	case document.List:
		g.items(indent, b)
	case document.Table:
		g.table(indent, b)
	case document.Callout:
		inner := g
		inner.width -= len(indent)
		first := ""
		if len(b.Body) > 0 {
			if p, ok := b.Body[0].(document.Paragraph); ok {
				first = inline(p.Text)
				b.Body = b.Body[1:]
			}
		}
		inner.signal(b.Signal, first)
		g.blocks(indent+"         ", b.Body)
	case document.Quote:
		g.blocks(indent+"| ", b.Body)
	case document.Figure:
		g.para(indent, "[Picture: "+b.Alt+"]")
	case document.Code:
		for _, line := range strings.Split(strings.TrimSuffix(b.Text, "\n"), "\n") {
			fmt.Fprintln(g.w, indent+"    "+clean(line))
		}
	case document.Rule:
		g.para(indent, strings.Repeat("-", 20))
	default: // a kind this program does not know is shown as its text, never left out
		g.para(indent, document.Plain([]document.Block{b}))
	}
}

func (g page) items(indent string, l document.List) {
	for i, item := range l.Items {
		if i > 0 && !l.Tight {
			g.blank()
		}
		mark := "- "
		if l.Ordered {
			mark = fmt.Sprintf("%d. ", l.Start+i)
		}
		inner := indent + strings.Repeat(" ", len(mark))
		for k, b := range item {
			p, text := b.(document.Paragraph)
			switch {
			case k == 0 && text:
				g.hanging(indent+mark, inner, inline(p.Text))
			case k == 0:
				g.para(indent, mark)
				g.block(inner, b)
			default:
				g.block(inner, b)
			}
		}
		if len(item) == 0 {
			g.para(indent, mark)
		}
	}
}

// table writes columns side by side if they fit, else each row as a list of
// "heading: cell".
func (g page) table(indent string, t document.Table) {
	rows := [][]string{texts(t.Header)}
	for _, r := range t.Rows {
		rows = append(rows, texts(r))
	}
	widths := make([]int, len(rows[0]))
	total := len(indent)
	for c := range widths {
		for _, r := range rows {
			if c < len(r) {
				widths[c] = max(widths[c], utf8.RuneCountInString(r[c]))
			}
		}
		total += widths[c] + 2
	}
	if total-2 > g.width {
		g.rows(indent, rows)
		return
	}
	for i, r := range rows {
		line := indent
		for c, cell := range r {
			line += cell + strings.Repeat(" ", max(0, widths[min(c, len(widths)-1)]-utf8.RuneCountInString(cell))+2)
		}
		fmt.Fprintln(g.w, strings.TrimRight(line, " "))
		if i == 0 {
			fmt.Fprintln(g.w, indent+strings.Repeat("-", max(0, total-2-len(indent))))
		}
	}
}

func (g page) rows(indent string, rows [][]string) {
	for i, r := range rows[1:] {
		if i > 0 {
			g.blank()
		}
		for c, cell := range r {
			head := ""
			if c < len(rows[0]) && rows[0][c] != "" {
				head = rows[0][c] + ": "
			}
			g.hanging(indent, indent+"  ", head+cell)
		}
	}
}

func texts(cells [][]document.Inline) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.Join(strings.Fields(clean(inline(c))), " ")
	}
	return out
}

// inline is running text; a link is followed by what it leads to, in the form
// that show takes.
func inline(in []document.Inline) string {
	var b strings.Builder
	for _, x := range in {
		switch x := x.(type) {
		case document.Text:
			b.WriteString(x.Value)
		case document.Link:
			text := inline(x.Text)
			b.WriteString(text)
			if _, id, ok := strings.Cut(x.Target, ":"); ok && !strings.HasPrefix(id, "//") {
				b.WriteString(" [" + id + "]")
			} else if x.Target != text {
				b.WriteString(" <" + x.Target + ">")
			}
		case document.Break:
			b.WriteByte('\n')
		}
	}
	return b.String()
}
