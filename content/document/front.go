package document

import (
	"bytes"

	"faultwright/faulttree/source"
)

// Document is a file taken apart. Front is zero when the file has no front
// matter. Text that could not be read is missing, with a diagnostic.
type Document struct {
	File  *source.File
	Front Value
	Body  []Block
	Text  string // the body as it is written, without the empty lines around it
	Work  int    // what reading the text took, in the measure of the bounds on it
	Lost  bool   // the text could not be read at all
}

// Parse reads a Markdown document with front matter. All errors go to diags;
// what could be read is returned besides them. Line ends must be plain
// newlines.
func Parse(f *source.File, diags *source.List) Document {
	doc := Document{File: f}
	start, end, body := splitFront(f.Text)
	switch {
	case start < 0:
		diags.Add(f.Pos(0), RuleFrontMatter, "the file does not begin with front matter; expected a line of three hyphens, the keys, and another line of three hyphens")
		body = 0
	case end < 0:
		diags.Add(f.Pos(0), RuleFrontMatter, "the front matter is not closed; expected a second line of three hyphens")
		doc.Lost = true
		return doc
	default:
		doc.Front = readYAML(f, f.Text[start:end], lineOffsets(f.Text[start:end], start), diags)
	}
	doc.Text = string(bytes.Trim(f.Text[body:], "\n"))
	var ok bool
	doc.Body, doc.Work, ok = readMarkdown(f, body, diags)
	doc.Lost = !ok
	return doc
}

// ParseYAML reads a whole file as YAML.
func ParseYAML(f *source.File, diags *source.List) Value {
	return readYAML(f, f.Text, lineOffsets(f.Text, 0), diags)
}

// YAML reads the text of a code block of file f.
func (c Code) YAML(f *source.File, diags *source.List) Value {
	return readYAML(f, []byte(c.Text), c.lines, diags)
}

// splitFront finds the front matter: text[start:end] is its YAML and
// text[body:] the rest. Start is -1 without one, end is -1 if it never ends.
func splitFront(text []byte) (start, end, body int) {
	if !bytes.HasPrefix(text, []byte("---\n")) {
		return -1, -1, 0
	}
	start = len("---\n")
	for at := start; at < len(text); {
		line := text[at:]
		next := len(text)
		if n := bytes.IndexByte(line, '\n'); n >= 0 {
			line, next = line[:n], at+n+1
		}
		if string(bytes.TrimRight(line, " \t")) == "---" {
			return start, at, next
		}
		at = next
	}
	return start, -1, len(text)
}

// lineOffsets lists where the lines of text begin, text itself beginning at
// base.
func lineOffsets(text []byte, base int) []int {
	offsets := []int{base}
	for i, b := range text {
		if b == '\n' {
			offsets = append(offsets, base+i+1)
		}
	}
	return offsets
}
