package gui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/trial"
	"faultwright/gui/look"
)

// tryTree opens the page of a tree's trial and tries it.
func (d *Desk) tryTree(t *testing.T, tree, rigs, seed string, walkOnly bool) {
	t.Helper()
	if *pictures == "" {
		rigs = "150" // the same layout in less time
	}
	d.trialsOf().rigs, d.trials.seed, d.trials.walkOnly = rigs, seed, walkOnly
	d.Go(Location{Page: pageTrial, ID: tree})
	d.press(t, "Run the trial")
	if was := d.trials.done[tree]; was.err != nil {
		t.Fatal(was.err)
	}
}

// matrixOf is the first matrix of the page.
func (d *Desk) matrixOf(t *testing.T) *trialMatrix {
	t.Helper()
	var found *trialMatrix
	for _, o := range d.pane.body {
		look.Walk(o, func(o fyne.CanvasObject) bool {
			if m, ok := o.(*trialMatrix); ok && found == nil {
				found = m
			}
			return found == nil
		})
	}
	if found == nil {
		t.Fatal("the page has no matrix")
	}
	return found
}

// toMatrix scrolls to the matrix and gives it the keyboard.
func (d *Desk) toMatrix(t *testing.T) *trialMatrix {
	t.Helper()
	m := d.matrixOf(t)
	d.shell.scrollBy(fyne.CurrentApp().Driver().AbsolutePositionForObject(m).Y - 120)
	d.window.Canvas().Focus(m)
	return m
}

// findingWith is the first finding with something missing, or any.
func findingWith(r *trial.Report) string {
	for _, f := range r.Findings {
		if len(f.Missing) > 0 {
			return f.ID
		}
	}
	return r.Findings[0].ID
}

// careless makes a report like that of a tree that forgets what it can not
// exclude: declared faults at a finding that clears are counted as false.
func careless(t *testing.T, r *trial.Report) {
	t.Helper()
	for i, c := range r.Cells {
		f := findingIn(r, c.Finding)
		if len(f.Clears) == 0 || c.Outside || !slices.Contains(f.Declared, c.Fault) {
			continue
		}
		r.Cells[i].False = c.Walks
		r.FalseAllClears += c.Walks
		r.False = append(r.False, trial.False{Draw: c.Draw, Role: c.Role, Finding: c.Finding, Why: "a dangerous fault sits in a place it clears", Vehicle: c.Fault})
	}
	if r.FalseAllClears == 0 {
		t.Fatal("the tree declares nothing at the findings that clear")
	}
}

// trialScenes are views of a trial worth a picture.
var trialScenes = []shot{
	{"01-before", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageTrial}) }},
	{"02-under-way", func(t *testing.T, d *Desk) {
		d.Go(Location{Page: pageTrial})
		run := &runningTrial{tree: "body-voltage", options: trial.Options{Rigs: 20000, Seed: 7}, words: look.NewText(""), bar: widget.NewProgressBar()}
		run.bar.TextFormatter = func() string { return "" }
		run.tell(7250, 20000)
		d.trials.running = run
		d.render()
	}},
	{"03-report", func(t *testing.T, d *Desk) { d.tryTree(t, "body-voltage", "1000", "7", *pictures == "") }},
	{"04-matrix", func(t *testing.T, d *Desk) { d.tryTree(t, "body-voltage", "1000", "7", true); d.toMatrix(t) }},
	{"05-cursor", func(t *testing.T, d *Desk) {
		d.tryTree(t, "pedestal-50a", "1000", "7", true)
		d.toMatrix(t)
		for range 12 {
			d.key(fyne.KeyDown)
		}
	}},
	{"06-words", func(t *testing.T, d *Desk) {
		d.tryTree(t, "pedestal-30a", "600", "7", true)
		d.press(t, "As a table in words")
	}},
	{"07-worst", func(t *testing.T, d *Desk) {
		d.tryTree(t, "body-voltage", "1000", "7", true)
		m := d.matrixOf(t)
		d.shell.scrollBy(fyne.CurrentApp().Driver().AbsolutePositionForObject(m).Y + m.Size().Height - 120)
	}},
	{"08-finding", func(t *testing.T, d *Desk) {
		d.tryTree(t, "body-voltage", "1000", "7", true)
		d.openTried(d.Here(), findingWith(d.trials.done["body-voltage"].report))
	}},
	{"09-gaps", func(t *testing.T, d *Desk) {
		d.tryTree(t, "body-voltage", "1000", "7", true)
		d.openTried(d.Here(), findingWith(d.trials.done["body-voltage"].report))
		d.shell.scrollBy(700)
	}},
	{"10-drawn", func(t *testing.T, d *Desk) {
		d.tryTree(t, "body-voltage", "1000", "7", true)
		d.toMatrix(t)
		for range 6 {
			d.key(fyne.KeyDown)
		}
		d.key(fyne.KeyReturn)
	}},
	{"11-walk", func(t *testing.T, d *Desk) {
		d.tryTree(t, "body-voltage", "1000", "7", true)
		d.toMatrix(t)
		d.key(fyne.KeyDown)
		d.key(fyne.KeyReturn)
		d.shell.scrollTo(1e6)
	}},
	{"12-false", func(t *testing.T, d *Desk) {
		d.tryTree(t, "pedestal-30a", "1000", "7", true)
		careless(t, d.trials.done["pedestal-30a"].report)
		d.showReport("pedestal-30a")
	}},
	{"13-false-matrix", func(t *testing.T, d *Desk) {
		d.tryTree(t, "pedestal-30a", "1000", "7", true)
		careless(t, d.trials.done["pedestal-30a"].report)
		d.showReport("pedestal-30a")
		d.toMatrix(t)
	}},
}

// Every view of a trial draws at every size.
func TestTrialPictures(t *testing.T) {
	drawShipped(t, "trial", trialScenes, []showing{{"light", look.Light, wide}, {"dark", look.Dark, wide}, {"narrow", look.Light, small}, {"contrast", look.HighContrast, wide}})
}
