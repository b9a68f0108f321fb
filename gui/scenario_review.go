package gui

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/gui/look"
)

// mostSuspects is how many suspects have a column of their own.
const mostSuspects = 4

// lookBack is a scenario after the fault was named: nothing is hidden any more.
func (d *Desk) lookBack(t *trying) pane {
	s, r := t.scenario, t.review
	if r == nil {
		return pane{body: []fyne.CanvasObject{
			d.head("Practice · "+s.Rig.Title, s.Title),
			look.NewSoft("Looking back: every suspect fault is put in the place of the true one. This takes a moment; the attempt is kept."),
		}}
	}
	headline, text := view.AttemptVerdict(d.book, *r)
	verdict := look.Stack(8, look.NewText(text), look.NewText(s.Answer))
	body := []fyne.CanvasObject{
		d.head("Practice · "+s.Rig.Title, s.Title),
		look.NewBanner(signalOf(r.Right), headline, verdict),
		d.dangers(t),
		look.NewText(view.CountText(d.book, *r)),
	}
	if r.Count > 0 {
		body = append(body, d.suspects(*r))
	}
	body = append(body, look.Stack(8, look.NewCaption("What was hidden, as the customer brought it"), d.opened(t)))
	if len(t.a.Acts) > 0 {
		done := look.NewValues(actRows(t)...)
		done.Room = 110
		body = append(body, look.Stack(8, look.NewCaption("What you did"), done))
	}
	first := look.NewPrimary("Another scenario", func() { d.Go(Location{Page: pageScenarios}) })
	row := look.Row(12, first)
	if f, ok := circuitFault(t); ok {
		row.Add(look.NewButton("Turn it in the circuit", func() { d.Go(Location{Page: pageCircuit, ID: s.Rig.ID, Query: f.Fault.ID}) }))
	}
	row.Add(look.NewButton("Begin again", func() { d.again(s) }))
	row.Add(look.NewButton("Copy page", d.copyPage))
	row.Add(look.NewButton("Back", d.Back))
	body = append(body, row)
	side := []fyne.CanvasObject{look.Stack(8, look.NewCaption("The customer's story"), d.blocks(s.Body))}
	side = append(side, d.links("Read more", d.related(s.Related))...)
	if d.shell.narrow() {
		return pane{body: append(body, side...), focus: first}
	}
	return pane{body: body, side: side, focus: first}
}

// related turns ids into links.
func (d *Desk) related(ids []string) []view.Link {
	var out []view.Link
	for _, id := range ids {
		switch {
		case d.book.Faults[id] != nil:
			out = append(out, view.Link{Kind: view.KindFault, ID: id, Title: d.book.Faults[id].Title})
		case d.book.Cards[id] != nil:
			out = append(out, view.Link{Kind: view.KindCard, ID: id, Title: d.book.Cards[id].Title})
		case d.book.Cautions[id] != nil:
			out = append(out, view.Link{Kind: view.KindCaution, ID: id, Title: view.Sentence(d.book.Cautions[id].Title)})
		}
	}
	return out
}

// dangers lists what would have hurt.
func (d *Desk) dangers(t *trying) fyne.CanvasObject {
	all := t.review.UnsafeActs
	if len(all) == 0 {
		return look.NewText("Nothing that you did breaks the rules that this page knows: ohms on a live circuit, the ampere jack, a plug under power, the body before it was read.")
	}
	list := look.Stack(10)
	for _, x := range all {
		line := []look.Run{{Text: "Act " + strconv.Itoa(x.Act+1) + ". " + x.Text + " "}}
		target := ""
		switch {
		case d.book.Cautions[x.Card] != nil:
			target = "caution:" + x.Card
		case d.book.Cards[x.Card] != nil:
			target = "card:" + x.Card
		}
		if target != "" {
			line = append(line, look.Run{Text: "Read why", Target: target})
		}
		p := look.NewProse(line...)
		p.OnTapped = d.follow
		list.Add(p)
	}
	return look.NewBanner(faulttree.Danger, "This would have put you at risk", list)
}

// suspects is the table of readings against what each suspect would have shown.
func (d *Desk) suspects(r practice.Review) fyne.CanvasObject {
	short, also := r.Shortlist(mostSuspects)
	cell := func(text string, bold bool) []document.Inline {
		return []document.Inline{document.Text{Value: text, Bold: bold}}
	}
	table := document.Table{Header: [][]document.Inline{cell("Reading", true), cell("You read", true)}, Align: make([]document.Align, 2+len(short))}
	for _, s := range short {
		table.Header = append(table.Header, cell(view.FaultTitle(d.book, s.Fault), true))
	}
	for i, a := range r.Readings {
		row := [][]document.Inline{cell(strconv.Itoa(i+1)+". "+view.Probed(a)+" · "+view.SettingText(a.Setting), false), cell(view.ShownText(a), true)}
		for _, s := range short {
			text := s.Shows[i]
			if !s.Fits[i] {
				text += " ✗"
			}
			row = append(row, cell(text, !s.Fits[i]))
		}
		table.Rows = append(table.Rows, row)
	}
	note := "✗ marks what the meter would have shown clearly otherwise. Each suspect stands at the place and severity that comes nearest."
	if also > 0 {
		note += " Your readings also fit " + count(also, "other fault") + " of the catalogue: they alone do not tell these apart."
	}
	return look.Stack(10, look.NewCaption("Your readings against the suspects"), look.NewBlock(table, d.follow), look.NewSoft(note))
}

// circuitFault is the first fault of the case that a drawing can show.
func circuitFault(t *trying) (rig.Applied, bool) {
	for _, a := range t.c.Faults {
		for _, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind != rig.Misuse {
				return a, true
			}
		}
	}
	return rig.Applied{}, false
}

// opened is the vehicle as it was brought, with everything on it that was
// hidden.
func (d *Desk) opened(t *trying) fyne.CanvasObject {
	v, err := t.c.Begin(d.settings.Meter)
	if err != nil {
		return look.NewText("This can not be drawn. " + view.Sentence(err.Error()))
	}
	pic, err := v.Picture()
	if err != nil {
		return look.NewText("This can not be drawn. " + view.Sentence(err.Error()))
	}
	st := v.State()
	show := figure.OnelineState{
		Live: true, Volts: pic.Volts, Amps: pic.Amps, Tripped: pic.Tripped, Off: st.Off, Loads: st.Loads, Values: t.c.Values,
		Danger: map[string]bool{"body": v.Live(view.SceneBook(d.book, d.settings.Meter).Danger)},
	}
	if a, ok := circuitFault(t); ok {
		show.Fault, show.Severity = &a.Fault.Variants[a.Variant], a.Severity
	}
	drawing := look.NewLiveFigure(figure.Drawing{})
	drawing.OnWidth = func(width float32) {
		if width <= 0 {
			return
		}
		drawing.SetDrawing(figure.NewOneline(figure.OnelinePlan{
			Rig: t.c.Rig, Fault: show.Fault, Loads: t.c.Loads, Width: float64((width - 24) / look.TextScale()),
			Points: func(node string) bool { return slices.Contains(t.scene.Points(), node) },
		}).Draw(show))
	}
	return drawing
}
