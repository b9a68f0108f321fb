package main

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/trial"
)

// exits writes which vehicles left each step of a walk by which exit. Of a chart
// every row is told, also one that no vehicle took.
func (g page) exits(lib *content.Library, r *trial.Report) {
	before := ""
	for _, x := range r.Exits {
		s := lib.Forest.Step(faulttree.ParseRef(x.Step, ""))
		name, row := exitName(s, x.Exit)
		if x.Walks == 0 && !row {
			continue
		}
		if x.Step != before {
			before = x.Step
			g.para("", x.Step)
		}
		var who []string
		if x.Sound > 0 {
			who = append(who, fmt.Sprintf("sound %d", x.Sound))
		}
		for _, part := range x.Faults {
			who = append(who, fmt.Sprintf("%s %d", part.At(), part.Walks))
		}
		g.hanging("  "+name+" to "+x.Go+"  ", "    ", strings.Join(append([]string{view.Count(x.Walks, "walk")}, who...), ", "))
	}
	g.blank()
}

// exitName words one exit of a step, by its index; row is whether it is one of a
// chart.
func exitName(s *faulttree.Step, exit int) (name string, row bool) {
	switch e := s.Exits()[exit]; {
	case s.Chart != nil && exit < len(s.Chart.Rows):
		for _, c := range s.Chart.Rows[exit].Cells {
			if !c.Any() {
				return "row " + itoa(exit+1), true
			}
		}
		return "rest", true
	case exit < len(s.Choices):
		return s.Choices[exit].ID, false
	case e == s.OverRange:
		return "over-range", false
	case e == s.NotPossible:
		return "not-possible", false
	case e.Label != "":
		return e.Label, false
	}
	return "branch " + itoa(exit+1), false
}
