package practice

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// help is what the program proposes to a learner.
type help struct {
	step     scenes.Step
	ready    bool   // step is there
	problem  string // why it is not
	expects  int    // chosen in its list, from 1
	tells    int    // the same
	foreseen string // what became of the last expectation
	hint     string // the last one that was asked for
}

const jobStep = "step"

// work works out what to read next, away from the window's thread, and then calls
// done.
func (a *Area) work(t *trying, done func(scenes.Step, error)) {
	lib, c, attempt, by := a.session.Book(), t.c, t.attempt(), a.markBook(t)
	frame.Try(a.window.Runner(), jobStep+t.key(), func(ctx context.Context) (scenes.Step, error) {
		return scenes.NextStep(ctx, lib, c, attempt, by)
	}, done)
}

// whyNoStep words why nothing can be proposed.
func whyNoStep(err error) string {
	if errors.Is(err, drawn.ErrNoRig) {
		return "No vehicle of the handbook is like this one, so nothing can be proposed."
	}
	return "Nothing can be proposed. " + view.Sentence(err.Error())
}

// walkBeside begins the walk of the customer's complaint beside the attempt, or goes
// on with it.
func (a *Area) walkBeside(t *trying) {
	if all := t.attempt().Beside; len(all) > 0 {
		if v := a.session.UnderWay(all[len(all)-1]); v != nil {
			a.window.Go(v.Present())
			return
		}
	}
	out, err := a.session.BeginBeside(t.scenario.Tree, t.rec.ID())
	if err == nil {
		err = t.rec.Include(out.To.ID)
	}
	if err != nil {
		a.window.Say("The walk could not be begun. " + view.Sentence(err.Error()))
		return
	}
	a.window.Go(out.To, out.Said)
}

// hint tells what to read next, with the reason, and has it on record. It stays until
// another is asked for, so that no act moves what is pressed next.
func (a *Area) hint(t *trying) {
	show := func(text string) {
		t.help.hint = text
		a.showHelp(t)
	}
	show("Working out what would tell most for its effort and exposure.")
	a.work(t, func(s scenes.Step, err error) {
		if err != nil {
			show(whyNoStep(err))
			return
		}
		if err := t.rec.Hint(s.Text(), a.session.Since(t.attempt().Started)); err != nil {
			show("The hint could not be taken down. " + view.Sentence(err.Error()))
			return
		}
		show("Hint: " + s.Text() + " That makes " + view.Count(len(t.attempt().Hints), "hint") + ".")
	})
}

// propose works out the next step where each is proposed. After anything but a reading
// the step stands meanwhile, and what is foreseen of it stays if it is still the next.
func (a *Area) propose(t *trying, stays bool) {
	if t.attempt().Level != practice.Worked || t.attempt().Ended() {
		return
	}
	h := &t.help
	if stays = stays && h.ready && h.problem == ""; !stays {
		*h = help{foreseen: h.foreseen}
	}
	a.work(t, func(s scenes.Step, err error) {
		if !stays || s.What != h.step.What || !slices.Equal(s.Expects, h.step.Expects) || !slices.Equal(s.Tells, h.step.Tells) {
			h.expects, h.tells = 0, 0
		}
		h.step, h.ready, h.problem = s, true, ""
		if err != nil {
			h.problem = whyNoStep(err)
		}
		t.foreseenBefore()
		a.showHelp(t)
	})
	a.showHelp(t)
}

// showHelp shows what has become of the help, if its bench is the one in view.
func (a *Area) showHelp(t *trying) {
	if t.bench != nil && a.window.Here().Same(t.at()) && t.phase == working {
		t.bench.showHelp()
		t.bench.showTaken()
		t.bench.redraw()
		a.window.Relayout()
	}
}

// helping is the step that is proposed where each is, or the hint that was asked for;
// nil where there is none to be had.
func (b *bench) helping() fyne.CanvasObject {
	b.help.Keeps = true
	switch {
	case b.a.window.Wide():
		b.help.Room = mostHelp
	case b.t.attempt().Level == practice.Worked:
		b.help.Room = fewHelp
	}
	switch {
	case b.t.attempt().Ended():
		return nil
	case b.t.attempt().Level == practice.Worked:
		b.reads = look.NewSelect(nil, -1, func(i int) { b.foresee(&b.t.help.expects, i) })
		b.tells = look.NewWholeSelect(nil, -1, func(i int) { b.foresee(&b.t.help.tells, i) })
		b.reads.PlaceHolder, b.tells.PlaceHolder = "What will it read?", "What would that tell?"
		b.helpPanel = slim(look.Stack(4, b.help, look.Compact(look.Beside(readWidth, 260, 8, b.reads, b.tells))))
	case b.t.hints():
		b.helpPanel = slim(b.help)
	default:
		return nil
	}
	return b.helpPanel
}

// Lines that a step or a hint has room for, above the drawing and beside it.
const (
	fewHelp  = 4
	mostHelp = 10
)

// readWidth is how wide the list of what a step will read is, beside what that tells.
const readWidth = 240

// slim is a panel with little space.
func slim(o fyne.CanvasObject) *look.Panel {
	p := look.NewPanel(o)
	p.Padding = 8
	return p
}

// noHint stands where a hint will.
const noHint = "A hint says what would tell most now, and why. Each is counted."

// showHelp shows the step or the hint. Where nothing can be foreseen now, both
// questions keep their room.
func (b *bench) showHelp() {
	h := &b.t.help
	if b.helpPanel == nil {
		return
	}
	if b.reads == nil {
		b.help.SetText(cmp.Or(h.hint, noHint))
		return
	}
	b.help.SetRuns(look.Run{Text: "Working out the next step."})
	if h.ready {
		b.help.SetRuns(look.Run{Text: h.step.What + " ", Style: fyne.TextStyle{Bold: true}}, look.Run{Text: h.step.How + h.problem})
	}
	expects := lists.Each(h.step.Expects, func(e scenes.Expectation) string { return e.Text })
	asks := h.ready && h.problem == "" && h.step.Reads
	ask(b.reads, expects, h.expects-1, asks)
	ask(b.tells, h.step.Tells, h.tells-1, asks)
}

// foresee takes a choice of what a step will read, or of what that tells.
func (b *bench) foresee(chosen *int, i int) {
	*chosen = i + 1
	b.a.keep(b.t)
	b.showTaken()
}

// ask offers what a question can be answered with, as far as it is asked.
func ask(list *look.Select, answers []string, chosen int, asked bool) {
	list.SetOptions(answers)
	list.ShowChosen(chosen)
	if asked {
		list.Enable()
	} else {
		list.Disable()
	}
}

// unsaid reports whether a reading waits for what is expected of it.
func (b *bench) unsaid() bool {
	h := b.t.help
	return b.t.attempt().Level == practice.Worked && !b.t.attempt().Ended() && h.problem == "" &&
		(!h.ready || h.step.Reads && (h.expects == 0 || h.tells == 0))
}

// predict has on record what is expected of the reading that comes.
func (b *bench) predict(a practice.Act) error {
	h := b.t.help
	if !a.Reads() || h.expects == 0 || h.tells == 0 || !h.step.Reads {
		return nil
	}
	return b.t.rec.Predict(h.step.Expects[h.expects-1].Text, h.step.Tells[h.tells-1], a.At)
}

// foresaw says after a reading what became of it, and goes on to the next step.
func (b *bench) foresaw(done []practice.Act) {
	if b.t.attempt().Level != practice.Worked {
		return
	}
	h, reads := &b.t.help, false
	for _, act := range done {
		if !act.Reads() {
			continue
		}
		reads, h.foreseen = true, ""
		if h.expects > 0 {
			h.foreseen = scenes.Foreseen(h.step.Expects, h.expects-1, act)
		}
	}
	b.a.propose(b.t, !reads)
}

// helps are the entries of the head of the bench by which help is asked for.
func (b *bench) helps() []fyne.CanvasObject {
	if !b.t.hints() || b.t.attempt().Ended() {
		return nil
	}
	return []fyne.CanvasObject{parts.Option("A hint", false, func() { b.a.hint(b.t) })}
}
