package class

import (
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"

	"faultwright/faulttree/mark"
)

// csvHead is what the columns of the marks are, before one for each part of them.
var csvHead = []string{"learner", "file", "saved", "late", "scenario", "title", "variant", "state", "total", "unsafe acts", "readings", "hints", "minutes", "remarks"}

// CSV writes the marks as comma-separated values (RFC 4180), a line for each
// learner and scenario. No cell can be a formula to a spreadsheet.
func (c *Class) CSV(w io.Writer, hidden bool) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	parts := c.parts()
	head := append([]string(nil), csvHead...)
	for _, p := range parts {
		head = append(head, p.Title)
	}
	if err := write(out, head); err != nil {
		return err
	}
	for _, l := range c.Ordered(hidden) {
		for task, x := range l.Tries {
			if err := write(out, c.csvLine(l, task, x, parts, hidden)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

// csvLine is the line of a learner and a task.
func (c *Class) csvLine(l *Learner, task int, x *Checked, parts []mark.Part, hidden bool) []string {
	_, word := x.State()
	file := plain(l.File)
	if hidden {
		file = ""
	}
	line := []string{c.Called(l, hidden), file, l.Saved.Format(time.RFC3339), yes(l.Late), c.Scenarios[task].ID, c.Scenarios[task].Title}
	if x == nil {
		return append(line, append([]string{"", word}, make([]string, len(csvHead)-8+len(parts))...)...)
	}
	total, unsafe := "", ""
	if x.Marks != nil {
		total, unsafe = x.Total(), fmt.Sprint(len(x.Marks.Caps))
	}
	remarks := join(x.Edited, x.Unmarked)
	if !hidden { // they name others
		remarks = join(remarks, join(strings.Join(x.Copied, " "), strings.Join(l.Remarks, " ")))
	}
	line = append(line, fmt.Sprint(x.Attempt.Seed), word, total, unsafe, fmt.Sprint(len(x.Attempt.ReadingsAt())), fmt.Sprint(len(x.Attempt.Hints)), fmt.Sprintf("%.1f", x.Attempt.Last().Minutes()), remarks)
	for _, p := range parts {
		line = append(line, x.points(p.ID))
	}
	return line
}

// parts lists the parts of all marks, each once, in their order.
func (c *Class) parts() []mark.Part {
	var out []mark.Part
	seen := map[string]bool{}
	for _, l := range c.Learners {
		for _, x := range l.Tries {
			if x == nil || x.Marks == nil {
				continue
			}
			for _, p := range x.Marks.Parts {
				if !seen[p.ID] {
					seen[p.ID] = true
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// points is what a part of the marks gave, "" where it has no such part.
func (x *Checked) points(part string) string {
	if x.Marks != nil {
		for _, p := range x.Marks.Parts {
			if p.ID == part {
				return fmt.Sprint(p.Points)
			}
		}
	}
	return ""
}

func yes(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

// formula is what begins a formula for a spreadsheet, at the beginning of a cell or
// behind what another one takes for the end of a cell (OWASP, CSV Injection).
var formula = regexp.MustCompile(`(^|[;|\t\r\n])(\s*[=+\-@＝＋－＠]|[\t\r\n])`)

// harmless is text that no spreadsheet takes for a formula.
func harmless(text string) string { return formula.ReplaceAllString(text, "$1'$2") }

func write(out *csv.Writer, line []string) error {
	for i, text := range line {
		line[i] = harmless(text)
	}
	return out.Write(line)
}
