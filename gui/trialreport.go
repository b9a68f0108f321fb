package gui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/trial"
	"faultwright/gui/look"
)

// Parts of a report that are long show so many lines at first.
const mostWorst, mostFalse = 8, 5

// inWords is the Query of the page that shows the table in words.
const inWords = "words"

// reportBody is the report of a finished trial.
func (d *Desk) reportBody(at Location, was tried) []fyne.CanvasObject {
	r := was.report
	walks := 0
	for _, c := range r.Cells {
		walks += c.Walks
	}
	title := fmt.Sprintf("What %s rigs of seed %d showed", thousands(r.Rigs), r.Seed)
	d.trials.top = look.NewTitle(title)
	body := []fyne.CanvasObject{d.trials.top, d.falseClears(r, walks), d.figures(was), d.roleLines(r)}
	if len(r.Uncovered) > 0 {
		body = append(body, look.NewCallout(faulttree.Warning, look.NewProse(
			look.Run{Text: "No finding that a walk reached names or declares: ", Style: fyne.TextStyle{Bold: true}},
			look.Run{Text: d.faultNames(r.Uncovered) + "."})))
	}
	t := tabulate(r, at.Kind)
	body = append(body, d.matrixPart(at, t), d.worstPart(at, t), d.findingsPart(at, t, r))
	return body
}

// falseClears is the first thing to look at.
func (d *Desk) falseClears(r *trial.Report, walks int) fyne.CanvasObject {
	if r.FalseAllClears == 0 {
		return look.Stack(4, look.NewStrong(fmt.Sprintf("False all-clears: none in %s walks.", thousands(walks))),
			look.NewSoft("That is not a proof: what one walk in ten thousand does needs more rigs to be seen."))
	}
	rows := look.Stack(0, look.NewText("A walk ended in a finding that clears a place, although a dangerous fault sits there or the body can be live, and the finding does not say so. Each line opens the rig."))
	for i, f := range r.False {
		if i == mostFalse {
			break
		}
		rows.Add(look.NewTrailRow(f.Vehicle+". "+sentenceCase(f.Why)+".", f.Finding, func() { d.openDrawn(r.Tree, f.Finding, f.Draw) }))
	}
	return look.NewBanner(faulttree.Danger, fmt.Sprintf("%s in %s walks", countOf(r.FalseAllClears, "false all-clear"), thousands(walks)), rows)
}

// countOf is count with commas.
func countOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return thousands(n) + " " + what + "s"
}

// figures are the numbers of a report.
func (d *Desk) figures(was tried) fyne.CanvasObject {
	r := was.report
	row := look.Row(10,
		look.NewChip("False all-clears", thousands(r.FalseAllClears)),
		look.NewChip("Live body, but declared", thousands(r.LiveDeclared)),
		look.NewChip("Sound rigs, no fault found", percentOf(r.HealthyRate)),
		look.NewChip("Isolation", percentOf(r.Isolation)))
	if !was.options.WalkOnly {
		row.Add(look.NewChip("Possible", percentOf(r.Possible)))
		row.Add(look.NewChip("Isolation of the possible", percentOf(r.IsolationOfPossible)))
	}
	row.Add(look.NewChip("Measurements, mean", fmt.Sprintf("%.1f", r.MeanMeasurements)))
	if !was.options.WalkOnly {
		optimum := "Optimum"
		if !r.OptimumExact {
			optimum = "Optimum, asking greedily"
		}
		row.Add(look.NewChip(optimum, fmt.Sprintf("%.1f", r.OptimumMeasurements)))
		row.Add(look.NewChip("Entropy bound", fmt.Sprintf("%.1f", r.EntropyBound)))
	}
	if r.Outside > 0 {
		row.Add(look.NewChip("Rigs outside the scope", thousands(r.Outside)))
	}
	text := "Isolation is what a finding earns for the true fault: 1 if it names that alone, a half beside one other, nothing otherwise."
	if was.options.WalkOnly {
		text += " What would be possible was left out of this trial."
	} else {
		text += " Possible is what a reasoner earns who sees every reading that the tree may ask for."
		if !r.OptimumExact {
			text += " The optimum always asks what tells most next, so the true one may be lower."
		}
		text += " No way of asking needs fewer measurements than the entropy bound."
	}
	return look.Stack(10, row, look.NewSoft(text))
}

// roleLines are what differs between who walks.
func (d *Desk) roleLines(r *trial.Report) fyne.CanvasObject {
	rows := look.Stack(4, look.NewCaption("By who walks"))
	for _, s := range r.Roles {
		rows.Add(look.NewText(fmt.Sprintf("%s: isolation %s, %.1f measurements, %s.", sentenceCase(s.Role), percentOf(s.Isolation), s.MeanMeasurements, countOf(s.FalseAllClears, "false all-clear"))))
	}
	return rows
}

// faultName is the title of a fault.
func (d *Desk) faultName(id string) string {
	if id == trial.NoFault {
		return "A sound rig"
	}
	if f := d.book.Faults[id]; f != nil && f.Title != "" {
		return f.Title
	}
	return id
}

func (d *Desk) faultNames(ids []string) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = d.faultName(id)
	}
	return strings.Join(names, "; ")
}

// matrixPart is the picture, or the same in words.
func (d *Desk) matrixPart(at Location, t trialTable) fyne.CanvasObject {
	choose := look.Row(8)
	for _, o := range []struct{ name, role string }{{"Both roles", ""}, {"Owner", faulttree.Owner.String()}, {"Qualified", faulttree.Qualified.String()}} {
		choose.Add(option(o.name, at.Kind == o.role, func() { d.moveTrial(func(l *Location) { l.ID, l.Kind = at.ID, o.role }) }))
	}
	for _, o := range []struct{ name, query string }{{"As a picture", ""}, {"As a table in words", inWords}} {
		choose.Add(option(o.name, at.Query == o.query, func() { d.moveTrial(func(l *Location) { l.ID, l.Query = at.ID, o.query }) }))
	}
	part := look.Stack(12, look.NewTitle("Where the walks end"), choose)
	if at.Query == inWords {
		part.Add(d.matrixInWords(t))
		return part
	}
	part.Add(look.NewSoft("Faults down, findings across by the number they have below, in each cell the percent of the fault's walks; the stronger the shade, the more. " +
		"Outlined: the finding names the fault, or finds nothing on a sound rig. In brackets: it declares that it can not exclude it. " +
		"Orange with ?: a dangerous fault, neither named nor declared. Red with !: a false all-clear. * lies outside the tree's scope. " +
		"A cell opens a rig that was drawn for it; the arrow keys move among them."))
	width := d.window.Canvas().Size().Width
	if !d.shell.narrow() {
		width = min(width-look.RailWidth*look.TextScale()-64, look.PageWidth*look.TextScale())
	} else {
		width -= 32
	}
	for _, band := range t.bands(matrixColumns(width)) {
		m := newTrialMatrix(band, func(c trialCell) string { return band.cellWords(c, d.faultName) })
		m.onOpen = func(c trialCell) { d.openDrawn(at.ID, band.columns[c.column].id, c.draw) }
		m.onFinding = func(c trialColumn) { d.openTried(at, c.id) }
		m.onMove = func() { d.revealCell(m) }
		part.Add(m)
	}
	return part
}

// revealCell scrolls so far that the row with the cursor is in view.
func (d *Desk) revealCell(m *trialMatrix) {
	const above, below = 90, 170 // room for the bar, and for the words of the cell
	top, bottom := m.cursorSpan()
	y := fyne.CurrentApp().Driver().AbsolutePositionForObject(m).Y
	high := d.window.Canvas().Size().Height
	switch {
	case y+top < above:
		d.shell.scrollBy(y + top - above)
	case y+bottom > high-below:
		d.shell.scrollBy(y + bottom - high + below)
	}
}

// matrixInWords is the matrix as a table, a line for each cell.
func (d *Desk) matrixInWords(t trialTable) fyne.CanvasObject {
	cell := func(text string) []document.Inline { return []document.Inline{document.Text{Value: text}} }
	table := document.Table{
		Header: [][]document.Inline{cell("Fault"), cell("Ends at"), cell("Share"), cell("Walks"), cell("How")},
		Align:  []document.Align{document.AlignLeft, document.AlignLeft, document.AlignRight, document.AlignRight, document.AlignLeft},
	}
	for _, c := range t.cells {
		row, column := t.rows[c.row], t.columns[c.column]
		name := d.faultName(row.fault)
		if row.outside {
			name += " (outside the scope)"
		}
		table.Rows = append(table.Rows, [][]document.Inline{cell(name), cell(column.title), cell(percentOf(c.share)), cell(thousands(c.walks)), cell(gradeWords(c.grade))})
	}
	return d.blocks([]document.Block{table})
}

// worstPart lists the worst cells; each opens its rig.
func (d *Desk) worstPart(at Location, t trialTable) fyne.CanvasObject {
	worst := t.worst()
	part := look.Stack(0, look.Pad(0, 0, 8, 0, look.NewTitle("The worst cells")))
	if len(worst) == 0 {
		part.Add(look.NewText("Every walk ended at a finding that names its fault or declares that it can not exclude it."))
		return part
	}
	for i, c := range worst {
		if i == mostWorst && !d.trials.allWorst {
			part.Add(look.Pad(8, 0, 0, 0, look.NewLink(fmt.Sprintf("Show all %d", len(worst)), func() {
				d.trials.allWorst = true
				d.render()
			})))
			break
		}
		column := t.columns[c.column]
		part.Add(look.NewTrailRow(fmt.Sprintf("%s → %d, %s", d.faultName(t.rows[c.row].fault), column.number, column.title),
			fmt.Sprintf("%s, %s", percentOf(c.share), gradeWords(c.grade)), func() { d.openDrawn(at.ID, column.id, c.draw) }))
	}
	return part
}

// findingsPart lists the findings with what each declares wrongly.
func (d *Desk) findingsPart(at Location, t trialTable, r *trial.Report) fyne.CanvasObject {
	part := look.Stack(0, look.Pad(0, 0, 8, 0, look.Stack(4, look.NewTitle("The findings"),
		look.NewSoft("Each opens its ambiguity group, and what it declares beside what the walks show."))))
	for _, c := range t.columns {
		f := findingIn(r, c.id)
		part.Add(look.NewTrailRow(fmt.Sprintf("%d  %s", c.number, c.title), countOf(c.walks, "walk")+declaredWrongly(f), func() { d.openTried(at, c.id) }))
	}
	reached := map[string]bool{}
	for _, c := range t.columns {
		reached[c.id] = true
	}
	for _, f := range r.Findings {
		if !reached[f.ID] {
			part.Add(look.NewTrailRow("–  "+f.Title, "no walk"+declaredWrongly(f), func() { d.openTried(at, f.ID) }))
		}
	}
	return part
}

func declaredWrongly(f trial.Finding) string {
	text := ""
	if n := len(f.Missing); n > 0 {
		text += fmt.Sprintf(", %d missing", n)
	}
	if n := len(f.Extra); n > 0 {
		text += fmt.Sprintf(", %d too many", n)
	}
	return text
}

// openTried shows one finding of a report.
func (d *Desk) openTried(at Location, finding string) {
	d.Go(Location{Page: pageTried, ID: at.ID, Query: finding, Kind: at.Kind})
}
