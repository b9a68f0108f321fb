package sheet

import (
	"bytes"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/view"
)

// Markdown writes the sheet as CommonMark with tables, without pictures.
func Markdown(in Input, lib *content.Library) []byte {
	p := compose(in, lib)
	w := &markdownWriter{}
	w.line("# ", mark(p.title))
	w.line()
	w.facts(p.facts)
	if p.note != "" {
		w.line("- **Note:** ", mark(p.note))
	}
	for _, one := range p.parts {
		w.part(one, "## ")
	}
	w.line()
	w.line("**", recordsLine, "**")
	w.line()
	w.line("**", codesLine, "**")
	return w.Bytes()
}

type markdownWriter struct{ bytes.Buffer }

func (w *markdownWriter) line(parts ...string) {
	var b strings.Builder
	for _, s := range parts {
		b.WriteString(s)
	}
	w.WriteString(strings.TrimRight(b.String(), " ") + "\n")
}

// mark escapes text so that no Markdown reader takes any of it for mark-up,
// HTML, an entity or an address.
func mark(s string) string {
	var b strings.Builder
	for _, r := range clean(s) {
		switch r {
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '&':
			b.WriteString("&amp;")
		case '\\', '`', '*', '_', '[', ']', '|', '~', '!', '$', '@', '#', '^', '{', '}', '=':
			b.WriteByte('\\')
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
	}
	out := strings.TrimSpace(b.String())
	out = strings.ReplaceAll(out, "://", `\://`)
	for _, www := range []string{"www.", "WWW.", "Www."} {
		out = strings.ReplaceAll(out, www, www[:3]+`\.`)
	}
	if out != "" && strings.ContainsRune("-+0123456789", rune(out[0])) {
		out = guard(out)
	}
	return out
}

// guard keeps text that begins like a list item from becoming one.
func guard(s string) string {
	if s[0] == '-' || s[0] == '+' {
		return `\` + s
	}
	digits := strings.TrimLeft(s, "0123456789")
	if digits != "" && (digits[0] == '.' || digits[0] == ')') && (len(digits) == 1 || digits[1] == ' ') {
		return s[:len(s)-len(digits)] + `\` + digits
	}
	return s
}

// part writes a section with its heading behind a mark such as "## ".
func (w *markdownWriter) part(p part, heading string) {
	if len(p.pictures) > 0 {
		return
	}
	if word := p.signal.Word(); word != "" {
		heading += word + ": "
	}
	w.paragraph(heading + mark(p.heading))
	lead := ""
	if p.lead != "" {
		lead = "**" + mark(p.lead) + "** "
	}
	for _, t := range p.text {
		w.paragraph(lead + mark(t))
	}
	if len(p.facts)+len(p.cautions)+len(p.blanks) > 0 {
		w.line()
	}
	w.facts(p.facts)
	for _, c := range p.cautions {
		w.line("- **", c.Signal.Word(), "** ", mark(c.Title))
	}
	for _, paragraph := range strings.Split(document.Plain(p.prose), "\n") {
		if strings.TrimSpace(paragraph) != "" {
			w.paragraph(mark(paragraph))
		}
	}
	w.table(p.table)
	for _, t := range p.after {
		w.paragraph(mark(t))
	}
	w.aside(p.aside)
	for _, label := range p.blanks {
		w.line("- **", mark(label), ":** ", strings.Repeat(`\_`, 24))
	}
	for _, inner := range p.parts {
		w.part(inner, "### ")
	}
}

func (w *markdownWriter) paragraph(text string) {
	w.line()
	w.line(text)
}

func (w *markdownWriter) facts(facts []view.Fact) {
	for _, f := range facts {
		w.line("- **", mark(f.Heading), ":** ", mark(f.Text))
	}
}

// table writes the rows; a remark joins the last cell.
func (w *markdownWriter) table(t table) {
	if len(t.rows) == 0 {
		return
	}
	w.line()
	w.line("| ", strings.Join(t.header, " | "), " |")
	w.line("|", strings.Repeat(" --- |", len(t.header)))
	for _, r := range t.rows {
		w.line("| ", strings.Join(cellsOf(r), " | "), " |")
	}
}

func cellsOf(r row) []string {
	var out []string
	for _, c := range r.cells {
		text := mark(c.text)
		if word := c.signal.Word(); word != "" {
			text = strings.TrimSpace("**" + word + "** " + text)
		}
		out = append(out, text)
	}
	if n := len(out) - 1; r.remark != "" {
		out[n] = strings.TrimSpace(out[n] + " " + mark(r.remark))
	}
	return out
}

func (w *markdownWriter) aside(list []Aside) {
	if len(list) > 0 {
		w.line()
	}
	for _, a := range list {
		at := when(a.At)
		if at != "" {
			at = mark(at) + ": "
		}
		w.line("- ", at, mark(a.What), ". ", mark(a.Why))
	}
}
