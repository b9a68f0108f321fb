package gui

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/trial"
	"faultwright/gui/look"
	"faultwright/gui/view"
)

// jobTrial is the trial under way: there is one at a time.
const jobTrial = "trial"

// trials is what authors have tried on this desk: what is typed, the trial
// under way, and the newest report of each tree. They are kept in memory only.
type trials struct {
	book       *content.Library // what they were made of
	rigs, seed string           // as typed
	walkOnly   bool
	allWorst   bool              // the list of worst cells is shown whole
	top        fyne.CanvasObject // where the report shown begins
	problem    string            // why no trial was made
	running    *runningTrial
	done       map[string]tried // by tree
}

// runningTrial is a trial under way and the widgets that say how far it is.
type runningTrial struct {
	tree        string
	options     trial.Options
	done, total int
	words       *look.Prose
	bar         *widget.ProgressBar
}

// tried is a finished trial.
type tried struct {
	options trial.Options
	report  *trial.Report
	err     error
}

// trialsOf is what was tried of the handbook in use. What was tried of another
// one, such as before it was read again, is dropped.
func (d *Desk) trialsOf() *trials {
	if d.trials.book != d.book {
		d.runner.Cancel(jobTrial)
		rigs, seed := d.trials.rigs, d.trials.seed
		if rigs == "" {
			rigs, seed = "2000", "1"
		}
		d.trials = trials{book: d.book, rigs: rigs, seed: seed, walkOnly: d.trials.walkOnly, done: map[string]tried{}}
	}
	return &d.trials
}

// trialPane sends drawn rigs down a tree and reports where they end. ID is the
// tree, Kind the role whose walks are shown ("" is both), Query "words" for the
// table instead of the picture.
func (d *Desk) trialPane(at Location) pane {
	t := d.trialsOf()
	trees := d.book.Tried()
	body := []fyne.CanvasObject{d.head("For authors", "Trial of a tree")}
	back := look.NewButton("Back", d.Back)
	if len(trees) == 0 {
		return pane{body: append(body, look.NewText("No circuit of this handbook says which trees its readers may stand before, so there is nothing to draw rigs from. A circuit names them under “trees”."), back), focus: back}
	}
	if at.ID == "" {
		at.ID = trees[0]
		if t.running != nil {
			at.ID = t.running.tree
		}
	}
	if d.book.Forest.Trees[at.ID] == nil {
		return d.missingPane("There is no walk “" + at.ID + "” in this handbook.")
	}
	body = append(body, look.NewText("Rigs are drawn by chance, each sound or with one fault, and sent down the tree: the tree asks, the circuit answers. The report says where they end. The same seed draws the same rigs."))
	choose := look.Row(8)
	for _, id := range trees {
		choose.Add(option(d.treeTitle(id), id == at.ID, func() {
			d.moveTrial(func(l *Location) { l.ID = id })
		}))
	}
	body = append(body, look.Stack(8, look.NewCaption("Tree"), choose))
	if t.running != nil {
		p := d.runningPane(at, t.running)
		p.body = append(body, p.body...)
		return p
	}
	form, start := d.trialForm(at)
	body = append(body, form)
	if t.problem != "" {
		body = append(body, look.NewCallout(faulttree.Notice, look.NewText(t.problem)))
	}
	p := pane{focus: start}
	switch was, ok := t.done[at.ID]; {
	case ok && was.err != nil:
		body = append(body, look.NewCallout(faulttree.Notice, look.NewText("The trial could not be made. "+view.Sentence(was.err.Error())+" Reports of other trees are kept.")))
	case ok:
		body = append(body, d.reportBody(at, was)...)
	default:
		body = append(body, look.NewSoft("This tree has not been tried yet since the handbook was read."))
	}
	p.body = append(body, look.Row(12, look.NewButton("Copy page", d.copyPage), look.NewButton("Back", d.Back)))
	return p
}

// moveTrial changes what the page shows without a place of its own in the
// history.
func (d *Desk) moveTrial(change func(*Location)) {
	at := d.Here()
	change(&at)
	d.history.Replace(at)
	d.render()
}

// trialForm asks how much is tried.
func (d *Desk) trialForm(at Location) (fyne.CanvasObject, fyne.Focusable) {
	t := &d.trials
	start := look.NewPrimary("Run the trial", func() { d.startTrial(at.ID) })
	entry := func(hint string, to *string) *look.Field {
		f := d.field(hint)
		f.SetText(*to)
		f.OnChanged = func(text string) { *to = text }
		f.OnSubmitted = func(string) { d.startTrial(at.ID) }
		return f
	}
	how := look.Row(8)
	for _, o := range []struct {
		name string
		only bool
	}{{"Walks, and a reasoner beside them", false}, {"Walks only, quicker", true}} {
		how.Add(option(o.name, t.walkOnly == o.only, func() { t.walkOnly = o.only; d.render() }))
	}
	fields := look.Grid(180, 12, 2,
		look.Stack(4, look.NewSoft("Number of rigs"), entry("2000", &t.rigs)),
		look.Stack(4, look.NewSoft("Seed"), entry("1", &t.seed)))
	return look.Stack(12, look.MaxWidth(480, false, fields), how, look.Row(12, start)), start
}

// wholeNumber reads a number as people write it: 20000, 20,000 or 20 000.
func wholeNumber(text string) (uint64, error) {
	return strconv.ParseUint(strings.NewReplacer(",", "", " ", "", "\u00a0", "").Replace(text), 10, 63)
}

// startTrial begins a trial in the background; one under way is stopped.
func (d *Desk) startTrial(tree string) {
	t := d.trialsOf()
	rigs, err := wholeNumber(t.rigs)
	seed, errSeed := wholeNumber(t.seed)
	switch {
	case err != nil || rigs < 1 || rigs > 1<<31-1:
		t.problem = "The number of rigs is “" + t.rigs + "”; expected a whole number such as 2000."
	case errSeed != nil:
		t.problem = "The seed is “" + t.seed + "”; expected a whole number such as 7."
	default:
		t.problem = ""
	}
	if t.problem != "" {
		d.render()
		return
	}
	o := trial.Options{Rigs: int(rigs), Seed: seed, WalkOnly: t.walkOnly}
	run := &runningTrial{tree: tree, options: o, total: o.Rigs, words: look.NewText(""), bar: widget.NewProgressBar()}
	run.bar.TextFormatter = func() string { return "" }
	run.tell(0, o.Rigs)
	t.running = run
	book := d.book.Trial()
	d.render()
	RunTelling(&d.runner, jobTrial, func(ctx context.Context, tell func(done, total int)) tried {
		told := o
		told.Progress = tell
		r, err := trial.Run(ctx, book, tree, told)
		return tried{o, r, err}
	}, run.tell, func(result tried) {
		t.running = nil
		t.done[tree] = result
		if d.Here().Page == pageTrial {
			d.showReport(tree)
		}
	})
}

// showReport shows the report that has just come in, from its beginning.
func (d *Desk) showReport(tree string) {
	t := &d.trials
	t.top, t.allWorst = nil, false
	d.moveTrial(func(l *Location) { l.ID = tree })
	if t.top != nil {
		d.shell.scrollTo(t.top.Position().Y) // it stands on the page itself; what is not painted yet has no place in the window
	}
}

// tell shows how far the trial is.
func (r *runningTrial) tell(done, total int) {
	r.done, r.total = done, total
	text := fmt.Sprintf("%s of %s rigs have walked the tree.", thousands(done), thousands(total))
	if done >= total && !r.options.WalkOnly {
		text = "All rigs have walked the tree. A reasoner who sees every reading now learns from them, which takes longer than the walks."
	}
	r.bar.Max = float64(max(total, 1))
	r.bar.SetValue(float64(done))
	if r.words.Plain() != text {
		r.words.SetText(text)
	}
}

// stopTrial ends the trial under way; nothing of it is kept.
func (d *Desk) stopTrial() {
	d.runner.Cancel(jobTrial)
	d.trials.running = nil
	d.trials.problem = "The trial was stopped. Nothing of it is kept; earlier reports are."
	d.render()
}

// runningPane says how far the trial under way is.
func (d *Desk) runningPane(at Location, r *runningTrial) pane {
	stop := look.NewButton("Stop the trial", d.stopTrial)
	what := fmt.Sprintf("Trying “%s” with %s rigs, seed %d", d.treeTitle(r.tree), thousands(r.options.Rigs), r.options.Seed)
	return pane{body: []fyne.CanvasObject{
		look.NewTitle(what), look.MaxWidth(640, false, r.bar), r.words,
		look.Row(12, stop, look.NewButton("Back", d.Back)),
		look.NewSoft("The handbook can be read meanwhile; the report waits here."),
	}, focus: stop}
}

// authorLine leads from the handbook to what authors need.
func (d *Desk) authorLine() fyne.CanvasObject {
	line := d.linkLine("For authors: ", "Try the trees on drawn rigs", Location{Page: pageTrial})
	line.Type, line.Ink = look.SizeLead, look.ColorSoftInk
	return line
}
