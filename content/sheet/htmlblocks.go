package sheet

import (
	"fmt"
	"strings"

	"faultwright/content/document"
	"faultwright/content/figure"
)

// blocks writes prose of the handbook. Links become plain words: paper can
// not be clicked; an address of the web is printed beside its words.
func (w *htmlWriter) blocks(blocks []document.Block) {
	for _, b := range blocks {
		w.block(b)
	}
}

func (w *htmlWriter) block(b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		w.element("h3", b.Text)
	case document.Paragraph:
		w.element("p", b.Text)
	case document.List:
		name := "ul"
		if b.Ordered {
			name = "ol"
			w.raw(fmt.Sprintf(`<ol start="%d">`, b.Start))
		} else {
			w.raw("<ul>")
		}
		for _, item := range b.Items {
			w.raw("<li>")
			w.blocks(item)
			w.raw("</li>")
		}
		w.raw("</", name, ">\n")
	case document.Table:
		w.raw("<table><thead><tr>")
		for _, cell := range b.Header {
			w.element("th", cell)
		}
		w.raw("</tr></thead><tbody>")
		for _, line := range b.Rows {
			w.raw("<tr>")
			for _, cell := range line {
				w.element("td", cell)
			}
			w.raw("</tr>")
		}
		w.raw("</tbody></table>\n")
	case document.Callout:
		w.raw(`<div class="callout"><span class="tag `, b.Signal.String(), `">`, text(b.Signal.Word()), "</span>")
		w.blocks(b.Body)
		w.raw("</div>\n")
	case document.Quote:
		w.raw("<blockquote>")
		w.blocks(b.Body)
		w.raw("</blockquote>\n")
	case document.Figure:
		if d, ok := figure.Named(b.Name); ok {
			w.raw("<figure>", figure.SVG(d, w.inks), "</figure>\n")
		} else {
			w.tag("p", b.Alt)
		}
	case document.Code:
		w.raw("<pre>")
		for _, line := range strings.Split(strings.TrimSuffix(b.Text, "\n"), "\n") {
			w.raw(text(line), "\n")
		}
		w.raw("</pre>\n")
	case document.Rule:
		w.raw("<hr>\n")
	}
}

func (w *htmlWriter) element(name string, inlines []document.Inline) {
	w.raw("<", name, ">")
	w.inlines(inlines)
	w.raw("</", name, ">\n")
}

func (w *htmlWriter) inlines(inlines []document.Inline) {
	for _, in := range inlines {
		switch in := in.(type) {
		case document.Text:
			open, shut := "", ""
			for _, face := range []struct {
				on   bool
				name string
			}{{in.Bold, "b"}, {in.Italic, "i"}, {in.Code, "code"}} {
				if face.on {
					open, shut = open+"<"+face.name+">", "</"+face.name+">"+shut
				}
			}
			w.raw(open, text(in.Value), shut)
		case document.Link:
			w.inlines(in.Text)
			if strings.HasPrefix(in.Target, "https://") || strings.HasPrefix(in.Target, "http://") {
				w.raw(" (", text(in.Target), ")")
			}
		case document.Break:
			w.raw("<br>")
		}
	}
}
