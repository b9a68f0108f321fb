package document

import "strings"

// Plain is the text of blocks without any mark-up: one line per paragraph,
// list item, table row or line of code. No letter of the document is left out.
func Plain(blocks []Block) string {
	var b strings.Builder
	for _, block := range blocks {
		plainBlock(&b, block)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// PlainInline is the text of inlines without mark-up; a hard break becomes a
// line end.
func PlainInline(inlines []Inline) string {
	var b strings.Builder
	plainInlines(&b, inlines)
	return b.String()
}

func plainBlock(b *strings.Builder, block Block) {
	line := func(text []Inline) {
		plainInlines(b, text)
		b.WriteByte('\n')
	}
	nested := func(blocks []Block) {
		for _, inner := range blocks {
			plainBlock(b, inner)
		}
	}
	switch x := block.(type) {
	case Heading:
		line(x.Text)
	case Paragraph:
		line(x.Text)
	case List:
		for _, item := range x.Items {
			nested(item)
		}
	case Table:
		for _, row := range append([][][]Inline{x.Header}, x.Rows...) {
			for i, cell := range row {
				if i > 0 {
					b.WriteString(" | ")
				}
				plainInlines(b, cell)
			}
			b.WriteByte('\n')
		}
	case Callout:
		b.WriteString(x.Signal.Word() + " ")
		nested(x.Body)
		if len(x.Body) == 0 {
			b.WriteByte('\n')
		}
	case Quote:
		nested(x.Body)
	case Figure:
		b.WriteString(x.Alt + "\n")
	case Code:
		b.WriteString(x.Text)
		if !strings.HasSuffix(x.Text, "\n") {
			b.WriteByte('\n')
		}
	}
}

func plainInlines(b *strings.Builder, inlines []Inline) {
	for _, in := range inlines {
		switch x := in.(type) {
		case Text:
			b.WriteString(x.Value)
		case Link:
			plainInlines(b, x.Text)
		case Break:
			b.WriteByte('\n')
		}
	}
}

// Links calls visit for every link in blocks, in order, also inside lists,
// tables and callouts.
func Links(blocks []Block, visit func(Link)) {
	Inlines(blocks, func(text []Inline) {
		for _, in := range text {
			if l, ok := in.(Link); ok {
				visit(l)
			}
		}
	})
}

// Figures calls visit for every figure in blocks, in order.
func Figures(blocks []Block, visit func(Figure)) {
	walk(blocks, func(b *Block) {
		if f, ok := (*b).(Figure); ok {
			visit(f)
		}
	})
}

// Inlines calls visit for every run of text in blocks: each paragraph,
// heading and table cell.
func Inlines(blocks []Block, visit func([]Inline)) {
	walk(blocks, func(b *Block) {
		switch x := (*b).(type) {
		case Heading:
			visit(x.Text)
		case Paragraph:
			visit(x.Text)
		case Table:
			for _, row := range append([][][]Inline{x.Header}, x.Rows...) {
				for _, cell := range row {
					visit(cell)
				}
			}
		}
	})
}

// walk calls visit for every block, an outer one before those inside it.
func walk(blocks []Block, visit func(*Block)) {
	for i := range blocks {
		visit(&blocks[i])
		switch x := blocks[i].(type) {
		case List:
			for _, item := range x.Items {
				walk(item, visit)
			}
		case Callout:
			walk(x.Body, visit)
		case Quote:
			walk(x.Body, visit)
		}
	}
}
