package document

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"faultwright/faulttree/source"
)

// figureScheme marks the images that are drawings of the handbook.
const figureScheme = "figure:"

// emphasis is what surrounding emphasis makes of text.
type emphasis struct{ bold, italic bool }

func (c *converter) inlines(parent ast.Node) []Inline {
	return join(c.children(nil, parent, emphasis{}, 0))
}

func (c *converter) children(out []Inline, parent ast.Node, e emphasis, depth int) []Inline {
	if depth > mostDepth {
		c.tooDeep(parent)
		return append(out, Text{Value: c.source(parent), Bold: e.bold, Italic: e.italic})
	}
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		out = c.inline(out, n, e, depth+1)
	}
	return out
}

// inline appends the form of one inline node.
func (c *converter) inline(out []Inline, node ast.Node, e emphasis, depth int) []Inline {
	plain := func(value string) Text { return Text{Value: value, Bold: e.bold, Italic: e.italic} }
	switch n := node.(type) {
	case *ast.Text:
		value := n.Segment.Value(c.text)
		if n.IsRaw() {
			out = append(out, plain(noNulls(string(value))))
		} else {
			out = append(out, plain(unescape(value)))
		}
		switch {
		case n.HardLineBreak():
			out = append(out, Break{})
		case n.SoftLineBreak():
			out = append(out, plain(" "))
		}
		return out
	case *ast.String:
		if n.IsRaw() || n.IsCode() {
			return append(out, plain(string(n.Value)))
		}
		return append(out, plain(unescape(n.Value)))
	case *ast.CodeSpan:
		t := plain(c.codeSpan(n))
		t.Code = true
		return append(out, t)
	case *ast.Emphasis:
		if n.Level >= 2 {
			e.bold = true
		} else {
			e.italic = true
		}
		return c.children(out, n, e, depth)
	case *ast.Link:
		return append(out, Link{
			Target: unescape(n.Destination), Title: unescape(n.Title), Pos: c.pos(n),
			Text: join(c.children(nil, n, e, depth)),
		})
	case *ast.AutoLink:
		target := noNulls(string(n.URL(c.text)))
		if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(target), "mailto:") {
			target = "mailto:" + target
		}
		return append(out, Link{Target: target, Pos: c.pos(n), Text: []Inline{plain(noNulls(string(n.Label(c.text))))}})
	case *ast.Image:
		c.report(n, RuleImage, "the image %s stands inside text; expected ![what it shows](figure:NAME) alone in a paragraph", unescape(n.Destination))
		return c.children(out, n, e, depth)
	case *ast.RawHTML:
		var b strings.Builder
		pos := c.pos(n)
		for i := range n.Segments.Len() {
			segment := n.Segments.At(i)
			if i == 0 {
				pos = c.file.Pos(c.base + segment.Start)
			}
			b.Write(segment.Value(c.text))
		}
		c.rawHTML(pos)
		return append(out, plain(strings.ReplaceAll(b.String(), "\n", " ")))
	}
	c.report(node, RuleUnknownMarkdown, "this is Markdown (%s) that the views cannot show; write it as text", node.Kind())
	return append(out, plain(c.source(node)))
}

// codeSpan is the verbatim text of a code span, its line ends as spaces.
func (c *converter) codeSpan(n *ast.CodeSpan) string {
	var b strings.Builder
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		switch t := child.(type) {
		case *ast.Text:
			b.Write(t.Segment.Value(c.text))
		case *ast.String:
			b.Write(t.Value)
		}
	}
	return noNulls(strings.ReplaceAll(b.String(), "\n", " "))
}

// figure recognises a paragraph that is one image. An image of another kind
// than a figure is reported and left to be shown by its words.
func (c *converter) figure(paragraph ast.Node) (Figure, bool) {
	only := paragraph.FirstChild()
	if only == nil || only.NextSibling() != nil {
		return Figure{}, false
	}
	image, ok := only.(*ast.Image)
	if !ok {
		return Figure{}, false
	}
	name, ok := strings.CutPrefix(unescape(image.Destination), figureScheme)
	if !ok || name == "" {
		return Figure{}, false
	}
	alt := PlainInline(join(c.children(nil, image, emphasis{}, 0)))
	if strings.TrimSpace(alt) == "" {
		c.report(image, RuleImage, "the figure %s has no words; expected ![what it shows](figure:%s)", name, name)
	}
	return Figure{Name: name, Alt: alt, Pos: c.pos(image)}, true
}

// join merges neighbouring texts of the same face.
func join(in []Inline) []Inline {
	var out []Inline
	for _, x := range in {
		t, ok := x.(Text)
		if !ok {
			out = append(out, x)
			continue
		}
		if t.Value == "" {
			continue
		}
		if len(out) > 0 {
			if last, ok := out[len(out)-1].(Text); ok && last.Bold == t.Bold && last.Italic == t.Italic && last.Code == t.Code {
				last.Value += t.Value
				out[len(out)-1] = last
				continue
			}
		}
		out = append(out, t)
	}
	return out
}

// unescape is Markdown text with its backslash escapes and character
// references resolved, as CommonMark 0.31.2, sections 2.4 and 2.5, has it.
func unescape(text []byte) string {
	if bytes.IndexByte(text, '\\') < 0 && bytes.IndexByte(text, '&') < 0 {
		return noNulls(string(text))
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		switch {
		case text[i] == '\\' && i+1 < len(text) && util.IsPunct(text[i+1]):
			b.WriteByte(text[i+1])
			i += 2
			continue
		case text[i] == '&':
			if value, size := reference(text[i:]); size > 0 {
				b.WriteString(value)
				i += size
				continue
			}
		}
		b.WriteByte(text[i])
		i++
	}
	return noNulls(b.String())
}

// reference reads a character reference at the start of text; size is 0 if
// there is none.
func reference(text []byte) (value string, size int) {
	end := bytes.IndexByte(text[:min(len(text), 40)], ';')
	if end < 2 {
		return "", 0
	}
	name := string(text[1:end])
	if name[0] != '#' {
		if entity, ok := util.LookUpHTML5EntityByName(name); ok {
			return source.Shown(string(entity.Characters)), end + 1
		}
		return "", 0
	}
	digits, base, most := name[1:], 10, 7
	if strings.HasPrefix(digits, "x") || strings.HasPrefix(digits, "X") {
		digits, base, most = digits[1:], 16, 6
	}
	if len(digits) > most || strings.ContainsAny(digits, "+-_") {
		return "", 0
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil {
		return "", 0
	}
	if n == 0 || n > utf8.MaxRune || !utf8.ValidRune(rune(n)) || source.Hidden(rune(n)) {
		return string(utf8.RuneError), end + 1
	}
	return string(rune(n)), end + 1
}

// noNulls replaces the character CommonMark forbids.
func noNulls(s string) string { return strings.ReplaceAll(s, "\x00", string(utf8.RuneError)) }
