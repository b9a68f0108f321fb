package document

import (
	"bytes"
	"fmt"

	"faultwright/faulttree/source"
)

// The Markdown parser's time grows with the square of the length of a
// paragraph and of the number of markers before a line's text. These bounds
// keep the worst file within a second or two; prose is far below them.
const (
	mostRunBytes = 24 << 10  // between two blank lines, outside fenced blocks
	mostRunLines = 1000      // likewise
	mostProse    = 128 << 10 // of the file, outside fenced blocks
	mostMarkers  = 60        // quote and list markers before the text of a line
)

var proseTooLong = fmt.Sprintf("there are more than %d KiB of text in one file", mostProse>>10)

// mostReports bounds the diagnostics of one file. Those beyond it add nothing
// for an author, and finding their places costs time.
const mostReports = 1000

// add appends a diagnostic unless there are very many already.
func add(diags *source.List, d source.Diagnostic) {
	if len(*diags) < mostReports {
		*diags = append(*diags, d)
	}
}

// overBounds looks for text that a Markdown parser would take very long over.
// It returns the offset of the first line over a bound, or -1.
func overBounds(text []byte) (at int, why string) {
	s := scan{over: -1, overAll: -1}
	for at := 0; at < len(text); {
		end := len(text)
		if n := bytes.IndexByte(text[at:], '\n'); n >= 0 {
			end = at + n + 1
		}
		s.line(text[at:end], at)
		if s.why != "" {
			return at, s.why
		}
		at = end
	}
	if s.over < 0 && s.doubtful {
		s.over = s.overAll
		if s.over < 0 && len(text) > mostProse {
			return mostProse, proseTooLong
		}
	}
	return s.over, fmt.Sprintf("more than %d KiB or %d lines follow each other without a blank line", mostRunBytes>>10, mostRunLines)
}

// scan follows lines and tells fenced blocks from the rest. Where it can not
// be sure that the parser sees the same fences it is doubtful, and lines in
// fences count like all others.
type scan struct {
	fence         []byte // of the open block; nil outside
	afterBlank    bool
	bytes, lines  int // of the run outside fences
	allBytes, all int // of the run, fences included
	prose         int // bytes outside fences in all
	over, overAll int // offset of the first line over the bound, or -1
	doubtful      bool
	why           string
}

func (s *scan) line(line []byte, at int) {
	trimmed := bytes.TrimSpace(line)
	if len(trimmed) == 0 {
		s.afterBlank, s.bytes, s.lines, s.allBytes, s.all = true, 0, 0, 0, 0
		return
	}
	s.allBytes, s.all = s.allBytes+len(line), s.all+1
	if s.overAll < 0 && (s.allBytes > mostRunBytes || s.all > mostRunLines) {
		s.overAll = at
	}
	mark := fenceOf(trimmed)
	switch {
	case mark != nil && len(line) > 0 && (line[0] == ' ' || line[0] == '\t'):
		s.doubtful = true
	case s.fence != nil && mark != nil && mark[0] == s.fence[0] && len(mark) >= len(s.fence) && len(mark) == len(trimmed):
		s.fence = nil
	case s.fence == nil && mark != nil && (s.afterBlank || at == 0) && bytes.IndexByte(trimmed[len(mark):], '`') < 0:
		s.fence = mark
	case s.fence == nil && mark != nil:
		s.doubtful = true
	case s.fence == nil:
		s.outside(line, trimmed, at)
	}
	s.afterBlank = false
}

// outside counts a line of prose.
func (s *scan) outside(line, trimmed []byte, at int) {
	s.doubtful = s.doubtful || bytes.IndexByte(trimmed[:min(len(trimmed), 200)], '<') >= 0
	s.bytes, s.lines = s.bytes+len(line), s.lines+1
	if s.prose += len(line) + 1; s.prose > mostProse {
		s.why = proseTooLong
	}
	if s.over < 0 && (s.bytes > mostRunBytes || s.lines > mostRunLines) {
		s.over = at
	}
	if markers(trimmed) > mostMarkers {
		s.why = fmt.Sprintf("a line begins with more than %d quote and list markers", mostMarkers)
	}
}

// fenceOf is the run of three or more backticks or tildes that begins a line.
func fenceOf(trimmed []byte) []byte {
	n := 0
	for n < len(trimmed) && (trimmed[0] == '`' || trimmed[0] == '~') && trimmed[n] == trimmed[0] {
		n++
	}
	if n < 3 {
		return nil
	}
	return trimmed[:n]
}

// markers counts the quote and list markers before a line's text.
func markers(line []byte) int {
	n := 0
	for i, b := range line {
		spaced := i+1 < len(line) && (line[i+1] == ' ' || line[i+1] == '\t')
		switch {
		case b == ' ' || b == '\t' || (b >= '0' && b <= '9'):
		case b == '>' || ((b == '-' || b == '+' || b == '*' || b == '.' || b == ')') && spaced):
			n++
		default:
			return n
		}
	}
	return n
}
