package main

import (
	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// parting is where the finding of a walk and what fits its readings part. Where that
// cannot be worked out it is noted, and the finding stands by itself.
func (p *program) parting(lib *content.Library, w faulttree.Walk) view.Parting {
	result, ended := w.Finding()
	if !ended {
		return view.Parting{}
	}
	fits, err := p.reasoning(lib, w.Meter()).Fits(p.ctx, w, 0)
	if err != nil {
		p.note("what fits the readings is not beside the finding: " + err.Error())
	}
	if fits == nil {
		return view.Parting{}
	}
	return view.PartingOf(lib, result, *fits)
}

// followed writes a finding, and above it where it and what fits its readings part:
// the safer is followed.
func (g page) followed(v view.Finding, parting view.Parting) {
	if parting.Text != "" {
		g.signal(parting.Signal(), parting.Text)
		g.blank()
	}
	g.finding(v.After(parting))
}
