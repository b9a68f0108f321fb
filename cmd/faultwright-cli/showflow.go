package main

import (
	"cmp"
	"io"
	"strings"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/flow"
	"faultwright/faulttree"
)

// flow writes a walk as a drawing, or as a graph for other programs.
func (c showCommand) flow(p *program, lib *content.Library) error {
	if c.Columns < 0 {
		return bad("--columns %d: at least one step stands side by side", c.Columns)
	}
	id := strings.TrimPrefix(c.ID, "tree:")
	if lib.Forest.Tree(id) == nil {
		return unknown("walk", id, lib.Forest.Beginnings())
	}
	g, err := flow.Of(lib, id, faulttree.Unknown)
	if err != nil {
		return bad("%s cannot be drawn: %v", id, err)
	}
	var text string
	switch c.Flow {
	case "svg":
		text = figure.SVG(flow.Lay(g, flow.Options{Columns: c.Columns}).Draw(flow.NoMarks()), figure.Light()) + "\n"
	case "dot":
		text = flow.DOT(g)
	case "mermaid":
		text = flow.Mermaid(g)
	default:
		return unknown("form of a drawing", c.Flow, []string{"svg", "dot", "mermaid"})
	}
	return p.put(cmp.Or(c.Out, "-"), c.Force, "The drawing", func(w io.Writer) error { _, err := io.WriteString(w, text); return err })
}
