package gui

import (
	"context"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/search"
)

// mostHits is how many hits are shown.
const mostHits = 40

// index builds the index over the handbook behind the window, and swaps it in
// whole. Until then, and if it can not be built, there are no hits.
func (d *Desk) index() {
	book, done := d.book, d.options.Indexed
	d.indexErr = nil
	Run(&d.runner, jobIndex, func(ctx context.Context) indexed {
		x, err := search.Build(ctx, book)
		if done != nil {
			done()
		}
		return indexed{x, err}
	}, func(i indexed) {
		d.indexErr = i.err
		if i.err == nil {
			d.finder.Swap(i.index)
		}
		if d.Here().Page == pageSearch {
			d.render()
		}
	})
}

type indexed struct {
	index *search.Index
	err   error
}

// searchFor follows the search entry as it is typed.
func (d *Desk) searchFor(words string) {
	at := d.Here()
	if at.Page == pageSearch {
		if at.Query == words {
			return
		}
		at.Query, at.Offset = words, 0
		d.history.Replace(at)
		d.render()
		return
	}
	if words != "" {
		d.Go(Location{Page: pageSearch, Query: words})
		d.shell.focus(d.shell.search)
	}
}

// leaveSearch empties the entry and goes back to the page before the search.
func (d *Desk) leaveSearch() {
	searching := d.Here().Page == pageSearch
	d.history.Replace(d.Here())
	if searching {
		d.Back()
	}
	d.shell.search.SetText("")
	d.window.Canvas().Unfocus()
	d.render()
}

func (d *Desk) openFirstHit() {
	at := d.Here()
	if at.Page != pageSearch {
		return
	}
	if hits := d.find(at, 1).Hits; len(hits) > 0 {
		d.openHit(hits[0])
	}
}

func (d *Desk) find(at Location, limit int) search.Answer {
	return d.finder.Find(search.Query{Text: at.Query, Kind: at.Kind, Limit: limit})
}

// openHit opens what was found. A reading opens the step that measures it
// with the reading typed: the present step of the visit if it asks for it.
func (d *Desk) openHit(h search.Hit) {
	switch h.Kind {
	case search.KindStep, search.KindFinding:
		if d.visit != nil && !d.visit.readOnly() && h.Reading != "" {
			if s := d.visit.walk().Step(); s != nil && s.Ref().String() == h.ID {
				at := d.present()
				d.keep(at, variable(s, h.Quantity), h.Reading)
				d.Go(at)
				return
			}
		}
		d.Go(Location{Page: pageStep, ID: h.ID, Query: h.Reading, Kind: h.Quantity})
	default:
		d.open(view.Link{Kind: view.Kind(h.Kind), ID: h.ID})
	}
}

// variable is the place of a quantity among those a step measures.
func variable(s *faulttree.Step, quantity string) int {
	for i, v := range s.Measure {
		if v.Quantity.ID == quantity {
			return i
		}
	}
	return 0
}

// searchPane shows the hits.
func (d *Desk) searchPane(at Location) pane {
	if d.shell.search.Text != at.Query {
		d.shell.search.SetText(at.Query)
	}
	kinds := look.Row(8)
	add := func(kind, name string) {
		kinds.Add(option(name, at.Kind == kind, func() {
			to := d.Here()
			to.Kind = kind
			d.history.Replace(to)
			d.render()
		}))
	}
	add("", "All")
	for _, k := range search.Kinds() {
		add(k, view.Kind(k).Plural())
	}
	body := []fyne.CanvasObject{kinds}
	switch {
	case d.indexErr != nil:
		body = append(body, look.NewText("There is no index to search in: "+view.Sentence(d.indexErr.Error())+" The handbook can still be read under Handbook."))
	case !d.finder.Ready():
		body = append(body, look.NewSoft("The index is being built; hits appear here in a moment."))
	case at.Query == "":
		body = append(body, look.NewText("Type a word, a symptom or a reading, such as “tingle”, “half of it is dead” or “58 V on the bumper”."))
	default:
		answer := d.find(at, mostHits)
		hits := answer.Hits
		for _, note := range answer.Notes() {
			body = append(body, look.NewText(note))
		}
		if len(hits) == 0 {
			body = append(body, look.NewText("Nothing was found for “"+at.Query+"”. Try one word less, or another word for it."))
		}
		for _, h := range hits {
			body = append(body, d.hit(h))
		}
	}
	return pane{body: body}
}

// hit is one result: what it is, where it leads, and the words around.
func (d *Desk) hit(h search.Hit) fyne.CanvasObject {
	kind := view.Kind(h.Kind).Singular()
	if h.Quantity != "" {
		kind = "step that takes this reading"
	}
	lines := look.Stack(2, look.NewCaption(kind))
	title := look.NewLink(h.Title, func() { d.openHit(h) })
	title.Type = look.SizeTitle
	lines.Add(title)
	var runs []look.Run
	for _, f := range h.Fragment {
		runs = append(runs, look.Run{Text: f.Text, Style: fyne.TextStyle{Bold: f.Marked}})
	}
	if len(runs) > 0 {
		p := look.NewProse(runs...)
		p.Type = look.SizeLead
		lines.Add(p)
	}
	return lines
}
