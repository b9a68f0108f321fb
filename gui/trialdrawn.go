package gui

import (
	"fmt"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/faulttree/trial"
	"faultwright/gui/look"
	"faultwright/gui/view"
)

// openDrawn shows a rig that a trial has drawn.
func (d *Desk) openDrawn(tree, finding string, draw int) {
	d.Go(Location{Page: pageDrawn, ID: tree, Query: finding, Step: draw})
}

// drawnPane is the circuit view with a rig as a trial has drawn it: its
// numbers, its fault in its place at its severity, its loads. Under it stands
// the walk that ended at the finding. ID is the tree, Query the finding, Step
// the number of the draw.
func (d *Desk) drawnPane(at Location) pane {
	if d.book.Rigs[at.ID] != nil { // another rig or fault was chosen above the circuit
		at.Page, at.Step = pageCircuit, 0
		d.history.Replace(at)
		return d.circuitPane(at)
	}
	was, ok := d.trialsOf().done[at.ID]
	if !ok || was.report == nil {
		return d.noReport(at)
	}
	seen, err := trial.See(d.book.Trial(), at.ID, was.options, at.Step, at.Query)
	if err != nil {
		return d.missingPane("This rig can not be drawn again. " + view.Sentence(err.Error()))
	}
	if err := d.putDrawn(at, seen); err != nil {
		return d.missingPane("This circuit can not be computed. " + view.Sentence(err.Error()))
	}
	p := newCircuit(d).pane()
	f := findingIn(was.report, at.Query)
	what := look.NewProse(
		look.Run{Text: fmt.Sprintf("Rig %s of the trial of “%s”: ", thousands(at.Step), d.treeTitle(at.ID)), Style: fyne.TextStyle{Bold: true}},
		look.Run{Text: d.vehicleWords(seen) + ". Its walk ended at “"},
		look.Run{Text: f.Title, Target: "finding"}, look.Run{Text: "”."})
	what.OnTapped = func(string) { d.openTried(at, at.Query) }
	note := look.Stack(6, what)
	if len(seen.Setup.Faults) > 0 && d.bench.scene.Fault() == nil {
		note.Add(look.NewSoft("This fault misleads the meter and leaves the circuit as it is."))
	}
	p.body = append([]fyne.CanvasObject{look.NewCallout(faulttree.Notice, note)}, p.body...)
	p.body = append(p.body[:len(p.body)-1], look.Stack(10, look.NewCaption("The walk of this rig"), d.walkedRows(seen.Walks)), p.body[len(p.body)-1])
	return p
}

// vehicleWords says what a drawn rig is.
func (d *Desk) vehicleWords(seen trial.Seen) string {
	text := seen.Rig.Title
	if text == "" {
		text = seen.Rig.ID
	}
	for _, a := range seen.Setup.Faults {
		text += ", with: " + d.faultName(a.Fault.ID)
		v := a.Fault.Variants[a.Variant]
		if v.Text != "" {
			text += ", " + v.Text
		}
		if p := a.Fault.Severity; p != nil {
			text += ", " + scene.Format(a.Severity, p.Unit)
		}
	}
	if len(seen.Setup.Faults) == 0 {
		text += ", sound"
	}
	return text
}

// putDrawn puts the rig on the bench, unless it lies there already.
func (d *Desk) putDrawn(at Location, seen trial.Seen) error {
	at.Offset = 0
	if b := &d.bench; b.book == d.book && b.at == at && b.scene != nil {
		return nil
	}
	r := d.book.Rigs[seen.Rig.ID]
	if r == nil {
		return fmt.Errorf("there is no rig %q", seen.Rig.ID)
	}
	s, err := scene.New(r, view.SceneBook(d.book, d.settings.Meter))
	if err != nil {
		return err
	}
	if err := s.Put(rig.Setup{Values: seen.Setup.Values, Faults: seen.Setup.Faults}); err != nil {
		return err
	}
	d.bench = bench{book: d.book, at: at, scene: s}
	return nil
}

// walkedRows is the walk of a rig, a line for each step; pressing one opens the
// step.
func (d *Desk) walkedRows(walk []faulttree.Entry) fyne.CanvasObject {
	rows := look.Stack(0)
	for _, e := range walk {
		step := d.book.Forest.Step(e.Step)
		if step == nil {
			continue
		}
		answer := ""
		switch step.Kind {
		case faulttree.KindObserve:
			answer = e.Answer.Choice
			for _, c := range step.Choices {
				if c.ID == e.Answer.Choice {
					answer = c.Text
				}
			}
		case faulttree.KindMeasure:
			for i, r := range e.Answer.Readings {
				if i > 0 {
					answer += ", "
				}
				answer += r.Show(step.Measure[i].Quantity.Unit)
			}
		default:
			answer = "done"
		}
		rows.Add(look.NewTrailRow(step.Title, answer, func() { d.Go(Location{Page: pageStep, ID: e.Step.String()}) }))
		if again := view.WeighedText(d.book, e); again != "" {
			rows.Add(look.Pad(2, 0, 8, 0, look.NewSoft(again)))
		}
	}
	return rows
}
