package practice

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/rig"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// lookBack is a scenario after the fault was named: nothing is hidden any more.
func (a *Area) lookBack(t *trying) frame.Page {
	s := t.scenario
	body := []fyne.CanvasObject{parts.Head(a.window, "Practice · "+s.Rig.Title, s.Title), a.verdict(t)}
	if !t.marking {
		body = append(body, a.dangers(t))
	}
	if t.marks != nil {
		body = append(body, a.points(*t.marks))
	}
	if x := t.compared; x != nil && len(x.Rows) > 0 {
		body = append(body, a.compared(*x))
	}
	body = append(body, look.Stack(8, look.NewCaption("What was hidden, as the customer brought it"), look.Numbered(scenes.HiddenWords(a.session.Book(), t.c)...), a.opened(t)))
	if len(t.attempt().Acts) > 0 {
		done := look.Stack(0)
		said := func(act int) {
			for _, s := range scenes.SaidBefore(a.session.Book(), t.attempt(), act) {
				done.Add(look.Pad(8, 0, 8, 0, look.NewSoft(strings.TrimSpace(s.What+" "+s.More))))
			}
		}
		for i, r := range actRows(t) {
			said(i)
			done.Add(look.NewTrailRow(r.Name, r.Text, nil))
		}
		said(len(t.attempt().Acts))
		body = append(body, look.Stack(8, look.NewCaption("What you did"), done))
	}
	onward := "Another scenario"
	if t.task != nil {
		onward = "The assignment"
	}
	row := look.Row(12, look.NewPrimary(onward, a.others(t).OnTapped))
	if _, ok := circuitFault(t); ok && t.task == nil { // the circuit knows no variants
		row.Add(look.NewButton("Turn it in the circuit", func() { a.window.Go(place.Circuit("", "", s.ID)) }))
	}
	row.Add(look.NewButton("Begin again", func() { a.again(t) }))
	row.Add(look.NewButton("Copy page", a.window.CopyPage))
	row.Add(look.NewButton("Back", a.window.Back))
	body = append(body, row)
	side := []fyne.CanvasObject{look.Stack(8, look.NewCaption("The customer's story"), parts.Blocks(a.window, s.Body))}
	side = append(side, parts.Links(a.window, "Read more", a.related(s.Related))...)
	if a.window.Narrow() {
		return frame.Page{Body: append(body, side...)}
	}
	return frame.Page{Body: body, Side: side}
}

// related turns ids of cards, cautions and faults into links.
func (a *Area) related(ids []string) []view.Link {
	var out []view.Link
	for _, id := range ids {
		l, ok := view.LinkTo(a.session.Book(), id)
		if l.Kind == view.KindCaution {
			l.Title = view.Sentence(l.Title)
		}
		if ok && l.Kind != view.KindTree { // a walk is nothing to read
			out = append(out, l)
		}
	}
	return out
}

// verdict is how it went in a word, and the answer.
func (a *Area) verdict(t *trying) fyne.CanvasObject {
	if t.marking {
		return look.NewBanner(faulttree.Notice, "Your marks are being worked out", look.Stack(8,
			look.NewSoft("Every reading is weighed anew, which takes a moment. What was hidden stands below."), look.NewText(t.scenario.Answer)))
	}
	if t.marks == nil {
		headline, text := scenes.Concluded(a.session.Book(), t.c, t.attempt())
		signal := faulttree.Caution
		if slices.Contains(t.c.Truth(), t.attempt().Named()) {
			signal = faulttree.Notice
		}
		return look.NewBanner(signal, headline, look.Stack(8, look.NewText(text), look.NewText(t.scenario.Answer)))
	}
	return look.NewBanner(scenes.MarkSignal(*t.marks), scenes.MarkHeadline(*t.marks),
		look.Stack(8, look.NewStrong(scenes.MarkFound(*t.marks)), look.NewText(t.scenario.Answer)))
}

// dangers lists what would have hurt, each time it was done.
func (a *Area) dangers(t *trying) fyne.CanvasObject {
	if t.marks == nil {
		return look.NewText("This handbook has no rubric, so that unsafe acts are not marked.")
	}
	if len(t.marks.Caps) == 0 {
		return look.NewText("Nothing that you did is among the unsafe acts that are marked.")
	}
	list := look.Stack(10)
	for _, x := range t.marks.Caps {
		line := []look.Run{{Text: x.Text + " With this an attempt gets at most " + strconv.Itoa(x.Most) + ". "}}
		if target := a.cardTarget(x.Card); target != "" {
			line = append(line, look.Run{Text: "Read why", Target: target})
		}
		p := look.NewProse(line...)
		p.OnTapped = a.window.Follow
		list.Add(p)
	}
	return look.NewBanner(faulttree.Danger, "This would have put you, or others, at risk", list)
}

// cardTarget is where a card or caution is read; "" where there is none.
func (a *Area) cardTarget(id string) string {
	switch {
	case a.session.Book().Cautions[id] != nil:
		return "caution:" + id
	case a.session.Book().Cards[id] != nil:
		return "card:" + id
	}
	return ""
}

// points is the table of what was done well, with the reason of each.
func (a *Area) points(m mark.Marks) fyne.CanvasObject {
	cell := func(text string, bold bool) []document.Inline {
		return []document.Inline{document.Text{Value: text, Bold: bold}}
	}
	table := document.Table{Header: [][]document.Inline{cell("What is marked", true), cell("Points", true), cell("Why", true)}, Align: make([]document.Align, 3)}
	for _, p := range m.Parts {
		table.Rows = append(table.Rows, [][]document.Inline{cell(p.Title, false), cell(strconv.Itoa(p.Points)+"\u00a0of\u00a0"+strconv.Itoa(p.Of), true), cell(p.Reason, false)})
	}
	out := look.Stack(10, look.NewCaption("Your marks, each with its reason"), look.NewBlock(table, a.window.Follow))
	if bound := scenes.MarkBound(m); bound != "" {
		out.Add(look.NewSoft(bound))
	}
	return out
}

// compared is the table of readings beside what each suspect would have shown.
func (a *Area) compared(x scenes.Compared) fyne.CanvasObject {
	cell := func(text string, bold bool) []document.Inline {
		return []document.Inline{document.Text{Value: text, Bold: bold}}
	}
	table := document.Table{Header: [][]document.Inline{cell("Reading", true), cell("You read", true)}, Align: make([]document.Align, 2+len(x.Suspects))}
	for _, title := range x.Suspects {
		table.Header = append(table.Header, cell(title, true))
	}
	for _, r := range x.Rows {
		row := [][]document.Inline{cell(r.Name, false), cell(r.Read, true)}
		for _, s := range r.Shows {
			text := s.Text
			if s.Off {
				text += " ✗"
			}
			row = append(row, cell(text, s.Off))
		}
		table.Rows = append(table.Rows, row)
	}
	return look.Stack(10, look.NewCaption("Your readings beside the suspects"), look.NewBlock(table, a.window.Follow), look.NewSoft(x.Note))
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
func (a *Area) opened(t *trying) fyne.CanvasObject {
	v, err := t.c.Begin(a.session.Settings().Meter)
	if err != nil {
		return look.NewText("This cannot be drawn. " + view.Sentence(err.Error()))
	}
	pic, err := v.Picture()
	if err != nil {
		return look.NewText("This cannot be drawn. " + view.Sentence(err.Error()))
	}
	st := v.State()
	show := figure.OnelineState{Live: true, Volts: pic.Volts, Amps: pic.Amps, Tripped: pic.Tripped, Off: st.Off, Loads: st.Loads, Values: t.c.Values}
	var why []string
	if !t.c.Direct() {
		show.Danger, why = scenes.Book(a.session.Book(), a.session.Settings().Meter).Dangers(pic.Volts)
	}
	show.Fault = scenes.HiddenEdits(t.c)
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
	if len(why) == 0 {
		return drawing
	}
	return look.Stack(10, look.NewCallout(faulttree.Danger, look.NewStrong(strings.Join(why, " "))), drawing)
}
