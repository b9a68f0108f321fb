package gui

import (
	"context"
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/look"
)

// firstMinute is the caution that the opening view leads to.
const firstMinute, liveWork = "first-minute", "live-work"

// welcomePane is the first start: the live-work caution, then the role.
func (d *Desk) welcomePane(at Location) pane {
	var body []fyne.CanvasObject
	if c := d.book.Cautions[liveWork]; c != nil {
		body = append(body, look.NewBanner(c.Signal, view.Sentence(c.Title), d.blocks(c.Body)))
	}
	choose := func(r faulttree.Role) func() {
		return func() {
			d.set(func(s *Settings) { s.Role, s.Welcomed = r, true })
			d.Go(Location{Page: pageOpening})
		}
	}
	body = append(body,
		look.NewQuestion("Who will take the readings?"),
		look.Grid(300, 14, 2,
			look.NewChoice(1, "I own or use the vehicle", "Nothing will be asked that means opening an enclosure or a panel.", choose(faulttree.Owner)),
			look.NewChoice(2, "I am qualified for this work", "Licensed, or otherwise qualified to work inside energised enclosures.", choose(faulttree.Qualified)),
		),
		look.NewSoft("This can be changed in the settings. Local codes and licensed practice outrank this handbook. Nothing is ever sent from this machine."),
	)
	return pane{body: body}
}

// openingPane asks what is happening.
func (d *Desk) openingPane(at Location) pane {
	var body []fyne.CanvasObject
	if c := d.book.Cautions[firstMinute]; c != nil {
		body = append(body, look.NewSignLine(c.Signal, d.follow,
			look.Run{Text: view.Sentence(c.Title) + " "},
			look.Run{Text: "What to do", Color: look.ColorInk, Target: "caution:" + firstMinute}))
	}
	if n := len(d.book.Diagnostics); n > 0 {
		body = append(body, look.NewCallout(faulttree.Warning, d.linkLine(
			fmt.Sprintf("The handbook in use has %s; what they touch can not be trusted. ", count(n, "problem")), "Look at them", Location{Page: pageProblems})))
	}
	body = append(body, look.NewQuestion("What is happening?"))
	body = append(body, d.unfinished())
	grid := look.Grid(250, 14, 3)
	for _, o := range view.Openings(d.book) {
		grid.Add(look.NewChoice(o.Digit, o.Title, o.Text, func() { d.openOpening(o) }))
	}
	if len(grid.Objects) == 0 {
		body = append(body, look.NewText("This handbook has no openings. Its documents can be read under Handbook."))
	}
	return pane{body: append(body, grid)}
}

func (d *Desk) openOpening(o view.Opening) {
	if o.Open.Kind == view.KindTree {
		d.begin(faulttree.Ref{Tree: o.Open.ID})
		return
	}
	d.open(o.Open)
}

// linkLine is a sentence that ends in a link to a place.
func (d *Desk) linkLine(text, link string, to Location) *look.Prose {
	p := look.NewProse(look.Run{Text: text}, look.Run{Text: link, Target: "place"})
	p.OnTapped = func(string) { d.Go(to) }
	return p
}

// mostLookedAt is how many of the newest visits are looked at for one that has
// not ended.
const mostLookedAt = 5

// unfinished is the line that leads back to the newest visit which has not
// ended, or nothing.
func (d *Desk) unfinished() fyne.CanvasObject {
	line := look.Stack(0)
	show := func(o fyne.CanvasObject) {
		line.Objects = []fyne.CanvasObject{o}
		line.Show()
	}
	line.Hide()
	visits, book := d.options.Visits, d.book
	if d.visit != nil && !d.visit.walk().Ended() {
		v := d.visit.rec.Visit()
		show(d.unfinishedLine(store.Summary{ID: v.Header.ID, Header: v.Header, Details: v.Details(), Last: v.Last(), Answers: len(d.visit.walk().Trail())}))
		return line
	}
	if visits == nil {
		return line
	}
	Run(&d.runner, jobUnfinished, func(ctx context.Context) listed { return listVisits(ctx, visits, book, mostLookedAt) }, func(l listed) {
		if l.err != nil {
			show(look.NewSoft("The visits on record could not be listed: " + view.Sentence(l.err.Error())))
		}
		for _, s := range l.lines {
			if s.Err == nil && s.Answers > 0 && !s.ended {
				show(d.unfinishedLine(s.Summary))
				break
			}
		}
		d.shell.relayout()
	})
	return line
}

func (d *Desk) unfinishedLine(s store.Summary) fyne.CanvasObject {
	p := d.linkLine("Unfinished: “"+d.treeTitle(s.Header.Start.Tree)+"”, "+d.visitLine(s)+". ", "Go on", Location{Page: pageWalk, ID: s.ID, Step: s.Answers})
	p.Ink = look.ColorSoftInk
	return p
}

// visitLine is where and when a visit was, and how far it got.
func (d *Desk) visitLine(s store.Summary) string {
	parts := []string{}
	if s.Details.Site != "" {
		parts = append(parts, s.Details.Site)
	}
	if s.Details.Vehicle != "" {
		parts = append(parts, s.Details.Vehicle)
	}
	parts = append(parts, day(s.Last, d.options.Now()))
	return strings.Join(append(parts, count(s.Answers, "answer")), ", ")
}

// day words a time from close by: "today 9:40", "3 May 9:40".
func day(at, now time.Time) string {
	at = at.In(now.Location())
	switch {
	case at.Format(time.DateOnly) == now.Format(time.DateOnly):
		return "today " + at.Format("15:04")
	case at.Format(time.DateOnly) == now.AddDate(0, 0, -1).Format(time.DateOnly):
		return "yesterday " + at.Format("15:04")
	case at.Year() == now.Year():
		return at.Format("2 January 15:04")
	}
	return at.Format("2 January 2006")
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// pedestalPane offers the trees that are a sheet of readings at the supply.
func (d *Desk) pedestalPane(at Location) pane {
	body := []fyne.CanvasObject{look.NewQuestion("Which receptacle does the vehicle plug into?")}
	grid := look.Grid(300, 14, 2)
	for _, l := range view.All(d.book, view.KindTree) {
		t := d.book.Forest.Trees[l.ID]
		if len(t.Sheet) == 0 {
			continue
		}
		grid.Add(look.NewChoice(len(grid.Objects)+1, t.Title, t.Summary, func() { d.begin(faulttree.Ref{Tree: l.ID}) }))
	}
	if len(grid.Objects) == 0 {
		body = append(body, look.NewText("This handbook has no check of a pedestal."))
	}
	body = append(body, grid, look.NewSoft("Readings can be given one at a time, or all on one page in any order."))
	return pane{body: body}
}
