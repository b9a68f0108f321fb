package main

import (
	"cmp"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// stop writes the title of a STOP behind its signal word.
func (g page) stop(title string) {
	if !strings.HasPrefix(title, "STOP") {
		title = "STOP. " + title
	}
	g.signal(faulttree.Danger, title)
}

// cautions writes every caution, the worst first.
func (g page) cautions(c view.Caution) {
	for _, one := range c.Each {
		g.signal(one.Signal, named(one.Link))
	}
	if len(c.Each) > 0 {
		g.blank()
	}
}

// named is a title with the id that show takes.
func named(l view.Link) string { return l.Title + " [" + l.ID + "]" }

// step writes what a step asks: the danger first, then the question, then the
// text, then where the probes go.
func (g page) step(v view.Step) {
	if v.Stop {
		g.stop(v.Question)
		g.blank()
	}
	g.cautions(v.Caution)
	g.para("", v.Above)
	if !v.Stop {
		g.title(v.Question)
	}
	g.blocks("", v.Prose)
	if len(v.Prose) > 0 {
		g.blank()
	}
	for _, title := range v.Columns {
		g.hanging("Asks for: ", "  ", title)
	}
	for _, a := range v.Asked {
		g.asked(a)
	}
	for i, c := range v.Choices {
		g.hanging("  "+itoa(i+1)+"  ", "     ", c.Text+" ("+c.ID+")")
	}
	g.labelled("Explained in", list(ids(v.Cards)))
}

// asked writes what to measure, how meter and vehicle stand, and where the
// probes go.
func (g page) asked(a view.Asked) {
	g.hanging("Measure: ", "  ", a.Title)
	for _, c := range a.Chips {
		g.hanging("  "+c.Name+": ", "    ", c.Value)
	}
	if a.Black == "" {
		g.hanging("  at: ", "    ", a.Red)
		return
	}
	g.hanging("  red probe: ", "    ", a.Red)
	g.hanging("  black probe: ", "    ", a.Black)
}

// order writes in which order a chart asks.
func (g page) order(lib *content.Library, s *faulttree.Step) {
	above, order := view.OrderOf(lib, s)
	if len(order) == 0 {
		return
	}
	g.para("", above)
	for i, a := range order {
		g.hanging("  "+itoa(i+1)+"  ", "     ", strings.TrimSpace(view.Sentence(a.Title)+" "+a.Settles))
	}
}

// limits writes where the readings of a step lead.
func (g page) limits(s *faulttree.Step) {
	for _, segment := range s.Ruler() {
		label := cmp.Or(segment.Label, segment.To.Step)
		if w := segment.Signal.Word(); w != "" {
			label += ", " + w
		}
		g.hanging("  "+segment.Span.Format(s.Measure[0].Quantity.Unit)+": ", "    ", label)
	}
}

// given writes what was given beside a walk and hurts, and which walk judges it.
func (g page) given(lib *content.Library, w faulttree.Walk) {
	for _, x := range view.GivenOf(lib, w) {
		g.signal(faulttree.Danger, x.Text)
		if x.Walk.ID != "" {
			g.labelled("That walk", "faultwright-cli walk "+x.Walk.ID)
		}
	}
}

// finding writes where a walk ended, as the window and the sheet say it.
func (g page) finding(v view.Finding) {
	g.signal(v.Signal, v.Title)
	if v.Stop != "" {
		g.para("", v.Stop)
	}
	g.cautions(v.Caution)
	for _, f := range v.Facts() {
		g.labelled(f.Heading, f.Text)
	}
	for _, f := range v.Faults {
		g.labelled("To read about it", "show "+f.ID)
	}
	if len(v.Prose) > 0 {
		g.blank()
		g.blocks("", v.Prose)
	}
	if len(v.Shows) > 0 {
		g.blank()
		g.para("", v.Above)
		for _, l := range v.Shows {
			g.hanging("  ", "    ", l.Text())
		}
	}
	if len(v.NotExclude) > 0 {
		g.blank()
		g.para("", view.NotExcludeHeading+":")
		first, more, which := v.Foremost()
		for _, n := range first {
			g.hanging("  - ", "    ", n.Text()+" ["+list(ids(n.Faults))+"]")
		}
		if more != "" {
			g.hanging("  - ", "    ", more+": "+which)
		}
	}
}

// past writes one answered step of the trail.
func (g page) past(p view.Past) {
	label := ""
	if p.Label != "" {
		label = " (" + p.Label + ")"
	}
	first := itoa(p.Index+1) + ". "
	g.hanging(first, strings.Repeat(" ", len(first)), p.Title+": "+p.Value+label)
	for _, remark := range p.Remarks {
		g.para("   ", remark)
	}
}

// trail writes the answers of a walk.
func (g page) trail(lib *content.Library, w faulttree.Walk) {
	for _, p := range view.Trail(lib, w) {
		g.past(p)
	}
}
