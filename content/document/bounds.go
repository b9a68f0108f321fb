package document

import (
	"bytes"
	"fmt"

	"faultwright/faulttree/source"
)

// Bounds on how deep the blocks of a text may lie inside one another. Each quote
// or list marker before the text of a line opens a block inside the one before
// it, and two columns of indent may belong to one that is open already. The
// parser keeps a note for each open block at each line. Prose is far below these bounds.
const (
	mostMarkers  = 60      // before the text of a line, indent counted as markers
	mostAllDepth = 300_000 // of all lines together
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
	all, depth, deepest := 0, 0, 0
	for at := 0; at < len(text); {
		line, next := text[at:], len(text)
		if n := bytes.IndexByte(line, '\n'); n >= 0 {
			line, next = line[:n], at+n+1
		}
		indent, n, blank := markers(line)
		if !blank { // a blank line is inside all that is open
			depth = min(indent/2, deepest) + n
			deepest = max(deepest, depth)
		}
		all += depth
		switch {
		case depth > mostMarkers:
			return at, fmt.Sprintf("this line is nested more than %d deep by its indent, quote and list markers", mostMarkers)
		case all > mostAllDepth:
			return at, "the lines up to here are many and nested deep"
		}
		at = next
	}
	return -1, ""
}

// markers counts the columns of a line's indent and the quote and list markers
// before its text. Blank means that there is nothing else.
func markers(line []byte) (indent, n int, blank bool) {
	text := bytes.TrimLeft(line, " \t")
	space := line[:len(line)-len(text)]
	indent = len(space) + 3*bytes.Count(space, []byte("\t"))
	line = text
	for i, b := range line {
		spaced := i+1 == len(line) || line[i+1] == ' ' || line[i+1] == '\t'
		switch {
		case b == ' ' || b == '\t' || (b >= '0' && b <= '9'):
		case b == '>' || ((b == '-' || b == '+' || b == '*' || b == '.' || b == ')') && spaced):
			n++
		default:
			return indent, n, false
		}
	}
	return indent, n, len(line) == 0
}
