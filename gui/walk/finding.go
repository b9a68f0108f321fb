package walk

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// findingPage shows where a walk ended: what to do first, then what is wrong
// and what shows it.
func (a *Area) findingPage(v *session.Visit, f view.Finding) frame.Page {
	parting := a.parting(v)
	p := a.found(f.After(parting), append(readOnlyNotice(v), partingLine(parting)...))
	p.Side = a.beside(v, f.Cards)
	if seen := view.DamageSeen(a.session.Book(), v.Walk()); seen != "" {
		p.Body = append([]fyne.CanvasObject{look.NewCallout(faulttree.Danger, look.NewStrong(seen))}, p.Body...)
	}
	for _, g := range view.GivenOf(a.session.Book(), v.Walk()) { // the finding itself says what hurts
		if g.Walk.ID != "" {
			p.Body = slices.Insert(p.Body, len(readOnlyNotice(v))+len(partingLine(parting))+1, fyne.CanvasObject(parts.GivenLink(a.window, g))) // below what to do
		}
	}
	row := look.Row(12)
	for i, b := range a.findingButtons(v, f) {
		b.Hint = strconv.Itoa(i + 1)
		row.Add(b)
	}
	p.Body = append(p.Body, row)
	return p
}

// foundPage shows what was found before the test after repair.
func (a *Area) foundPage(at place.Location, v *session.Visit) frame.Page {
	f, ok := v.FoundIn(a.session.Book(), at.Step)
	if !ok {
		return a.window.Missing("There is no such finding in this visit.")
	}
	p := a.found(f, []fyne.CanvasObject{look.NewCallout(faulttree.Notice,
		parts.LinkLine(a.window, "This was found before the test after the repair. ", "Go on with the test", v.Present()))})
	p.Side = parts.Links(a.window, "Cards", f.Cards)
	p.Body = append(p.Body, look.Row(12,
		look.NewPrimary("Make the sheet of this finding", func() { a.window.Go(place.SheetBefore(at.ID, at.Step)) }),
		look.NewButton("Back", a.window.Back)))
	return p
}

// foundBefore leads to what was found before the test after repair; nil where
// there is no such test.
func (a *Area) foundBefore(v *session.Visit) fyne.CanvasObject {
	round, ok := v.FoundBefore(a.session.Book())
	if !ok {
		return nil
	}
	f, _ := v.FoundIn(a.session.Book(), round)
	return look.Stack(8, look.NewCaption("Found before the repair"),
		look.NewLink(f.Headline(), func() { a.window.Go(place.Found(v.ID(), round)) }))
}

// found is the body of a finding, under what stands above it.
func (a *Area) found(f view.Finding, above []fyne.CanvasObject) frame.Page {
	p := frame.Page{Text: f.Text(), Body: above, Typed: view.AtFinding}
	if banner := banner(f); banner != nil {
		p.Body = append(p.Body, banner)
	}
	p.Body = append(p.Body, parts.Head(a.window, f.Above, f.Title))
	for _, text := range []string{f.Sure, f.Clears, f.Stop} {
		if text != "" {
			p.Body = append(p.Body, look.NewText(text))
		}
	}
	if len(f.Prose) > 0 {
		p.Body = append(p.Body, parts.Blocks(a.window, f.Prose))
	}
	left := look.Stack(14, look.NewCaption(view.ShowsHeading), linesTable(f.Shows))
	if len(f.Shows) == 0 {
		left = look.Stack(14, look.NewCaption(view.ShowsHeading), look.NewText("No reading was taken."))
	}
	right := look.Stack(14)
	if f.RepairBy != "" {
		right.Add(look.Stack(8, look.NewCaption(view.RepairHeading), look.NewText(f.RepairBy)))
	}
	if len(f.Faults) > 0 {
		right.Add(parts.Links(a.window, f.FaultsHeading(), f.Faults)[0])
	}
	panels := look.Grid(300, 20, 2, look.NewPanel(left))
	if len(right.Objects) > 0 {
		panels.Add(look.NewPanel(right))
	}
	p.Body = append(p.Body, panels)
	if len(f.NotExclude) > 0 {
		p.Body = append(p.Body, look.NewPanel(a.notExcluded(f)))
	}
	if f.Caution.Signal > 0 {
		p.Body = append(p.Body, parts.CautionLine(a.window, f.Caution, a.folds(place.Document(view.KindStep, f.Ref.String()))))
	}
	return p
}

// banner is the head of a finding: the signal word, then what to do now and
// what not to do.
func banner(f view.Finding) fyne.CanvasObject {
	if len(f.Do) == 0 && len(f.DoNot) == 0 {
		return nil
	}
	body := look.Stack(10)
	if len(f.Do) > 0 {
		body.Add(look.Numbered(f.Do...))
	}
	for _, s := range f.DoNot {
		body.Add(look.NewStrong(s))
	}
	if f.Signal == faulttree.NoSignal {
		return look.NewPanel(look.Stack(10, look.NewCaption(view.DoHeading), body))
	}
	return look.NewBanner(f.Signal, view.DoHeading, body)
}

// mostLines is how many readings the table shows, the last ones first to
// count; all of them stand in the trail.
const mostLines = 7

// linesTable is the table of readings: what was read, the value to select, and
// the branch that was taken.
func linesTable(all []view.Line) fyne.CanvasObject {
	rows := look.Stack(8)
	if n := len(all) - mostLines; n > 0 {
		rows.Add(look.NewSoft("Under “So far” and on the sheet: " + view.Count(view.TakenAmong(all[:n]), "earlier reading") + "."))
		all = all[n:]
	}
	for _, l := range all {
		title := look.NewText(l.Title)
		title.Type = look.SizeLead
		right := look.Stack(0, look.NewValue(l.Shown()))
		if words := l.Meaning(); words != "" {
			right.Add(look.NewSoft(words))
		}
		rows.Add(look.Beside(150, 110, 12, title, right))
		rows.Add(look.NewLine())
	}
	return rows
}

// notExcluded lists the tests that somebody would have to make, each with the
// dangerous faults that stay possible until then. Those beyond the first few
// unfold.
func (a *Area) notExcluded(f view.Finding) fyne.CanvasObject {
	const all = "dangers"
	folds := a.folds(place.Document(view.KindStep, f.Ref.String()))
	list := look.Stack(12, look.NewCaption(view.NotExcludeHeading))
	first, more, _ := f.Foremost()
	if folds.Open(all) {
		first, more = f.NotExclude, ""
	}
	for _, n := range first {
		runs := []look.Run{{Text: n.Lead()}}
		for i, fault := range n.Faults {
			if i > 0 {
				runs = append(runs, look.Run{Text: "; "})
			}
			runs = append(runs, look.Run{Text: fault.Title, Target: "fault:" + fault.ID})
		}
		p := look.NewProse(append(runs, look.Run{Text: "."})...)
		p.OnTapped = a.window.Follow
		list.Add(p)
	}
	if more != "" {
		list.Add(look.NewLink(more, func() { folds.Unfold(all) }))
	}
	return list
}

// findingButtons are what can be done at a finding, by the digits 1 to 5.
func (a *Area) findingButtons(v *session.Visit, f view.Finding) []*look.Button {
	id := v.ID()
	out := []*look.Button{look.NewPrimary("Make the sheet", func() { a.window.Go(place.Sheet(id)) })}
	if v.Practice() {
		out = nil
	}
	if len(f.Faults) > 0 {
		why := f.Faults[0]
		out = append(out, look.NewButton("Show me why", func() { a.showWhy(id, why) }))
	}
	if !v.ReadOnly() {
		out = append(out, look.NewButton("Test after repair", func() { a.goOn(a.session.Retest(id)) }))
	}
	if v.Practice() {
		return append(out, look.NewButton("Back", a.stepBack(v.Present())))
	}
	return append(out,
		look.NewButton("Back", a.stepBack(v.Present())),
		look.NewButton("Start over", func() { a.begin(v.Walk().Start()) }))
}

// showWhy opens the circuit with a fault in force and this visit's readings
// beside it, or the fault's card where no circuit can have it.
func (a *Area) showWhy(visit string, fault view.Link) {
	if view.Drawn(a.session.Book(), fault.ID) {
		a.window.Go(place.Circuit("", fault.ID, visit))
		return
	}
	a.window.Go(place.Link(fault))
}
