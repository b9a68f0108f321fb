package view

import (
	"bytes"
	"fmt"
	"path"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
)

// Edited is a page of the handbook as it is shown beside the text that its author writes.
type Edited struct {
	File     string
	Problems []string // those of the file, each with its line
	Lines    []string // of the text, each with its number
	More     int      // lines of the file that are not among them

	Above, Title string
	Signal       faulttree.Signal // of a document
	Caution      Caution          // of a step
	Body         []document.Block
	Page         Link   // where the page stands; of no kind where the text has no page of its own
	Tree         string // the tree of a step, or a tree; "" for a document
}

// mostLines is how many lines of a text stand beside its page.
const mostLines = 200

// EditedAt is the page that a line of a file makes, counted from 1: of a tree the step in
// which it stands. False if the handbook was not read from such a file.
func EditedAt(lib *content.Library, file string, line int) (Edited, bool) {
	f := lib.Files[file]
	if f == nil {
		return Edited{}, false
	}
	e := Edited{File: file}
	for _, d := range lib.Diagnostics {
		if d.Pos.File == file {
			e.Problems = append(e.Problems, d.String())
		}
	}
	from, to := 1, bytes.Count(f.Text, []byte("\n"))+1
	if to > 1 && f.LineText(to) == "" {
		to--
	}
	all := to
	kind, id := Kind(strings.TrimSuffix(path.Dir(file), "s")), strings.TrimSuffix(path.Base(file), path.Ext(file))
	if kind == KindTree || kind == "fragment" {
		from, to = e.step(lib, line, to)
	} else if d, ok := DocumentOf(lib, kind, id); ok && d.Kind == kind {
		e.Above, e.Title, e.Signal, e.Body, e.Page = d.Above, d.Title, d.Signal, d.Body, d.Link
	}
	if to-from >= mostLines { // around the line
		from = max(from, min(line-mostLines/2, to-mostLines+1))
		to = from + mostLines - 1
	}
	for n := from; n <= to; n++ {
		e.Lines = append(e.Lines, fmt.Sprintf("%*d  %s", len(fmt.Sprint(to)), n, f.LineText(n)))
	}
	e.More = all - len(e.Lines)
	return e, true
}

// step fills in the step of a file in which a line stands, or the tree before its first
// step, and is the lines from which and to which it goes.
func (e *Edited) step(lib *content.Library, line, last int) (from, to int) {
	var at *faulttree.Step
	from, to = 1, last
	for _, id := range lib.Forest.IDs() {
		t := lib.Forest.Trees[id]
		if t.Pos.File == e.File {
			e.Tree, e.Above, e.Title = t.ID, "Walk", t.Title
			e.Body = []document.Block{document.Paragraph{Text: []document.Inline{document.Text{Value: t.Summary}}}}
			e.Page = Link{Kind: KindTree, ID: t.ID, Title: t.Title}
		}
		for _, s := range t.Steps {
			switch {
			case s.Pos.File != e.File:
			case s.Pos.Line <= line && (at == nil || s.Pos.Line > from):
				at, from = s, s.Pos.Line
			case s.Pos.Line > line:
				to = min(to, s.Pos.Line-1)
			}
		}
	}
	if at != nil {
		v := StepOf(lib, at, 0)
		e.Tree, e.Above, e.Title, e.Caution, e.Body = at.Tree, v.Above, v.Question, v.Caution, v.Prose
		e.Page = Link{Kind: KindStep, ID: at.Ref().String(), Title: v.Question}
	}
	return from, to
}

// ChangedAt is the first line, counted from 1, of a file of the handbook whose text is not as it was
// before; of several files the first. False if every text is as it was.
func ChangedAt(before, now *content.Library) (file string, line int, ok bool) {
	for name, f := range now.Files {
		was := before.Files[name]
		if ok && name > file || was != nil && bytes.Equal(was.Text, f.Text) {
			continue
		}
		file, line, ok = name, 1, true
		if was != nil {
			line += bytes.Count(f.Text[:alike(was.Text, f.Text)], []byte("\n"))
		}
	}
	return file, line, ok
}

// alike is how many bytes two texts have alike at their beginning.
func alike(a, b []byte) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}
