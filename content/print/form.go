package print

import (
	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// form is the blank record of a walk's readings.
type form struct {
	Title, ID string
	Blanks    []string
	Facts     []view.FactOf
	Seen      []question
	Readings  []group
	Limits    []string
}

// question is what is answered without a meter.
type question struct {
	ID, Title string
	Choices   []view.Choice
}

// blanks are what a record says beside the readings.
var blanks = []string{"Site and pitch", "Vehicle and plate", "Date", "Read by", "Meter", "Meter proved before, at", "Meter proved after, at", "Weather, loads, what was felt"}

// formOf is the form of a walk: every reading that it may ask, by the name under which
// the program reads it back.
func formOf(lib *content.Library, t *faulttree.Tree) form {
	p := wholePlan(lib, t)
	all := &sheetPlan{nodes: p.nodes()}
	p.sheets = []*sheetPlan{all}
	out := form{Title: t.Title, ID: t.ID, Blanks: blanks, Facts: p.facts(), Readings: p.readings(all), Limits: p.danger(all).Limits}
	for _, n := range all.nodes {
		if n.Kind != faulttree.KindObserve {
			continue
		}
		q := question{ID: n.Ref().String(), Title: n.Title}
		for _, c := range n.Choices {
			q.Choices = append(q.Choices, view.Choice{ID: c.ID, Text: c.Text})
		}
		out.Seen = append(out.Seen, q)
	}
	return out
}
