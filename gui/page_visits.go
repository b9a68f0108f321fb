package gui

import (
	"context"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/look"
)

const jobVisits, jobUnfinished = "visits", "unfinished"

// mostRows is how many visits are shown before the reader asks for all.
const mostRows = 60

// listed is the list of visits with how each stands, made off the window's
// thread since every record is read for it.
type listed struct {
	lines []visitLine
	more  int // visits not looked at
	err   error
}

type visitLine struct {
	store.Summary
	state string
	ended bool
}

// listVisits reads the records, the newest first, at most so many.
func listVisits(ctx context.Context, visits *store.Store, book *content.Library, most int) listed {
	all, err := visits.List()
	if err != nil {
		return listed{err: err}
	}
	shown := all[:min(len(all), most)]
	out := listed{more: len(all) - len(shown)}
	for _, s := range shown {
		if ctx.Err() != nil {
			return listed{err: ctx.Err()}
		}
		l := visitLine{Summary: s}
		if s.Err == nil {
			l.state, l.ended = visitState(visits, book, s.ID)
		}
		out.lines = append(out.lines, l)
	}
	return out
}

// visitsPane lists the visits on record.
func (d *Desk) visitsPane(at Location) pane {
	head := look.NewQuestion("Visits")
	visits, book := d.options.Visits, d.book
	if visits == nil {
		return pane{body: []fyne.CanvasObject{head, look.NewText("Visits are not kept: there is no folder for them.")}}
	}
	most := mostRows
	if at.Kind == "all" {
		most = store.MostVisits
	}
	list := look.Stack(look.GapBlock, look.NewSoft("Reading the visits on record. Leaving this page stops it."))
	Run(&d.runner, jobVisits, func(ctx context.Context) listed { return listVisits(ctx, visits, book, most) }, func(l listed) {
		list.Objects = d.visitRows(l)
		list.Refresh()
		d.shell.relayout()
	})
	return pane{body: []fyne.CanvasObject{head, list}}
}

func (d *Desk) visitRows(l listed) []fyne.CanvasObject {
	switch {
	case l.err != nil:
		return []fyne.CanvasObject{look.NewText("The visits could not be listed. " + view.Sentence(l.err.Error()))}
	case len(l.lines) == 0:
		return []fyne.CanvasObject{
			look.NewText("No visit is on record yet. One is begun with the first choice under “What is happening?”, and every answer is kept as it is given."),
			look.Row(12, look.NewPrimary("To the beginning", func() { d.Go(Location{Page: pageOpening}) })),
		}
	}
	var rows []fyne.CanvasObject
	for _, line := range l.lines {
		rows = append(rows, d.visitRow(line))
	}
	if l.more > 0 {
		rows = append(rows, look.Row(12, look.NewButton("Show "+count(l.more, "older visit"), func() { d.Go(Location{Page: pageVisits, Kind: "all"}) })))
	}
	return rows
}

// visitRow is one visit: what it is, how it stands, what can be done.
func (d *Desk) visitRow(s visitLine) fyne.CanvasObject {
	remove := look.NewButton("Delete", func() { d.Go(Location{Page: pageDelete, ID: s.ID}) })
	if s.Err != nil {
		return look.Stack(8, look.NewStrong(s.ID), look.NewText("This record can not be read. "+view.Sentence(s.Err.Error())), look.Row(8, remove), look.NewLine())
	}
	title := look.NewTitle(d.treeTitle(s.Header.Start.Tree))
	lines := look.Stack(4, title, look.NewSoft(d.visitLine(s.Summary)), look.NewText(s.state))
	if s.Damaged {
		lines.Add(look.NewCallout(faulttree.Caution, look.NewText("Part of this record is damaged and was left out. What could be read is shown.")))
	}
	open := look.NewButton("Open", func() { d.Go(Location{Page: pageWalk, ID: s.ID, Step: s.Answers}) })
	sheet := look.NewButton("Make the sheet", func() { d.Go(Location{Page: pageMake, ID: s.ID}) })
	lines.Add(look.Pad(6, 0, 0, 0, look.Row(8, open, sheet, remove)))
	return look.Stack(14, lines, look.NewLine())
}

func (d *Desk) treeTitle(id string) string {
	if t := d.book.Forest.Trees[id]; t != nil {
		return t.Title
	}
	return id
}

// visitState words how a visit stands, and says whether its walk has ended.
func visitState(visits *store.Store, book *content.Library, id string) (text string, ended bool) {
	v, err := visits.Read(id)
	if err != nil {
		return view.Sentence(err.Error()), true
	}
	rounds := v.Replay(book.Forest)
	last := rounds[len(rounds)-1]
	if last.Err != nil {
		return "The handbook in use can not go on with it: " + view.Sentence(last.Err.Error()), true
	}
	text = "Unfinished."
	if r, ok := last.Walk.Finding(); ok {
		text = view.Sentence(r.Title)
		if w := r.Finding.Signal.Word(); w != "" {
			text = w + ": " + text
		}
	}
	if len(rounds) > 1 {
		text += " Tested after repair."
	}
	if n := len(last.Lapsed()); n > 0 {
		text += " " + count(n, "answer") + " no longer fit this handbook and are kept aside."
	}
	return text, last.Walk.Ended()
}

// deletePane asks before a visit is deleted.
func (d *Desk) deletePane(at Location) pane {
	if d.options.Visits == nil {
		return d.missingPane("This visit is not on record.")
	}
	v, err := d.options.Visits.Read(at.ID)
	what := at.ID
	if err == nil {
		s := store.Summary{ID: at.ID, Header: v.Header, Details: v.Details(), Last: v.Last()}
		rounds := v.Rounds()
		s.Answers = len(rounds[len(rounds)-1].Items)
		what = "“" + d.treeTitle(s.Header.Start.Tree) + "”, " + d.visitLine(s)
	}
	keep := look.NewPrimary("Keep it", d.Back)
	remove := look.NewButton("Delete it for good", func() { d.deleteVisit(at.ID) })
	return pane{body: []fyne.CanvasObject{
		look.NewQuestion("Delete this visit?"), look.NewText(view.Sentence(what)),
		look.NewText("Its readings and answers are removed from this machine. Sheets that were saved stay where they are. This can not be undone."),
		look.Row(12, keep, remove),
	}, focus: keep}
}

func (d *Desk) deleteVisit(id string) {
	if d.visit != nil && d.visit.id() == id {
		d.release()
	}
	if err := d.options.Visits.Delete(id); err != nil {
		d.say("The visit was not deleted. " + view.Sentence(err.Error()))
		return
	}
	d.history.Forget(func(l Location) bool { return l.ID == id })
	d.Go(Location{Page: pageVisits})
	d.say("The visit was deleted.")
}
