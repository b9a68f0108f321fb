package gui

import (
	"context"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/gui/look"
	"faultwright/gui/view"
)

// Finder is the full-text index over a handbook. It is safe for use from
// several goroutines.
type Finder interface {
	// Find lists the hits for words as they are typed, best first. An empty
	// kind means all kinds.
	Find(words, kind string, limit int) []Found
}

// Found is one hit. ID is a document's, or tree#step for a step or finding.
type Found struct {
	ID, Kind, Title string
	Fragment        []Piece
	Reading         string // the reading to fill in, if the words were one
}

// Piece is a stretch of a fragment; the words that were found are marked.
type Piece struct {
	Text   string
	Marked bool
}

// mostHits is how many hits are shown.
const mostHits = 40

// index builds the index over the handbook behind the window.
func (d *Desk) index() {
	book := d.book
	Run(&d.runner, jobIndex, func(ctx context.Context) Finder { return buildFinder(ctx, book) }, func(f Finder) {
		d.finder = f
		if d.Here().Page == pageSearch {
			d.render()
		}
	})
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
	if at.Page != pageSearch || d.finder == nil {
		return
	}
	if hits := d.finder.Find(at.Query, at.Kind, 1); len(hits) > 0 {
		d.openHit(hits[0])
	}
}

// openHit opens what was found. A reading opens the step that measures it
// with the reading typed: the present step of the visit if it asks for it.
func (d *Desk) openHit(h Found) {
	switch h.Kind {
	case "step", "finding", "reading":
		if d.visit != nil && !d.visit.readOnly() && h.Reading != "" {
			if s := d.visit.walk().Step(); s != nil && s.Ref().String() == h.ID {
				at := d.present()
				d.keep(at, 0, h.Reading)
				d.Go(at)
				return
			}
		}
		d.Go(Location{Page: pageStep, ID: h.ID, Query: h.Reading})
	default:
		d.open(view.Link{Kind: view.Kind(h.Kind), ID: h.ID})
	}
}

// searchKinds are the kinds that hits can be narrowed to.
var searchKinds = []struct{ kind, name string }{
	{"", "All"}, {"card", "Cards"}, {"caution", "Cautions"}, {"fault", "Faults"}, {"step", "Steps"}, {"finding", "Findings"},
}

// searchPane shows the hits.
func (d *Desk) searchPane(at Location) pane {
	if d.shell.search.Text != at.Query {
		d.shell.search.SetText(at.Query)
	}
	kinds := look.Row(8)
	for _, k := range searchKinds {
		n := look.NewNav(k.name, func() {
			to := d.Here()
			to.Kind = k.kind
			d.history.Replace(to)
			d.render()
		})
		n.SetChosen(at.Kind == k.kind)
		kinds.Add(n)
	}
	body := []fyne.CanvasObject{kinds}
	switch {
	case d.finder == nil && d.runner.Busy(jobIndex):
		body = append(body, look.NewSoft("The index is being built; hits appear here in a moment."))
	case d.finder == nil:
		body = append(body, look.NewText("There is no index to search in. The handbook can still be read under Handbook."))
	case at.Query == "":
		body = append(body, look.NewText("Type a word, a symptom or a reading, such as “tingle”, “half of it is dead” or “58 V on the bumper”."))
	default:
		hits := d.finder.Find(at.Query, at.Kind, mostHits)
		if len(hits) == 0 {
			body = append(body, look.NewText("Nothing was found for “"+at.Query+"”. Try one word less, or another word for it."))
		}
		for i, h := range hits {
			body = append(body, d.hit(h, i))
		}
	}
	return pane{body: body}
}

// hit is one result: what it is, where it leads, and the words around.
func (d *Desk) hit(h Found, i int) fyne.CanvasObject {
	kind := h.Kind
	if h.Reading != "" {
		kind = "reading " + h.Reading
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

// buildFinder is replaced by the search package; without one the titles are
// searched.
func buildFinder(_ context.Context, book *content.Library) Finder { return titles{book} }

type titles struct{ book *content.Library }

func (t titles) Find(words, kind string, limit int) []Found {
	var out []Found
	for _, s := range view.Handbook(t.book, view.Kind(kind), words) {
		for _, l := range s.Links {
			out = append(out, Found{ID: l.ID, Kind: string(l.Kind), Title: l.Title})
		}
	}
	return out[:min(len(out), limit)]
}
