package gui

import (
	"net/url"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"faultwright/content/document"
	"faultwright/content/view"
	"faultwright/gui/look"
)

// cautionLine is the danger line. Its details stand among the cards beside.
func (d *Desk) cautionLine(c view.Caution) fyne.CanvasObject {
	return look.NewSignLine(c.Signal, nil, look.Run{Text: c.Line()})
}

// head is what stands above the question, and the question.
func (d *Desk) head(above, question string) fyne.CanvasObject {
	crumb := look.NewSoft(above)
	q := look.NewQuestion(question)
	if d.shell.narrow() {
		q.Type = look.SizeHeading
	} else {
		crumb.Type = look.SizeText
	}
	return look.Stack(2, crumb, q)
}

// chips are the settings of the meter and the vehicle.
func chips(all []view.Chip) fyne.CanvasObject {
	row := look.Row(10)
	for _, c := range all {
		row.Add(look.NewChip(c.Name, c.Value))
	}
	return row
}

// links is a captioned list of documents to open; nil if there are none.
func (d *Desk) links(caption string, all []view.Link) []fyne.CanvasObject {
	if len(all) == 0 {
		return nil
	}
	list := look.Stack(8, look.NewCaption(caption))
	for _, l := range all {
		list.Add(look.NewLink(l.Title, func() { d.open(l) }))
	}
	return []fyne.CanvasObject{list}
}

// mostPast is how many answers the trail shows before it is asked for all.
const mostPast = 7

// trail is the answers so far; pressing one leads to it.
func (d *Desk) trail(past []view.Past) []fyne.CanvasObject {
	if len(past) == 0 {
		return nil
	}
	rows := look.Stack(0)
	if n := len(past) - mostPast; n > 1 && !d.shell.wholeTrail {
		rows.Add(look.Pad(2, 0, 8, 0, look.NewLink(count(n, "earlier answer"), func() {
			d.shell.wholeTrail = true
			d.render()
		})))
		past = past[n:]
	}
	for _, p := range past {
		at := Location{Page: pageWalk, ID: d.visit.id(), Step: p.Index}
		rows.Add(look.NewTrailRow(p.Title, p.Short, func() { d.Go(at) }))
		if p.Weighed != "" {
			rows.Add(look.Pad(2, 0, 8, 0, look.NewSoft(p.Weighed)))
		}
	}
	return []fyne.CanvasObject{look.Stack(8, look.NewCaption("So far"), rows)}
}

// numbered is advice as a numbered list.
func numbered(sentences []string) fyne.CanvasObject {
	list := look.Stack(6)
	for i, s := range sentences {
		text := s
		if len(sentences) > 1 {
			text = strconv.Itoa(i+1) + ". " + s
		}
		p := look.NewText(text)
		p.Type = look.SizeTitle
		list.Add(p)
	}
	return list
}

// blocks draws a document's blocks with links that work here.
func (d *Desk) blocks(all []document.Block) fyne.CanvasObject {
	return look.NewBlocks(all, d.follow)
}

// follow goes where a link of a document leads: to a document or a step of
// the handbook, or, after asking, to a citation on the web. Anything else is
// told, never opened.
func (d *Desk) follow(target string) {
	scheme, id, _ := strings.Cut(target, ":")
	switch kind := view.Kind(scheme); kind {
	case view.KindCard, view.KindCaution, view.KindFault, view.KindSource, view.KindTree, view.KindStep:
		d.open(view.Link{Kind: kind, ID: id})
		return
	}
	u, err := url.Parse(target)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
		d.say("The link “" + target + "” leads nowhere that this program opens.")
		return
	}
	dialog.ShowConfirm("Open in the web browser?", u.String(), func(yes bool) {
		if !yes {
			return
		}
		if err := d.app.OpenURL(u); err != nil {
			d.say("The web browser could not be started: " + err.Error())
		}
	}, d.window)
}

// draft is what is typed at a place and not taken yet; it outlives a new
// build of the page.
func (d *Desk) draft(at Location, n int) string { return d.drafts[draftKey(at, n)] }

func (d *Desk) keep(at Location, n int, text string) { d.drafts[draftKey(at, n)] = text }

// forgetDrafts drops what was typed for a document or visit, "" for the pages
// that have none.
func (d *Desk) forgetDrafts(id string) {
	for key := range d.drafts {
		if strings.Split(key, "\x00")[1] == id {
			delete(d.drafts, key)
		}
	}
}

func draftKey(at Location, n int) string {
	return strings.Join([]string{at.Page, at.ID, at.Query, strconv.Itoa(at.Step), strconv.Itoa(n)}, "\x00")
}
