package gui

import (
	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/look"
	"faultwright/gui/view"
)

// visitsPane lists the visits on record.
func (d *Desk) visitsPane(at Location) pane {
	body := []fyne.CanvasObject{look.NewQuestion("Visits")}
	if d.options.Visits == nil {
		return pane{body: append(body, look.NewText("Visits are not kept: there is no folder for them."))}
	}
	all, err := d.options.Visits.List()
	if err != nil {
		return pane{body: append(body, look.NewText("The visits could not be listed. "+view.Sentence(err.Error())))}
	}
	if len(all) == 0 {
		return pane{body: append(body,
			look.NewText("No visit is on record yet. One is begun with the first choice under “What is happening?”, and every answer is kept as it is given."),
			look.Row(12, look.NewPrimary("To the beginning", func() { d.Go(Location{Page: pageOpening}) })))}
	}
	for _, s := range all {
		body = append(body, d.visitRow(s))
	}
	return pane{body: body}
}

// visitRow is one visit: what it is, how it stands, what can be done.
func (d *Desk) visitRow(s store.Summary) fyne.CanvasObject {
	remove := look.NewButton("Delete", func() { d.Go(Location{Page: pageDelete, ID: s.ID}) })
	if s.Err != nil {
		return look.Stack(8, look.NewStrong(s.ID), look.NewText("This record can not be read. "+view.Sentence(s.Err.Error())), look.Row(8, remove), look.NewLine())
	}
	title := look.NewTitle(d.treeTitle(s.Header.Start.Tree))
	state := d.visitState(s)
	lines := look.Stack(4, title, look.NewSoft(d.visitLine(s)), look.NewText(state))
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

// visitState words how a visit stands.
func (d *Desk) visitState(s store.Summary) string {
	v, err := d.options.Visits.Read(s.ID)
	if err != nil {
		return view.Sentence(err.Error())
	}
	rounds := v.Replay(d.book.Forest)
	last := rounds[len(rounds)-1]
	if last.Err != nil {
		return "The handbook in use can not go on with it: " + view.Sentence(last.Err.Error())
	}
	text := "Unfinished."
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
	return text
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
