package main

import "faultwright/faulttree"

// observation writes what is asked without a meter, and what may be answered.
func (g page) observation(o *faulttree.Observation) {
	g.title(o.Title)
	for _, c := range o.Choices {
		g.hanging("  "+c.ID+"  ", "      ", c.Text)
	}
	g.blank()
	g.labelled("Sources", list(o.Sources))
}

// intervention writes what may be tried, and what must be so before it is.
func (g page) intervention(i *faulttree.Intervention) {
	g.title(i.Title)
	g.para("", i.Before)
	g.blank()
	if i.For == faulttree.Qualified {
		g.para("", "For a qualified person. An owner may report it where it was tried.")
	}
	g.labelled("Exposure", i.Exposure.String())
	g.labelled("Proposed in the walks", list(i.Offer))
}
