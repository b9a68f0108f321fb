package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"strings"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/faulttree"
)

// HTML writes the sheet as one self-contained page that prints on A4 and
// Letter: no script, no picture or style from elsewhere.
func HTML(in Input, lib *content.Library) []byte {
	p := compose(in, lib)
	w := &htmlWriter{}
	w.raw("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n")
	sum := sha256.Sum256([]byte(style))
	w.raw(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-`, base64.StdEncoding.EncodeToString(sum[:]), `'">`, "\n")
	w.raw(`<meta name="viewport" content="width=device-width">` + "\n")
	w.raw("<title>", text(p.title+", "+p.verdict.title), "</title>\n<style>", style, "</style></head>\n<body>\n")
	w.head(p)
	w.verdict(p.verdict)
	w.rows("Readings", p.rows)
	if len(p.unasked) > 0 {
		w.tag("h2", unaskedHeading)
		w.table(p.unasked)
	}
	w.pictures(p.pictures)
	w.electrician(p)
	w.aside("Answers that do not count any more", p.aside)
	for _, e := range p.before {
		w.raw(`<section class="before">`)
		w.tag("h2", e.title)
		w.tag("p", "It ended in: "+e.verdict)
		w.table(e.rows)
		w.aside("", e.aside)
		w.raw("</section>\n")
	}
	w.repair(p)
	w.raw(`<p class="last">`, text(recordsLine), "<br>", text(codesLine), "</p>\n</body></html>\n")
	return w.Bytes()
}

// htmlWriter collects a page. What goes through raw is ours; what a person
// typed goes through text.
type htmlWriter struct{ bytes.Buffer }

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

// text escapes for HTML and drops what a page can not hold.
func text(s string) string { return html.EscapeString(clean(s)) }

// clean makes any string one line of printable text: no control characters,
// no marks that turn the direction of the words around it.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r' || r == '\t' || r == '\u2028' || r == '\u2029':
			return ' '
		case r < 0x20 || r >= 0x7F && r < 0xA0 || r == 0xFFFE || r == 0xFFFF:
			return '\uFFFD'
		case r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

func (w *htmlWriter) head(p page) {
	w.raw("<header>")
	w.tag("p.kind", "Sheet of a visit")
	w.tag("h1", p.title)
	w.raw(`<dl class="facts">`)
	for _, f := range p.facts {
		value := text(f[1])
		if f[1] == "" {
			value = `<span class="blank"></span>`
		}
		w.raw("<div><dt>", text(f[0]), "</dt><dd>", value, "</dd></div>")
	}
	w.raw("</dl></header>\n")
	if p.note != "" {
		w.raw(`<p class="note"><b>Note:</b> `, text(p.note), "</p>\n")
	}
}

// symbol is the alert sign that stands beside a signal word; NOTICE has none.
func symbol(s faulttree.Signal) string {
	if s < faulttree.Caution {
		return ""
	}
	return `<svg class="alert" viewBox="0 0 24 22" aria-hidden="true"><path d="M12 1 23 21H1Z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M12 8v6M12 16.5v2" stroke="currentColor" stroke-width="2.4"/></svg>`
}

func (w *htmlWriter) verdict(v verdict) {
	class := v.signal.String()
	w.raw(`<section class="finding `, class, `"><div class="banner">`)
	if word := v.signal.Word(); word != "" {
		w.raw(`<span class="word">`, symbol(v.signal), word, "</span>")
	}
	w.raw("<h2>", text(v.title), "</h2></div>\n<div class=\"inner\">")
	if v.stop != "" {
		w.raw(`<p class="stop"><b>STOP.</b> `, text(v.stop), "</p>")
	}
	w.raw(`<dl class="what">`)
	for _, f := range v.facts {
		w.raw("<dt>", text(f[0]), "</dt><dd>", text(f[1]), "</dd>\n")
	}
	w.raw("</dl>")
	if len(v.faults) > 0 {
		w.raw("<p><b>", faultsHeading(len(v.faults)), ":</b> ", text(strings.Join(v.faults, "; ")), "</p>")
	}
	if v.clears != "" {
		w.tag("p", v.clears)
	}
	if len(v.cautions) > 0 {
		w.raw("<ul class=\"cautions\">")
		for _, c := range v.cautions {
			w.raw(`<li><span class="tag `, c.signal.String(), `">`, text(c.signal.Word()), "</span> ", text(c.title), "</li>\n")
		}
		w.raw("</ul>")
	}
	w.raw("</div></section>\n")
	if len(v.why) > 0 {
		w.raw(`<section class="why"><h2>Why</h2>`)
		w.blocks(v.why)
		w.raw("</section>\n")
	}
}

func (w *htmlWriter) rows(heading string, rows []row) {
	w.tag("h2", heading)
	if len(rows) == 0 {
		w.tag("p", "No reading was taken.")
		return
	}
	w.table(rows)
}

func (w *htmlWriter) table(rows []row) {
	if len(rows) == 0 {
		return
	}
	w.raw("<table class=\"readings\"><thead><tr><th>No.</th><th>What</th><th>Shown</th><th>Uncertainty</th><th>Limit it met</th><th>Led to</th></tr></thead><tbody>\n")
	for _, r := range rows {
		w.raw("<tr><td>", text(r.number), "</td><td>", text(r.what), `</td><td class="shown">`, text(r.shown), `</td><td>`, text(r.within), "</td><td>", text(r.met), "</td><td>")
		if word := r.signal.Word(); word != "" && r.leads != "" {
			w.raw(`<span class="tag `, r.signal.String(), `">`, word, "</span> ")
		}
		w.raw(text(r.leads), "</td></tr>\n")
		if len(r.remarks) > 0 {
			w.raw(`<tr class="remark"><td></td><td colspan="5">`, text(strings.Join(r.remarks, " ")), "</td></tr>\n")
		}
	}
	w.raw("</tbody></table>\n")
}

func (w *htmlWriter) pictures(drawings []figure.Drawing) {
	if len(drawings) == 0 {
		return
	}
	w.raw(`<section class="deciding"><h2>Where the deciding readings were taken</h2><div class="pictures">`)
	for _, d := range drawings {
		w.raw("<figure>", figure.SVG(d, figure.Light()), "<figcaption>", text(d.Title), "</figcaption></figure>\n")
	}
	w.raw("</div></section>\n")
}

func (w *htmlWriter) electrician(p page) {
	w.raw(`<section class="electrician"><h2>For the electrician</h2>`)
	w.tag("p", measuredLine(p))
	w.tag("h3", "What these readings can not exclude")
	if len(p.verdict.notExcluded) == 0 {
		w.tag("p", nothingListed)
	} else {
		w.raw("<table><thead><tr><th>Can not be excluded</th><th>The test that would</th></tr></thead><tbody>\n")
		for _, e := range p.verdict.notExcluded {
			w.raw("<tr><td>", text(e.fault), "</td><td>", text(e.test), "</td></tr>\n")
		}
		w.raw("</tbody></table>\n")
	}
	w.tag("p", loopLine)
	if len(p.limits) > 0 {
		w.tag("h3", "Limits used and where they come from")
		w.raw("<ul>")
		for _, l := range p.limits {
			w.raw("<li><b>", text(l.words), ":</b> ", text(l.source), "</li>\n")
		}
		w.raw("</ul>")
	}
	w.raw("</section>\n")
}

func (w *htmlWriter) aside(heading string, list []Aside) {
	if len(list) == 0 {
		return
	}
	if heading != "" {
		w.tag("h2", heading)
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

func (w *htmlWriter) repair(p page) {
	w.raw(`<section class="repair"><h2>Repair</h2><div class="sign">`)
	for _, label := range repairFields {
		w.raw("<div><span>", text(label), "</span></div>")
	}
	w.raw("</div>")
	if len(p.after) > 0 {
		w.tag("h2", "Test after repair")
		w.tag("p", afterLine)
		w.raw(`<table class="after"><thead><tr><th>What</th><th>Before</th><th>Looked for</th><th class="wide">After</th><th class="wide">Date</th><th class="wide">By</th></tr></thead><tbody>` + "\n")
		for _, r := range p.after {
			fmt.Fprintf(w, "<tr><td>%s</td><td>%s</td><td>%s</td><td></td><td></td><td></td></tr>\n", text(r.what), text(r.before), text(r.wanted))
		}
		w.raw("</tbody></table>")
	}
	w.raw("</section>\n")
}
