package document

import (
	"fmt"
	"strings"
	"sync"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	tables "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// mostDepth bounds how deep blocks and inlines may be nested.
const mostDepth = 40

// commonMark is the parser of all text; it keeps nothing from one document to
// the next.
var commonMark = sync.OnceValue(func() goldmark.Markdown {
	return goldmark.New(goldmark.WithParser(boundedParser()), goldmark.WithExtensions(extension.Table))
})

// converter turns one syntax tree into blocks.
type converter struct {
	file  *source.File
	base  int    // offset of the Markdown in the file
	text  []byte // the Markdown
	diags *source.List
	deep  bool // the nesting bound was reported
	count int  // of blocks and entries of lists
}

// Markdown reads the text of f from byte offset base on as CommonMark with
// tables and heading ids. Every letter of it ends up in a block; what the
// block model cannot hold, or what takes too long to read, is reported and
// kept as plain text.
func Markdown(f *source.File, base int, diags *source.List) []Block {
	body, _, _ := readMarkdown(f, base, diags)
	return body
}

// readMarkdown is Markdown with the work it took. Text that is nested beyond the
// bounds is not read at all: ok is false.
func readMarkdown(f *source.File, base int, diags *source.List) (body []Block, spent int, ok bool) {
	c := &converter{file: f, base: base, text: f.Text[base:], diags: diags}
	if at, why := tooNested(c.text); at >= 0 {
		diags.Add(f.Pos(base+at), RuleNesting, "%s; the text of this file is not read", why)
		return nil, 0, false
	}
	w := &work{file: f, base: base, diags: diags}
	pc := parser.NewContext()
	pc.Set(workKey, w)
	root := commonMark().Parser().Parse(text.NewReader(c.text), parser.WithContext(pc))
	body = c.blocks(root, 0)
	return body, w.spent + c.count*blockWork, true
}

// pos is the position of a node; a node without one stands where the text of
// its first line or first child begins.
func (c *converter) pos(n ast.Node) source.Pos { return c.file.Pos(c.base + c.offset(n)) }

func (c *converter) offset(n ast.Node) int {
	for at := n; at != nil; at = at.FirstChild() {
		if p := at.Pos(); p >= 0 {
			return p
		}
		if at.Type() == ast.TypeBlock && at.Lines().Len() > 0 {
			return at.Lines().At(0).Start
		}
	}
	if n.Parent() != nil && n.Parent().Kind() != ast.KindDocument {
		return c.offset(n.Parent())
	}
	return 0
}

func (c *converter) blocks(parent ast.Node, depth int) []Block {
	if depth > mostDepth {
		c.tooDeep(parent)
		return []Block{Paragraph{Text: []Inline{Text{Value: c.source(parent)}}, Pos: c.pos(parent)}}
	}
	var out []Block
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		if c.full(n) {
			return append(out, c.rest(n))
		}
		out = c.block(out, n, depth+1)
	}
	return out
}

// full counts a block, and reports once that there are too many.
func (c *converter) full(n ast.Node) bool {
	if c.count++; c.count == mostBlocks+1 {
		add(c.diags, source.Diagnostic{Pos: c.pos(n), Rule: RuleWork, Hint: "divide the file",
			Message: fmt.Sprintf("the text of this file has more than %d paragraphs, list entries and the like; from here on it is kept as it is written", mostBlocks)})
	}
	return c.count > mostBlocks
}

// rest is n and what follows it as it is written.
func (c *converter) rest(n ast.Node) Code {
	code := Code{Pos: c.pos(n), lines: []int{c.base + c.offset(n)}}
	var b strings.Builder
	for ; n != nil; n = n.NextSibling() {
		b.WriteString(c.source(n) + "\n")
	}
	code.Text = b.String()
	return code
}

func (c *converter) tooDeep(n ast.Node) {
	if !c.deep {
		c.deep = true
		c.report(n, RuleNesting, "the text is nested more than %d deep", mostDepth)
	}
}

// block appends the form of one block node.
func (c *converter) block(out []Block, node ast.Node, depth int) []Block {
	switch n := node.(type) {
	case *ast.Heading:
		return append(out, c.heading(n))
	case *ast.Paragraph, *ast.TextBlock:
		if figure, ok := c.figure(n); ok {
			return append(out, figure)
		}
		return append(out, Paragraph{Text: c.inlines(n), Pos: c.pos(n)})
	case *ast.List:
		l := List{Ordered: n.IsOrdered(), Start: n.Start, Tight: n.IsTight}
		for item := n.FirstChild(); item != nil; item = item.NextSibling() {
			if c.full(item) {
				l.Items = append(l.Items, []Block{c.rest(item)})
				break
			}
			l.Items = append(l.Items, c.blocks(item, depth))
		}
		return append(out, l)
	case *ast.Blockquote:
		return append(out, c.quote(n, depth))
	case *ast.FencedCodeBlock:
		code := c.code(n)
		if n.Info != nil {
			code.Info = unescape(n.Info.Segment.Value(c.text))
		}
		return append(out, code)
	case *ast.CodeBlock:
		return append(out, c.code(n))
	case *ast.ThematicBreak:
		return append(out, Rule{})
	case *ast.HTMLBlock:
		return append(out, c.html(n))
	case *tables.Table:
		return append(out, c.table(n))
	case *ast.LinkReferenceDefinition:
		return out // shown where it is used
	}
	c.report(node, RuleUnknownMarkdown, "this is Markdown (%s) that the views cannot show; write it as text", node.Kind())
	return append(out, Paragraph{Text: []Inline{Text{Value: c.source(node)}}, Pos: c.pos(node)})
}

func (c *converter) heading(n *ast.Heading) Heading {
	h := Heading{Level: n.Level, Text: c.inlines(n), Pos: c.pos(n)}
	for _, a := range n.Attributes() {
		value, isText := a.Value.([]byte)
		if string(a.Name) == "id" && isText {
			h.ID = string(value)
			continue
		}
		c.report(n, RuleHeadingAttribute, "the heading has the attribute %s; expected {#id} alone", a.Name)
	}
	return h
}

// code gathers the lines of a code block with where each stands.
func (c *converter) code(n ast.Node) Code {
	code := Code{Pos: c.pos(n)}
	var b strings.Builder
	lines := n.Lines()
	for i := range lines.Len() {
		line := lines.At(i)
		code.lines = append(code.lines, c.base+line.Start)
		b.Write(line.Value(c.text))
	}
	if len(code.lines) == 0 {
		code.lines = []int{c.base + c.offset(n)}
	}
	code.Text = b.String()
	return code
}

// html keeps raw HTML as it is written, a line a line.
func (c *converter) html(n *ast.HTMLBlock) Paragraph {
	if unclosed(n) {
		c.report(n, RuleRawHTML, "the HTML that begins here is not closed, so the headings and blocks down to line %d are taken for text", c.file.Pos(c.base+n.Lines().At(n.Lines().Len()-1).Start).Line)
	} else {
		c.rawHTML(c.pos(n))
	}
	p := Paragraph{Pos: c.pos(n)}
	line := func(value string) {
		if len(p.Text) > 0 {
			p.Text = append(p.Text, Break{})
		}
		p.Text = append(p.Text, Text{Value: strings.TrimRight(value, "\n")})
	}
	for i := range n.Lines().Len() {
		segment := n.Lines().At(i)
		line(string(segment.Value(c.text)))
	}
	if n.HasClosure() {
		line(string(n.ClosureLine.Value(c.text)))
	}
	return p
}

// unclosed reports whether a block of HTML, such as a comment, lacks the mark
// that closes it and so has taken up the lines below it.
func unclosed(n *ast.HTMLBlock) bool {
	return n.HTMLBlockType < ast.HTMLBlockType6 && !n.HasClosure() && n.Lines().Len() > 1
}

func (c *converter) rawHTML(pos source.Pos) {
	add(c.diags, source.Diagnostic{
		Pos: pos, Severity: source.Warning, Rule: RuleRawHTML,
		Message: "HTML is not interpreted; it is shown as it is written",
		Hint:    "use Markdown instead",
	})
}

func (c *converter) report(n ast.Node, rule, format string, args ...any) {
	if len(*c.diags) < mostReports {
		c.diags.Add(c.pos(n), rule, format, args...)
	}
}

func (c *converter) table(n *tables.Table) Table {
	t := Table{Pos: c.pos(n)}
	for _, a := range n.Alignments {
		t.Align = append(t.Align, map[tables.Alignment]Align{
			tables.AlignLeft: AlignLeft, tables.AlignCenter: AlignCenter, tables.AlignRight: AlignRight,
		}[a])
	}
	for row := n.FirstChild(); row != nil; row = row.NextSibling() {
		var cells [][]Inline
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			cells = append(cells, c.inlines(cell))
		}
		if row.Kind() == tables.KindTableHeader {
			t.Header = cells
		} else {
			t.Rows = append(t.Rows, cells)
		}
	}
	return t
}

// quote is a callout when it begins with a bold signal word.
func (c *converter) quote(n *ast.Blockquote, depth int) Block {
	body := c.blocks(n, depth)
	if len(body) == 0 {
		return Quote{}
	}
	p, ok := body[0].(Paragraph)
	if !ok || len(p.Text) == 0 {
		return Quote{Body: body}
	}
	word, ok := p.Text[0].(Text)
	if !ok || !word.Bold || word.Code {
		return Quote{Body: body}
	}
	name := strings.TrimRight(word.Value, ".:! ")
	signal, ok := faulttree.ParseSignal(strings.ToLower(name))
	if !ok || signal.Word() != name {
		return Quote{Body: body}
	}
	p.Text = trimStart(p.Text[1:])
	if len(p.Text) == 0 {
		body = body[1:]
	} else {
		body[0] = p
	}
	return Callout{Signal: signal, Body: body, Pos: c.pos(n)}
}

// trimStart drops spaces and breaks before the first letter.
func trimStart(text []Inline) []Inline {
	for len(text) > 0 {
		switch x := text[0].(type) {
		case Break:
			text = text[1:]
			continue
		case Text:
			x.Value = strings.TrimLeft(x.Value, " ")
			if x.Value == "" {
				text = text[1:]
				continue
			}
			return append([]Inline{x}, text[1:]...)
		}
		break
	}
	return text
}

// source is the text of a node as it is written, for what cannot be shown.
func (c *converter) source(n ast.Node) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering && n.Type() == ast.TypeBlock {
			for i := range n.Lines().Len() {
				line := n.Lines().At(i)
				b.Write(line.Value(c.text))
			}
		}
		if t, ok := n.(*ast.Text); ok && entering && n.Parent().Type() == ast.TypeInline {
			b.Write(t.Segment.Value(c.text))
		}
		return ast.WalkContinue, nil
	})
	return strings.TrimRight(b.String(), "\n")
}
