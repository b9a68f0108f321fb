package gui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/trial"
	"faultwright/gui/look"
)

// triedPane shows what the walks that reached one finding have in common. ID is
// the tree tried, Query the finding.
func (d *Desk) triedPane(at Location) pane {
	was, ok := d.trialsOf().done[at.ID]
	if !ok || was.report == nil {
		return d.noReport(at)
	}
	i := slices.IndexFunc(was.report.Findings, func(f trial.Finding) bool { return f.ID == at.Query })
	if i < 0 {
		return d.missingPane("The trial reached no finding “" + at.Query + "”.")
	}
	f := was.report.Findings[i]
	body := []fyne.CanvasObject{d.head("Trial of “"+d.treeTitle(at.ID)+"” · "+f.ID, f.Title)}
	names := "It names no fault."
	if len(f.Names) > 0 {
		names = "It names: " + d.faultNames(f.Names) + "."
	}
	text := countOf(f.Walks, "walk") + " of drawn rigs within the scope reached it. " + names
	for k, place := range f.Clears {
		if k == 0 {
			text += " It clears: "
		} else {
			text += ", "
		}
		text += place
		if k == len(f.Clears)-1 {
			text += "."
		}
	}
	body = append(body, look.NewText(text), d.groupPart(at, was.report, f), d.declaredPart(f), d.gapsPart(at, f))
	if len(f.Idle) > 0 {
		body = append(body, look.Stack(6, look.NewCaption("Named, but no walk had it"), look.NewText(d.faultNames(f.Idle)+".")))
	}
	if len(f.Meter) > 0 {
		body = append(body, look.Stack(6, look.NewCaption("Misuses of the meter that reach it"), look.NewText(d.faultNames(f.Meter)+". They are not part of what a finding must declare.")))
	}
	row := look.Row(12)
	if d.book.Forest.Step(faulttree.ParseRef(f.ID, "")) != nil {
		row.Add(look.NewButton("Read this finding", func() { d.Go(Location{Page: pageStep, ID: f.ID}) }))
	}
	row.Add(look.NewButton("Copy page", d.copyPage))
	back := look.NewButton("Back", d.Back)
	row.Add(back)
	return pane{body: append(body, row), focus: back}
}

// noReport stands where a report is gone, as after the handbook was read again.
func (d *Desk) noReport(at Location) pane {
	again := look.NewPrimary("To the trial", func() { d.Go(Location{Page: pageTrial, ID: at.ID}) })
	return pane{body: []fyne.CanvasObject{
		look.NewQuestion("This trial is not there any more"),
		look.NewText("Reports are kept until the handbook is read again or the program ends. The same number of rigs and the same seed give the same report."),
		look.Row(12, again, look.NewButton("Back", d.Back)),
	}, focus: again}
}

// groupPart is the ambiguity group; each fault opens a rig that has it.
func (d *Desk) groupPart(at Location, r *trial.Report, f trial.Finding) fyne.CanvasObject {
	part := look.Stack(0, look.Pad(0, 0, 8, 0, look.Stack(4, look.NewTitle("Ambiguity group"),
		look.NewSoft("What the rigs had that reached this finding. A line opens a rig drawn with it."))))
	if len(f.Group) == 0 {
		part.Add(look.NewText("No walk within the scope reached it."))
	}
	for _, s := range f.Group {
		draw := -1
		for _, c := range r.Cells {
			if c.Fault == s.Fault && c.Finding == f.ID && !c.Outside && (draw < 0 || c.Draw < draw) {
				draw = c.Draw
			}
		}
		var open func()
		if draw >= 0 {
			open = func() { d.openDrawn(at.ID, f.ID, draw) }
		}
		part.Add(look.NewTrailRow(d.faultName(s.Fault), fmt.Sprintf("%s, %s", percentOf(s.Share), countOf(s.Walks, "walk")), open))
	}
	return part
}

// declaredPart puts what the document declares beside what the walks show.
func (d *Desk) declaredPart(f trial.Finding) fyne.CanvasObject {
	part := look.Stack(10, look.NewTitle("What it can not exclude"))
	faults := slices.Clone(f.Declared)
	for _, id := range f.Cannot {
		if !slices.Contains(faults, id) {
			faults = append(faults, id)
		}
	}
	if len(faults) == 0 {
		part.Add(look.NewText("It declares nothing, and no walk with a dangerous fault that it does not name reached it."))
		return part
	}
	part.Add(look.NewSoft("Declared by the document, and shown by the walks: dangerous faults that it does not name. How sure an empty place is depends on the number of rigs."))
	cell := func(text string) []document.Inline { return []document.Inline{document.Text{Value: text}} }
	table := document.Table{Header: [][]document.Inline{cell("Fault"), cell("Declared"), cell("Walks"), cell("Difference")},
		Align: []document.Align{document.AlignLeft, document.AlignLeft, document.AlignRight, document.AlignLeft}}
	for _, id := range faults {
		declared, walks, differs := "no", 0, ""
		if slices.Contains(f.Declared, id) {
			declared = "yes"
		}
		for _, s := range f.Group {
			if s.Fault == id {
				walks = s.Walks
			}
		}
		switch {
		case slices.ContainsFunc(f.Missing, func(g trial.Gap) bool { return g.Fault == id }):
			differs = "missing: neither named nor declared"
		case slices.Contains(f.Extra, id) && slices.Contains(f.Names, id):
			differs = "too many: it is named already"
		case slices.Contains(f.Extra, id):
			differs = "too many: no walk had it"
		}
		table.Rows = append(table.Rows, [][]document.Inline{cell(d.faultName(id)), cell(declared), cell(thousands(walks)), cell(differs)})
	}
	part.Add(d.blocks([]document.Block{table}))
	return part
}

// gapsPart shows for each fault that is missing a rig that had it.
func (d *Desk) gapsPart(at Location, f trial.Finding) fyne.CanvasObject {
	part := look.Stack(12)
	for _, g := range f.Missing {
		part.Add(look.NewCallout(faulttree.Warning, look.Stack(8,
			look.NewStrong(fmt.Sprintf("%s reached it with: %s", countOf(g.Walks, "walk"), d.faultName(g.Fault))),
			look.NewSelectable("Rig "+thousands(g.Draw)+": "+g.Vehicle+". Its way: "+g.Path+"."),
			look.Row(8, look.NewButton("Show this rig", func() { d.openDrawn(at.ID, f.ID, g.Draw) })))))
	}
	return part
}
