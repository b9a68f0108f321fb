package load

import (
	"faultwright/content/document"
	"faultwright/faulttree"
)

// withFeet puts feet behind every length that a part tells its reader in
// metres. Authors write metres alone; numbers that are computed with are left
// as they are.
func (p *part) withFeet() {
	var bodies [][]document.Block
	var titles []*string
	if p.doc != nil {
		bodies = append(bodies, p.doc.Body)
		if p.source == nil { // a work is called what it is called
			titles = append(titles, &p.doc.Title)
		}
	}
	if p.fault != nil {
		for _, a := range p.fault.Findings {
			titles = append(titles, &a.FirstAction, &a.DoNot, &a.RepairBy, &a.Sure)
		}
		for _, t := range p.fault.Tests {
			titles = append(titles, &t.What)
		}
	}
	for _, prose := range p.prose {
		bodies = append(bodies, prose)
	}
	if p.tree != nil {
		titles = append(titles, &p.tree.Summary)
		for _, s := range p.tree.Steps {
			f := &s.Finding
			titles = append(titles, &s.Title, &f.Sure, &f.FirstAction, &f.DoNot)
			for i := range s.Choices {
				titles = append(titles, &s.Choices[i].Text)
			}
			for i := range f.CannotExclude {
				titles = append(titles, &f.CannotExclude[i].Test)
			}
		}
	}
	if p.evidence != nil {
		for i := range p.evidence.observations {
			o := &p.evidence.observations[i]
			titles = append(titles, &o.Title)
			for k := range o.Choices {
				titles = append(titles, &o.Choices[k].Text)
			}
		}
		for i := range p.evidence.interventions {
			titles = append(titles, &p.evidence.interventions[i].Title, &p.evidence.interventions[i].Before)
		}
	}
	for _, body := range bodies {
		document.EditText(body, faulttree.WithFeet)
	}
	for _, title := range titles {
		*title = faulttree.WithFeet(*title)
	}
}
