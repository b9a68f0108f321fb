package document

import (
	"bytes"
	"fmt"

	"faultwright/faulttree/source"
)

// Bounds on the quote and list markers before the text of lines: each opens a
// block inside the one before it. Prose is far below them.
const (
	mostMarkers    = 60     // of a line
	mostAllMarkers = 10_000 // of a file, the first of each line not counted
)

// mostReports bounds the diagnostics of one file. Those beyond it add nothing
// for an author, and finding their places costs time.
const mostReports = 1000

// add appends a diagnostic unless there are very many already.
func add(diags *source.List, d source.Diagnostic) {
	if len(*diags) < mostReports {
		*diags = append(*diags, d)
	}
}

// tooNested looks for a line that would open too many blocks. It returns the
// offset of the line, or -1.
func tooNested(text []byte) (at int, why string) {
	all := 0
	for at := 0; at < len(text); {
		line, next := text[at:], len(text)
		if n := bytes.IndexByte(line, '\n'); n >= 0 {
			line, next = line[:n], at+n+1
		}
		n := markers(line)
		all += max(n-1, 0)
		switch {
		case n > mostMarkers:
			return at, fmt.Sprintf("a line begins with more than %d quote and list markers", mostMarkers)
		case all > mostAllMarkers:
			return at, fmt.Sprintf("the lines up to here begin with more than %d further quote and list markers", mostAllMarkers)
		}
		at = next
	}
	return -1, ""
}

// markers counts the quote and list markers before a line's text.
func markers(line []byte) int {
	n := 0
	for i, b := range line {
		spaced := i+1 == len(line) || line[i+1] == ' ' || line[i+1] == '\t'
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
