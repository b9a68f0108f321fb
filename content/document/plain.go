package document

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/faulttree/lists"
)

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

// EditText changes the running text of blocks in place, whatever holds it:
// every run of it that is not verbatim goes through edit.
func EditText(blocks []Block, edit func(string) string) {
	Inlines(blocks, func(text []Inline) { editInlines(text, edit) })
	walk(blocks, func(b *Block) {
		if f, ok := (*b).(Figure); ok {
			f.Alt = edit(f.Alt)
			*b = f
		}
	})
}

func editInlines(inlines []Inline, edit func(string) string) {
	for i, in := range inlines {
		switch in := in.(type) {
		case Text:
			if !in.Code {
				in.Value = edit(in.Value)
				inlines[i] = in
			}
		case Link:
			editInlines(in.Text, edit)
		}
	}
}

// Sentences splits advice into its sentences, so that it can be numbered. A
// semicolon ends one as well.
func Sentences(text string) []string {
	return lists.Each(split(text, ".;"), func(part string) string { return Capital(Sentence(strings.TrimSuffix(part, ";"))) })
}

// WholeSentences splits a text at its full stops alone and changes no word.
func WholeSentences(text string) []string {
	return lists.Each(split(text, "."), Sentence)
}

// split cuts a text behind each of the stops that a space follows.
func split(text, stops string) []string {
	var out []string
	rest := strings.TrimSpace(text)
	for rest != "" {
		end := len(rest)
		for i := 0; i+1 < len(rest); i++ {
			if strings.IndexByte(stops, rest[i]) >= 0 && rest[i+1] == ' ' && !abbreviated(rest[:i]) {
				end = i + 1
				break
			}
		}
		out = append(out, strings.TrimSpace(rest[:end]))
		rest = strings.TrimSpace(rest[end:])
	}
	return out
}

// Capital begins text with a capital letter.
func Capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

// abbreviated reports whether text ends in a single letter or a digit, after
// which a full stop ends no sentence.
func abbreviated(text string) bool {
	i := strings.LastIndexByte(text, ' ')
	last := text[i+1:]
	return len(last) == 1 && last != "V" && last != "A" && last != "m"
}

// Sentence ends text with a full stop if it ends with nothing of the kind.
func Sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".?:") {
		return text
	}
	return text + "."
}
