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
	if p.card != nil {
		bodies, titles = append(bodies, p.card.Body), append(titles, &p.card.Title)
	}
	if p.caution != nil {
		bodies, titles = append(bodies, p.caution.Body), append(titles, &p.caution.Title)
	}
	if p.fault != nil {
		bodies, titles = append(bodies, p.fault.Body), append(titles, &p.fault.Title)
		for _, a := range p.fault.Findings {
			titles = append(titles, &a.FirstAction, &a.DoNot, &a.RepairBy, &a.Sure)
		}
		for _, t := range p.fault.Tests {
			titles = append(titles, &t.What)
		}
	}
	if p.source != nil {
		bodies = append(bodies, p.source.Body)
	}
	if p.method != nil {
		bodies, titles = append(bodies, p.method.Body), append(titles, &p.method.Title)
	}
	if p.scenario != nil {
		bodies, titles = append(bodies, p.scenario.Body), append(titles, &p.scenario.Title)
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
