package gui

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// readPane shows one document.
func (d *Desk) readPane(at Location) pane {
	doc, ok := view.DocumentOf(d.book, view.Kind(at.Kind), at.ID)
	if !ok {
		return d.missingPane("There is no " + at.Kind + " “" + at.ID + "” in this handbook.")
	}
	p := pane{text: doc.Text()}
	crumb := look.NewSoft(doc.Above)
	if doc.Signal > faulttree.NoSignal {
		p.body = append(p.body, look.NewBanner(doc.Signal, view.Sentence(doc.Title), nil), crumb)
	} else {
		p.body = append(p.body, d.head(doc.Above, doc.Title))
	}
	p.body = append(p.body, look.MaxWidth(760, false, d.blocks(doc.Body)))
	p.side = append(p.side, d.links("See also", doc.Related)...)
	p.side = append(p.side, d.links("Sources", doc.Sources)...)
	if doc.Kind == view.KindSource && len(doc.Related) > 0 {
		p.side = d.links("What rests on it", doc.Related)
	}
	back := look.NewButton("Back", d.Back)
	row := look.Row(12, back)
	if d.visit != nil && !d.visit.walk().Ended() {
		row.Objects = append([]fyne.CanvasObject{look.NewPrimary("Back to the walk", func() { d.Go(d.present()) })}, row.Objects...)
	}
	row.Add(look.NewButton("Copy page", d.copyPage))
	p.body = append(p.body, row)
	return p
}

// treePane introduces a walk before it begins.
func (d *Desk) treePane(at Location) pane {
	t := d.book.Forest.Trees[at.ID]
	if t == nil {
		return d.missingPane("There is no walk “" + at.ID + "” in this handbook.")
	}
	begin := look.NewPrimary("Begin", func() { d.begin(faulttree.Ref{Tree: t.ID}) })
	begin.Hint = "↵"
	body := []fyne.CanvasObject{d.head("Walk", t.Title), look.NewText(t.Summary)}
	if len(t.Symptoms) > 0 {
		body = append(body, look.NewSoft("For: "+strings.Join(t.Symptoms, ", ")+"."))
	}
	body = append(body, look.Row(12, begin, look.NewButton("Back", d.Back)))
	return pane{body: body, focus: begin}
}

// stepPane shows one step outside a walk, with a reading typed already if it
// came with one, and offers to begin there.
func (d *Desk) stepPane(at Location) pane {
	ref := faulttree.ParseRef(at.ID, "")
	s := d.book.Forest.Step(ref)
	if s == nil {
		return d.missingPane("There is no step “" + at.ID + "” in this handbook.")
	}
	v := view.StepOf(d.book, s, 0)
	p := pane{text: v.Text(), side: d.links("Cards", v.Cards)}
	if v.Caution.Signal > 0 {
		p.body = append(p.body, d.cautionLine(v.Caution))
	}
	p.body = append(p.body, d.head(v.Above, v.Question))
	start := look.NewButton("Begin the walk at its start", func() { d.begin(faulttree.Ref{Tree: s.Tree}) })
	row := look.Row(12)
	closed := s.For == faulttree.Qualified && d.settings.Role == faulttree.Owner
	switch {
	case s.Kind == faulttree.KindFinding:
		p.body = append(p.body, look.NewSoft("A finding of this walk. It is reached by readings only."), d.blocks(v.Prose))
	case s.Kind == faulttree.KindWeigh:
		p.body = append(p.body, look.NewSoft("A comparison of readings that this walk took before. It is made on the way; nothing is asked."), d.blocks(v.Prose))
	case closed:
		p.body = append(p.body, look.NewCallout(faulttree.Warning, look.NewText("This step is for a licensed electrician.")), d.blocks(v.Prose))
	case s.Kind == faulttree.KindMeasure:
		if n := variable(s, at.Kind); at.Query != "" && d.draft(at, n) == "" {
			d.keep(at, n, at.Query)
		}
		r := d.readings(at, s, d.settings.Meter, nil)
		here := look.NewPrimary("Begin a walk here with this reading", nil)
		stop := look.NewCallout(faulttree.Danger, look.NewStrong("This reading can hurt. Begin a walk here with it now: the next page says what to do first."))
		r.onChange = func(j view.Verdict) {
			enable(here, j.Ready)
			show(stop, j.Ready && j.Signal == faulttree.Danger)
		}
		here.OnTapped = func() {
			if j := r.judge(); j.Ready {
				d.begin(ref)
				if d.visit != nil && d.visit.walk().At() == ref {
					d.give(j.Answer)
				}
			}
		}
		r.onEnter = here.OnTapped
		r.onChange(r.judge())
		p.body = append([]fyne.CanvasObject{stop}, p.body...)
		row.Add(here)
		set := look.Stack(look.GapBlock)
		for _, a := range v.Asked {
			set.Add(chips(a.Chips))
		}
		p.body = append(p.body, r.object, r.ruler, set, d.blocks(v.Prose))
		p.focus = r.first()
	default:
		p.body = append(p.body, d.blocks(v.Prose))
	}
	row.Add(start)
	row.Add(look.NewButton("Back", d.Back))
	p.body = append(p.body, row)
	return p
}

// handbookPane lists the documents by kind, with a filter.
func (d *Desk) handbookPane(at Location) pane {
	list := look.Stack(look.GapSection)
	fill := func(filter string) {
		list.Objects = nil
		for _, s := range view.Handbook(d.book, view.Kind(at.Kind), filter) {
			section := look.Stack(10, look.NewCaption(s.Kind.Plural()+" · "+itoa(len(s.Links))))
			cells := look.Grid(300, 10, 3)
			for _, l := range s.Links {
				cells.Add(look.NewLink(l.Title, func() { d.open(l) }))
			}
			section.Add(cells)
			list.Add(section)
		}
		if len(list.Objects) == 0 {
			list.Add(look.NewText("No title holds these words. The search above looks into the texts as well."))
		}
		list.Refresh()
	}
	filter := d.field("Only titles with these words")
	filter.SetText(at.Query)
	filter.OnChanged = func(text string) {
		here := d.Here()
		here.Query = text
		d.history.Replace(here)
		d.shell.at = here
		fill(text)
	}
	fill(at.Query)
	kinds := look.Row(8)
	add := func(k view.Kind, name string) {
		kinds.Add(option(name, view.Kind(at.Kind) == k, func() { d.Go(Location{Page: pageHandbook, Kind: string(k), Query: filter.Text}) }))
	}
	add("", "All")
	for _, k := range view.Kinds() {
		add(k, k.Plural())
	}
	return pane{body: []fyne.CanvasObject{look.NewQuestion("Handbook"), kinds, look.MaxWidth(480, false, filter), list}}
}

// problemsPane lists what is wrong in the handbook in use.
func (d *Desk) problemsPane(at Location) pane {
	list := look.Stack(12)
	var text strings.Builder
	for i, diag := range d.book.Diagnostics {
		text.WriteString(diag.String() + "\n")
		if i < 300 {
			list.Add(look.NewSelectable(diag.String()))
		}
	}
	intro := "Each line names the file, line and column, and says what was expected. A document with an error is left out or can not be trusted; all others work."
	if len(d.book.Diagnostics) == 0 {
		intro = "Nothing is wrong with it."
	}
	return pane{text: text.String(), body: []fyne.CanvasObject{
		look.NewQuestion("Problems of this handbook"), look.NewText(intro), list,
		look.Row(12, look.NewPrimary("Read the handbook again", d.load), look.NewButton("Copy page", d.copyPage), look.NewButton("Back", d.Back)),
	}}
}
