package handbook

import (
	"context"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/search"
)

// mostHits is how many hits are shown.
const mostHits = 40

// index builds the index over the handbook behind the window, and swaps it in
// whole. Until then the one before is searched, and if it cannot be built
// there are no hits.
func (a *Area) index() {
	book := a.session.Book()
	a.indexErr = nil
	frame.Try(a.window.Runner(), jobIndex, func(ctx context.Context) (*search.Index, error) {
		x, err := a.sources.Index(ctx, book)
		if a.sources.Indexed != nil {
			a.sources.Indexed()
		}
		return x, err
	}, func(x *search.Index, err error) {
		a.indexErr = err
		if err == nil {
			a.finder = x
		}
		if a.window.Here().Page == place.SearchPage {
			a.window.Render()
		}
	})
}

// OpenFirstHit opens the page that a search asks for by its name, else its first hit.
func (a *Area) OpenFirstHit(at place.Location) {
	if turns := a.turns(at); len(turns) > 0 {
		turns[0].open()
		return
	}
	if hits := a.find(at, 1).Hits; len(hits) > 0 {
		a.openHit(hits[0])
	}
}

func (a *Area) find(at place.Location, limit int) search.Answer {
	if a.finder == nil {
		return search.Answer{}
	}
	answer := a.finder.Find(search.Query{Text: at.Query, Kind: at.Kind, Limit: limit + 1})
	if !slices.Contains(a.window.Pages(), place.SuspectsPage) { // where lists of readings lead
		answer.Hits = slices.DeleteFunc(answer.Hits, func(h search.Hit) bool { return h.Kind == search.KindReadings })
	}
	answer.Hits = answer.Hits[:min(len(answer.Hits), limit)]
	return answer
}

// openHit opens what was found. A reading opens the step that measures it
// with the reading typed: the present step of the visit if it asks for it.
func (a *Area) openHit(h search.Hit) {
	switch h.Kind {
	case search.KindReadings:
		a.window.Go(place.Suspects(h.List))
	case search.KindStep, search.KindFinding:
		if v := a.session.Visit(); v != nil && !v.ReadOnly() && h.Reading != "" {
			if s := v.Walk().Step(); s != nil && s.Ref().String() == h.ID {
				at := v.Present()
				a.session.Keep(at, parts.Variable(s, h.Quantity), h.Reading)
				a.window.Go(at)
				return
			}
		}
		a.window.Go(place.Reading(h.ID, h.Quantity, h.Reading))
	default:
		a.window.Go(place.Document(view.Kind(h.Kind), h.ID))
	}
}

// searchPage shows the hits.
func (a *Area) searchPage(at place.Location) frame.Page {
	kinds := look.Row(8)
	add := func(kind, name string) {
		kinds.Add(parts.Option(name, at.Kind == kind, func() {
			to := a.window.Here()
			to.Kind = kind
			a.window.Replace(to)
		}))
	}
	add("", "All")
	for _, k := range search.Kinds() {
		add(k, view.Kind(k).Plural())
	}
	body := []fyne.CanvasObject{kinds}
	turns := a.turns(at)
	if len(turns) > 0 {
		body = append(body, pages(turns))
	}
	switch {
	case a.indexErr != nil:
		body = append(body, look.NewText("There is no index to search in: "+view.Sentence(a.indexErr.Error())+" The handbook can still be read under Handbook."))
	case a.finder == nil:
		body = append(body, look.NewSoft("The index is being built; hits appear here in a moment."))
	case at.Query == "":
		body = append(body, a.examples(at))
	default:
		answer := a.find(at, mostHits)
		hits := answer.Hits
		for _, note := range answer.Notes() {
			if len(turns) > 0 && len(hits) == 0 {
				break // the page that was asked for stands above
			}
			body = append(body, look.NewCallout(faulttree.Notice, look.NewText(note)))
		}
		if len(hits)+len(turns) == 0 {
			body = append(body, a.nothing(at))
		}
		for _, h := range hits {
			body = append(body, a.hit(h))
		}
	}
	return frame.Page{Body: body}
}

// examples say what can be searched for, and search for it when they are
// pressed.
func (a *Area) examples(at place.Location) fyne.CanvasObject {
	row := look.Row(12)
	for _, words := range []string{"tingle", "half of it is dead", "58 V on the bumper"} {
		row.Add(look.NewButton(words, func() {
			at.Query = words
			a.window.Replace(at)
		}))
	}
	return look.Stack(12, look.NewText("Type a word, a symptom or a reading, such as"), row,
		look.NewSoft("A page is found by its name: settings, visits, flow and the name of a walk, or print and what is to be printed."))
}

// nothing is said where nothing was found, with the ways on.
func (a *Area) nothing(at place.Location) fyne.CanvasObject {
	title, row := "Nothing was found for “"+at.Query+"”", look.Row(12)
	if at.Kind != "" {
		title += " among the " + strings.ToLower(view.Kind(at.Kind).Plural())
		all := at
		all.Kind = ""
		row.Add(look.NewPrimary("Search all", func() { a.window.Replace(all) }))
	}
	row.Add(look.NewButton("List the handbook", func() { a.window.Go(place.Handbook(view.Kind(at.Kind), "")) }))
	row.Add(look.NewButton("To the beginning", func() { a.window.Go(place.Opening()) }))
	return look.Stack(12, look.NewTitle(title+"."),
		look.NewText("Try one word less, or another word for it. A reading is found by its two points, such as “58 V bumper to spike”."), row)
}

// hit is one result: what it is, where it leads, and the words around.
func (a *Area) hit(h search.Hit) fyne.CanvasObject {
	kind := view.Kind(h.Kind).Singular()
	switch {
	case h.Kind == search.KindReadings:
		kind = "list of readings"
	case h.Reading != "":
		kind = "step that takes this reading"
	case h.Quantity != "":
		kind = "step that measures this"
	}
	lines := look.Stack(2, look.NewCaption(kind))
	title := look.NewLink(h.Title, func() { a.openHit(h) })
	title.Type = look.SizeTitle
	lines.Add(title)
	runs := lists.Each(h.Fragment, func(f search.Run) look.Run { return look.Run{Text: f.Text, Style: fyne.TextStyle{Bold: f.Marked}} })
	if len(runs) > 0 {
		p := look.NewProse(runs...)
		p.Type = look.SizeLead
		lines.Add(p)
	}
	return lines
}
