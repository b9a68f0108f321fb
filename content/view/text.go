package view

import (
	"fmt"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// copied gathers the plain text of a page, for the clipboard.
type copied struct{ strings.Builder }

func (p *copied) line(format string, args ...any) {
	if text := strings.TrimRight(fmt.Sprintf(format, args...), " "); text != "" {
		p.WriteString(text + "\n")
	}
}

func (p *copied) blank() {
	if p.Len() > 0 {
		p.WriteByte('\n')
	}
}

func (p *copied) caution(c Caution) {
	if c.Signal > 0 {
		p.line("%s", headline(c.Signal, c.Text()))
		p.blank()
	}
}

// Text is the step as plain text.
func (v Step) Text() string {
	var p copied
	p.caution(v.Caution)
	p.line("%s", v.Above)
	p.line("%s", v.Question)
	p.blank()
	for _, a := range v.Asked {
		p.line("%s", a.Title)
		for _, c := range a.Chips {
			p.line("  %s: %s", c.Name, c.Value)
		}
	}
	p.line("%s", strings.TrimSpace(document.Plain(v.Prose)))
	for i, c := range v.Choices {
		p.line("%d. %s", i+1, c.Text)
	}
	return p.String()
}

// Text is the finding as plain text.
func (v Finding) Text() string {
	var p copied
	p.line("%s", v.Headline())
	p.line("%s", v.Stop)
	for _, f := range v.Facts() {
		p.line("%s: %s", f.Heading, f.Text)
	}
	p.blank()
	p.caution(v.Caution)
	p.line("%s", v.Above)
	p.blank()
	p.line("%s", strings.TrimSpace(document.Plain(v.Prose)))
	p.blank()
	p.line(ShowsHeading)
	for _, l := range v.Shows {
		p.line("- %s", l.Text())
	}
	if len(v.NotExclude) > 0 {
		p.blank()
		p.line(NotExcludeHeading)
		first, more, which := v.Foremost()
		for _, n := range first {
			p.line("- %s", n.Text())
		}
		if more != "" {
			p.line("- %s: %s", more, which)
		}
	}
	return p.String()
}

// Text is the line as plain text: "Body to earth: 58 V ±1.2 V (DANGER: 30 V and more, stop)".
func (l Line) Text() string {
	text := strings.TrimSuffix(l.Title+": "+l.Shown(), ": ")
	if meaning := l.Meaning(); meaning != "" {
		text += " (" + meaning + ")"
	}
	return text
}

// Text is the document as plain text.
func (d Document) Text() string {
	var p copied
	p.line("%s", d.Above)
	if d.Signal > faulttree.NoSignal {
		p.line("%s", d.Signal.Word())
	}
	p.line("%s", d.Title)
	p.blank()
	p.line("%s", strings.TrimSpace(document.Plain(d.Body)))
	p.links("See also", d.Related)
	p.links("Sources", d.Sources)
	return p.String()
}

func (p *copied) links(heading string, all []Link) {
	if len(all) == 0 {
		return
	}
	p.blank()
	p.line("%s", heading)
	for _, l := range all {
		p.line("- %s", l.Title)
	}
}

// Sentences is [document.Sentences].
func Sentences(text string) []string { return document.Sentences(text) }

// Sentence is [document.Sentence].
func Sentence(text string) string { return document.Sentence(text) }

// Capital is [document.Capital].
func Capital(text string) string { return document.Capital(text) }

// overRange is what OL is called in a sentence.
const overRange = "over the meter's range"

// Uncertainty words the half width of a reading in two figures, rounded away
// from zero so that the shown interval is never narrower than the judged one:
// "±0.70 V"; "" for a reading without numbers.
func Uncertainty(r faulttree.Reading, q faulttree.Quantity, m faulttree.Meter) string {
	u := m.Uncertainty(r, q)
	if u <= 0 {
		return ""
	}
	step := faulttree.Amount(1)
	for u >= 100*step {
		step *= 10
	}
	if u = u.RoundUp(step); u >= 100*step { // 0.998 is 1.0, not 1.00
		step *= 10
	}
	return "±" + faulttree.Reading{Low: u, High: u, Resolution: step}.Show(q.Unit)
}

// Count words a number of things: "1 reading", "4 readings".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// ReadingsTaken words how many readings a walk has taken. What could not be
// measured is none; a chart that is passed takes none.
func ReadingsTaken(w faulttree.Walk) string { return Count(w.Readings(), "reading") }

// TakenAmong counts the readings taken among some lines, as a walk counts them.
func TakenAmong(lines []Line) int {
	return lists.Count(lines, func(l Line) bool { return l.Taken })
}
