package sheet

import (
	"bytes"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
)

// Markdown writes the sheet as CommonMark with tables, without pictures.
func Markdown(in Input, lib *content.Library) []byte {
	p := compose(in, lib)
	w := &markdownWriter{}
	w.line("# ", mark(p.title))
	w.line()
	for _, f := range p.facts {
		w.line("- **", mark(f[0]), ":** ", mark(f[1]))
	}
	if p.note != "" {
		w.line("- **Note:** ", mark(p.note))
	}
	w.verdict(p.verdict)
	w.line()
	w.line("## Readings")
	w.line()
	w.rows(p.rows)
	if len(p.unasked) > 0 {
		w.line()
		w.line("## ", unaskedHeading)
		w.line()
		w.rows(p.unasked)
	}
	w.electrician(p)
	if len(p.aside) > 0 {
		w.line()
		w.line("## Answers that do not count any more")
		w.line()
		w.aside(p.aside)
	}
	for _, e := range p.before {
		w.line()
		w.line("## ", mark(e.title))
		w.line()
		w.line("It ended in: ", mark(e.verdict))
		w.line()
		w.rows(e.rows)
		w.line()
		w.aside(e.aside)
	}
	w.repair(p)
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

func (w *markdownWriter) table(header []string, rows [][]string) {
	w.line("| ", strings.Join(header, " | "), " |")
	w.line("|", strings.Repeat(" --- |", len(header)))
	for _, r := range rows {
		w.line("| ", strings.Join(r, " | "), " |")
	}
}

func (w *markdownWriter) verdict(v verdict) {
	w.line()
	word := v.signal.Word()
	if word != "" {
		word += ": "
	}
	w.line("## ", word, mark(v.title))
	if v.stop != "" {
		w.line()
		w.line("**STOP.** ", mark(v.stop))
	}
	w.line()
	for _, f := range v.facts {
		w.line("- **", mark(f[0]), ":** ", mark(f[1]))
	}
	if len(v.faults) > 0 {
		w.line("- **", faultsHeading(len(v.faults)), ":** ", mark(strings.Join(v.faults, "; ")))
	}
	if v.clears != "" {
		w.line("- ", mark(v.clears))
	}
	for _, c := range v.cautions {
		w.line("- **", c.signal.Word(), "** ", mark(c.title))
	}
	if why := document.Plain(v.why); why != "" {
		w.line()
		w.line("### Why")
		for _, paragraph := range strings.Split(why, "\n") {
			if strings.TrimSpace(paragraph) != "" {
				w.line()
				w.line(mark(paragraph))
			}
		}
	}
}

func (w *markdownWriter) rows(rows []row) {
	if len(rows) == 0 {
		w.line("No reading was taken.")
		return
	}
	var lines [][]string
	for _, r := range rows {
		leads := mark(r.leads)
		if word := r.signal.Word(); word != "" && r.leads != "" {
			leads = "**" + word + "** " + leads
		}
		if len(r.remarks) > 0 {
			leads = strings.TrimSpace(leads + " " + mark(strings.Join(r.remarks, " ")))
		}
		lines = append(lines, []string{mark(r.number), mark(r.what), mark(r.shown), mark(r.within), mark(r.met), leads})
	}
	w.table([]string{"No.", "What", "Shown", "Uncertainty", "Limit it met", "Led to"}, lines)
}

func (w *markdownWriter) electrician(p page) {
	w.line()
	w.line("## For the electrician")
	w.line()
	w.line(mark(measuredLine(p)))
	w.line()
	w.line("### What these readings can not exclude")
	w.line()
	if len(p.verdict.notExcluded) == 0 {
		w.line(mark(nothingListed))
	} else {
		var lines [][]string
		for _, e := range p.verdict.notExcluded {
			lines = append(lines, []string{mark(e.fault), mark(e.test)})
		}
		w.table([]string{"Can not be excluded", "The test that would"}, lines)
	}
	w.line()
	w.line(mark(loopLine))
	if len(p.limits) > 0 {
		w.line()
		w.line("### Limits used and where they come from")
		w.line()
		for _, l := range p.limits {
			w.line("- **", mark(l.words), ":** ", mark(l.source))
		}
	}
}

func (w *markdownWriter) aside(list []Aside) {
	for _, a := range list {
		at := when(a.At)
		if at != "" {
			at = mark(at) + ": "
		}
		w.line("- ", at, mark(a.What), ". ", mark(a.Why))
	}
}

func (w *markdownWriter) repair(p page) {
	w.line()
	w.line("## Repair")
	w.line()
	for _, label := range repairFields {
		w.line("- **", mark(label), ":** ", strings.Repeat(`\_`, 24))
	}
	if len(p.after) == 0 {
		return
	}
	w.line()
	w.line("## Test after repair")
	w.line()
	w.line(mark(afterLine))
	w.line()
	var lines [][]string
	for _, r := range p.after {
		lines = append(lines, []string{mark(r.what), mark(r.before), mark(r.wanted), "", "", ""})
	}
	w.table([]string{"What", "Before", "Looked for", "After", "Date", "By"}, lines)
}
