package gui

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// findingPane shows where a walk ended: what to do first, then what is wrong
// and what shows it.
func (d *Desk) findingPane(f view.Finding) pane {
	w := d.visit.walk()
	p := pane{text: f.Text(), side: append(d.trail(view.Trail(d.book, w)), d.links("Cards", f.Cards)...)}
	if d.visit.reason != "" {
		p.body = append(p.body, look.NewCallout(faulttree.Notice, look.NewText(d.visit.reason)))
	}
	if banner := d.banner(f); banner != nil {
		p.body = append(p.body, banner)
	}
	head := d.head(f.Above, f.Title)
	p.body = append(p.body, head)
	if f.Sure != "" {
		p.body = append(p.body, look.NewText(f.Sure))
	}
	if len(f.Prose) > 0 {
		p.body = append(p.body, d.blocks(f.Prose))
	}

	left := look.Stack(14, look.NewCaption("What shows it"), evidence(f.Shows))
	if len(f.Shows) == 0 {
		left = look.Stack(14, look.NewCaption("What shows it"), look.NewText("No reading was taken."))
	}
	right := look.Stack(14)
	if f.RepairBy != "" {
		right.Add(look.Stack(8, look.NewCaption("Who repairs it"), look.NewText(f.RepairBy)))
	}
	if len(f.Faults) > 0 {
		right.Add(d.links("What it is", f.Faults)[0])
	}
	panels := look.Grid(300, 20, 2, look.NewPanel(left))
	if len(right.Objects) > 0 {
		panels.Add(look.NewPanel(right))
	}
	p.body = append(p.body, panels)
	if len(f.NotExclude) > 0 {
		p.body = append(p.body, look.NewPanel(d.notExcluded(f.NotExclude)))
	}
	if f.Caution.Signal > 0 {
		p.body = append(p.body, d.cautionLine(f.Caution))
	}
	row := look.Row(12)
	p.keys = map[rune]func(){}
	for i, b := range d.findingButtons(f) {
		b.Hint = itoa(i + 1)
		p.keys[rune('1'+i)] = b.OnTapped
		row.Add(b)
	}
	p.body = append(p.body, row)
	return p
}

// banner is the head of a finding: the signal word, then what to do now and
// what not to do.
func (d *Desk) banner(f view.Finding) fyne.CanvasObject {
	if len(f.Do) == 0 && len(f.DoNot) == 0 {
		return nil
	}
	body := look.Stack(10)
	if len(f.Do) > 0 {
		body.Add(numbered(f.Do))
	}
	for _, s := range f.DoNot {
		body.Add(look.NewStrong(s))
	}
	if f.Signal == faulttree.NoSignal {
		return look.NewPanel(look.Stack(10, look.NewCaption("What to do now"), body))
	}
	return look.NewBanner(f.Signal, "What to do now", body)
}

// mostEvidence is how many readings the table shows, the last ones first to
// count; all of them stand in the trail.
const mostEvidence = 7

// evidence is the table of readings: what was read, the value to select, and
// the branch that was taken.
func evidence(all []view.Line) fyne.CanvasObject {
	rows := look.Stack(8)
	if n := len(all) - mostEvidence; n > 0 {
		rows.Add(look.NewSoft("Under “So far” and on the sheet: " + count(n, "earlier reading") + "."))
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

// notExcluded lists the dangerous faults that stay possible, each with the
// test that would exclude it.
func (d *Desk) notExcluded(all []view.NotExcluded) fyne.CanvasObject {
	list := look.Stack(12, look.NewCaption("These readings can not exclude"))
	for _, n := range all {
		p := look.NewProse(
			look.Run{Text: strings.TrimSuffix(n.Fault.Title, ".") + ".", Target: "fault:" + n.Fault.ID},
			look.Run{Text: " Test: " + n.Test})
		p.OnTapped = d.follow
		list.Add(p)
	}
	return list
}

// findingButtons are what can be done at a finding, by the digits 1 to 5.
func (d *Desk) findingButtons(f view.Finding) []*look.Button {
	id := d.visit.id()
	sheet := look.NewPrimary("Make the sheet", func() { d.Go(Location{Page: pageMake, ID: id}) })
	out := []*look.Button{sheet}
	if len(f.Faults) > 0 {
		why := f.Faults[0]
		out = append(out, look.NewButton("Show me why", func() { d.showWhy(why) }))
	}
	if !d.visit.readOnly() {
		out = append(out, look.NewButton("Test after repair", d.retest))
	}
	out = append(out,
		look.NewButton("Back", d.stepBack(d.present())),
		look.NewButton("Start over", func() { d.begin(d.visit.walk().Start()) }))
	return out
}
