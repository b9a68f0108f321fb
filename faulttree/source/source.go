// Package source says where something stands in a file and what is wrong with
// it.
//
// A [File] turns byte offsets into positions, a [Diagnostic] is one finding of
// the tree reader or of a proof, and a [List] gathers them. The package knows
// no file system and prints nothing by itself.
package source

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/faulttree/lists"
)

// Pos is a place in a file. Line and Column count from 1, Column in
// characters; the zero value means "no place known".
type Pos struct {
	File   string // slash-separated path below the content folder
	Line   int
	Column int
}

// IsValid reports whether p names a line.
func (p Pos) IsValid() bool { return p.Line > 0 }

// String is file:line:column, or the file alone where the line is unknown.
func (p Pos) String() string {
	switch {
	case p.Line > 0 && p.File != "":
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	case p.Line > 0:
		return fmt.Sprintf("%d:%d", p.Line, p.Column)
	case p.File != "":
		return p.File
	}
	return "-"
}

// compare orders positions by file, line and column.
func (p Pos) compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}

// File is a name and its text, with a table of where its lines begin.
type File struct {
	Name  string
	Text  []byte
	lines []int
}

// NewFile indexes the lines of text.
func NewFile(name string, text []byte) *File {
	f := &File{Name: name, Text: text, lines: []int{0}}
	for i, b := range text {
		if b == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	return f
}

// Pos is the position of a byte offset. An offset outside the text is moved
// to its nearest end.
func (f *File) Pos(offset int) Pos {
	offset = max(0, min(offset, len(f.Text)))
	line := sort.SearchInts(f.lines, offset+1) - 1
	column := utf8.RuneCount(f.Text[f.lines[line]:offset]) + 1
	return Pos{File: f.Name, Line: line + 1, Column: column}
}

// LineText is line number n (from 1) without its line end, or "" if there is
// no such line.
func (f *File) LineText(n int) string {
	if n < 1 || n > len(f.lines) {
		return ""
	}
	end := len(f.Text)
	if n < len(f.lines) {
		end = f.lines[n] - 1
	}
	return strings.TrimSuffix(string(f.Text[f.lines[n-1]:end]), "\r")
}

// Severity says whether a diagnostic makes the content unusable.
type Severity uint8

const (
	Error   Severity = iota // the document, or the tree, cannot be trusted
	Warning                 // usable, but an author should look
	Notice                  // as it should be, and could be shorter
)

func (s Severity) String() string {
	switch s {
	case Warning:
		return "warning"
	case Notice:
		return "notice"
	}
	return "error"
}

// Related is a second place that explains a diagnostic, such as "first
// defined here".
type Related struct {
	Pos     Pos
	Message string
}

// Diagnostic is one thing wrong at one place. Rule is a stable name of the
// broken rule; Message says what was found and what was expected; Hint, if
// any, names the nearest valid thing.
type Diagnostic struct {
	Pos      Pos
	Severity Severity
	Rule     string
	Message  string
	Hint     string
	Related  []Related
}

// String is one line: file:line:column: error: message (hint). It holds no
// hidden characters, whatever is quoted in it.
func (d Diagnostic) String() string {
	s := fmt.Sprintf("%s: %s: %s", d.Pos, d.Severity, d.Message)
	if d.Hint != "" {
		s += " (" + d.Hint + ")"
	}
	return Shown(s)
}

// Error makes a diagnostic usable as an error.
func (d Diagnostic) Error() string { return d.String() }

// List is a set of diagnostics. Its zero value is ready for use.
type List []Diagnostic

// Add appends an error-severity diagnostic.
func (l *List) Add(pos Pos, rule, format string, args ...any) {
	*l = append(*l, Diagnostic{Pos: pos, Rule: rule, Message: fmt.Sprintf(format, args...)})
}

// AddHint is Add with a hint.
func (l *List) AddHint(pos Pos, rule, hint, format string, args ...any) {
	*l = append(*l, Diagnostic{Pos: pos, Rule: rule, Hint: hint, Message: fmt.Sprintf(format, args...)})
}

// Sort orders by position, then rule, then message, and drops exact repeats;
// what only a repeat is related to is kept.
func (l *List) Sort() {
	slices.SortStableFunc(*l, func(a, b Diagnostic) int {
		return cmp.Or(a.Pos.compare(b.Pos), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Message, b.Message))
	})
	kept := (*l)[:0]
	for i, d := range *l {
		if i > 0 {
			last := &kept[len(kept)-1]
			if last.Pos == d.Pos && last.Rule == d.Rule && last.Message == d.Message {
				last.Related = joined(last.Related, d.Related)
				continue
			}
		}
		kept = append(kept, d)
	}
	*l = kept
}

// joined is a with what only b holds behind it.
func joined(a, b []Related) []Related {
	a = slices.Clip(a)
	for _, r := range b {
		a = lists.With(a, r)
	}
	return a
}

// PerFile is l, which is sorted, with at most the given number of diagnostics
// for each file. One of the given rule says how many more there are.
func (l List) PerFile(most int, rule string) List {
	var out List
	for len(l) > 0 {
		n := 1
		for n < len(l) && l[n].Pos.File == l[0].Pos.File {
			n++
		}
		out = append(out, l[:min(n, most)]...)
		if n > most {
			out.Add(l[most].Pos, rule, "from here on at least %d more errors of this file are not shown", n-most)
		}
		l = l[n:]
	}
	return out
}

// HasErrors reports whether any diagnostic is an error.
func (l List) HasErrors() bool {
	return slices.ContainsFunc(l, func(d Diagnostic) bool { return d.Severity == Error })
}

// Err is nil when the list has no errors, else one error holding them all.
func (l List) Err() error {
	var errs []error
	for _, d := range l {
		if d.Severity == Error {
			errs = append(errs, d)
		}
	}
	return errors.Join(errs...)
}

// Hidden reports whether a character shows nothing by itself and can change how
// what stands around it is shown: a control character other than the end of a
// line and the tab, or a mark that turns the direction of text.
func Hidden(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' || unicode.Is(unicode.Bidi_Control, r)
}

// Shown is text as it may be shown: without hidden characters.
func Shown(text string) string {
	if strings.IndexFunc(text, Hidden) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if Hidden(r) {
			return -1
		}
		return r
	}, text)
}
