package sheet

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html"
	"strings"
	"unicode"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// HTML writes the sheet as one self-contained page that prints on A4 and
// Letter: no script, no picture or style from elsewhere.
func HTML(in Input, lib *content.Library) []byte {
	p := compose(in, lib)
	w := &htmlWriter{inks: figure.Light()}
	w.raw("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n")
	w.raw(`<meta http-equiv="Content-Security-Policy" content="`, Policy(style), `">`, "\n")
	w.raw(`<meta name="viewport" content="width=device-width">` + "\n")
	w.raw("<title>", text(p.title+", "+p.parts[0].heading), "</title>\n<style>", style, "</style></head>\n<body>\n")
	w.head(p)
	for _, one := range p.parts {
		w.part(one, "h2")
	}
	w.raw(`<p class="last">`, text(recordsLine), "<br>", text(codesLine), "</p>\n</body></html>\n")
	return w.Bytes()
}

// Policy lets a browser load nothing for a page but the page's own style.
func Policy(style string) string {
	sum := sha256.Sum256([]byte(style))
	return "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// Prose is blocks of the handbook as HTML, with their figures in a palette. Links become
// plain words.
func Prose(blocks []document.Block, inks figure.Palette) []byte {
	w := &htmlWriter{inks: inks}
	w.blocks(blocks)
	return w.Bytes()
}

// htmlWriter collects a page. What goes through raw is ours; what a person
// typed goes through text.
type htmlWriter struct {
	bytes.Buffer
	inks figure.Palette
}

func (w *htmlWriter) raw(parts ...string) {
	for _, s := range parts {
		w.WriteString(s)
	}
}

// tag writes an element that holds text only. The name may carry a class:
// "p.small".
func (w *htmlWriter) tag(name, content string) {
	element, class, _ := strings.Cut(name, ".")
	w.raw("<", element)
	if class != "" {
		w.raw(` class="`, class, `"`)
	}
	w.raw(">", text(content), "</", element, ">\n")
}

// text escapes for HTML and drops what a page cannot hold.
func text(s string) string { return html.EscapeString(clean(s)) }

// clean makes any string one line of printable text: no control characters,
// no marks that turn the direction of the words around it.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r' || r == '\t' || r == '\u2028' || r == '\u2029':
			return ' '
		case unicode.IsControl(r) || r == 0xFFFE || r == 0xFFFF:
			return '\uFFFD'
		case source.Hidden(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

func (w *htmlWriter) head(p paper) {
	w.raw("<header>")
	w.tag("p.kind", "Sheet of a visit")
	w.tag("h1", p.title)
	w.raw(`<dl class="facts">`)
	for _, f := range p.facts {
		value := text(f.Text)
		if f.Text == "" {
			value = `<span class="blank"></span>`
		}
		w.raw("<div><dt>", text(f.Heading), "</dt><dd>", value, "</dd></div>")
	}
	w.raw("</dl></header>\n")
	if p.note != "" {
		w.raw(`<p class="note"><b>Note:</b> `, text(p.note), "</p>\n")
	}
}

// part writes a section with its heading in an element such as h2.
func (w *htmlWriter) part(p part, heading string) {
	w.raw(`<section class="`, p.class, `">`)
	if p.banner {
		w.raw(`<div class="banner">`)
		if word := p.signal.Word(); word != "" {
			w.raw(`<span class="word">`, AlertSign(p.signal), word, "</span>")
		}
		w.tag(heading, p.heading)
		w.raw("</div>\n<div class=\"inner\">")
		defer w.raw("</div></section>\n")
	} else {
		w.tag(heading, p.heading)
		defer w.raw("</section>\n")
	}
	lead := ""
	if p.lead != "" {
		lead = "<b>" + text(p.lead) + "</b> "
	}
	for _, t := range p.text {
		w.raw("<p>", lead, text(t), "</p>\n")
	}
	w.facts(p)
	w.blocks(p.prose)
	w.table(p.table)
	for _, t := range p.after {
		w.tag("p", t)
	}
	w.aside(p.aside)
	w.pictures(p.pictures)
	if len(p.blanks) > 0 {
		w.raw(`<div class="sign">`)
		for _, label := range p.blanks {
			w.raw("<div><span>", text(label), "</span></div>")
		}
		w.raw("</div>\n")
	}
	for _, inner := range p.parts {
		w.part(inner, "h3")
	}
}

// facts writes the facts and the cautions of a part.
func (w *htmlWriter) facts(p part) {
	if len(p.facts) > 0 {
		w.raw(`<dl class="what">`)
		for _, f := range p.facts {
			w.raw("<dt>", text(f.Heading), "</dt><dd>", text(f.Text), "</dd>\n")
		}
		w.raw("</dl>")
	}
	if len(p.cautions) > 0 {
		w.raw("<ul class=\"cautions\">")
		for _, c := range p.cautions {
			w.raw("<li>", tag(c.Signal), text(c.Title), "</li>\n")
		}
		w.raw("</ul>")
	}
}

// AlertSign is the alert sign that stands beside a signal word; NOTICE has none. It is SVG.
func AlertSign(s faulttree.Signal) string {
	if s < faulttree.Caution {
		return ""
	}
	return `<svg class="alert" viewBox="0 0 24 22" aria-hidden="true"><path d="M12 1 23 21H1Z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M12 8v6M12 16.5v2" stroke="currentColor" stroke-width="2.4"/></svg>`
}

// tag is a signal word to stand before text, "" for none.
func tag(s faulttree.Signal) string {
	if s.Word() == "" {
		return ""
	}
	return `<span class="tag ` + s.String() + `">` + s.Word() + "</span> "
}

func (w *htmlWriter) table(t table) {
	if len(t.rows) == 0 {
		return
	}
	w.raw(`<table class="`, t.class, `"><thead><tr>`)
	for _, h := range t.header {
		w.raw("<th>", text(h), "</th>")
	}
	w.raw("</tr></thead><tbody>\n")
	for _, r := range t.rows {
		w.raw("<tr>")
		for _, c := range r.cells {
			w.raw("<td>", tag(c.signal), text(c.text), "</td>")
		}
		w.raw("</tr>\n")
		if r.remark != "" {
			w.raw(`<tr class="remark"><td></td><td colspan="5">`, text(r.remark), "</td></tr>\n")
		}
	}
	w.raw("</tbody></table>\n")
}

func (w *htmlWriter) pictures(drawings []figure.Drawing) {
	if len(drawings) == 0 {
		return
	}
	w.raw(`<div class="pictures">`)
	for _, d := range drawings {
		w.raw("<figure>", figure.SVG(d, w.inks), "<figcaption>", text(d.Title), "</figcaption></figure>\n")
	}
	w.raw("</div>\n")
}

func (w *htmlWriter) aside(list []Aside) {
	if len(list) == 0 {
		return
	}
	w.raw(`<ul class="aside">`)
	for _, a := range list {
		w.raw("<li>")
		if at := when(a.At); at != "" {
			w.raw(text(at), ": ")
		}
		w.raw("<s>", text(a.What), "</s> ", text(a.Why), "</li>\n")
	}
	w.raw("</ul>\n")
}

// style is the whole look of the page. Signal words keep their colours of the
// ANSI Z535 families; border, word and sign say the same in black and white.
//
//go:embed style.css
var style string
