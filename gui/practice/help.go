package practice

import (
	"context"
	"errors"

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
	type worked struct {
		step scenes.Step
		err  error
	}
	lib, c, attempt, by := a.session.Book(), t.c, t.attempt(), a.markBook(t)
	frame.Run(a.window.Runner(), jobStep+t.key(), func(ctx context.Context) worked {
		s, err := scenes.NextStep(ctx, lib, c, attempt, by)
		return worked{s, err}
	}, func(w worked) { done(w.step, w.err) })
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
		if a.window.Here().Same(t.at()) && t.phase == working {
			a.window.Render()
		}
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

// propose works out the next step where each is proposed.
func (a *Area) propose(t *trying) {
	if t.attempt().Level != practice.Worked || t.attempt().Ended() {
		return
	}
	h := &t.help
	h.ready, h.problem, h.expects, h.tells = false, "", 0, 0
	a.work(t, func(s scenes.Step, err error) {
		h.step, h.ready = s, true
		if err != nil {
			h.problem = whyNoStep(err)
		}
		if a.window.Here().Same(t.at()) && t.phase == working {
			a.window.Render()
		}
	})
}

// helping is the step that is proposed where each is, or the hint that was asked for;
// nil elsewhere.
func (b *bench) helping() fyne.CanvasObject {
	t, h := b.t, &b.t.help
	if t.attempt().Ended() || t.attempt().Level != practice.Worked && h.hint == "" {
		return nil
	}
	if t.attempt().Level != practice.Worked {
		return slim(look.NewText(h.hint))
	}
	text := look.NewText("Working out the next step.")
	if h.ready {
		text.SetRuns(look.Run{Text: h.step.What + " ", Style: fyne.TextStyle{Bold: true}}, look.Run{Text: h.step.How + h.problem})
	}
	text.Room = 4
	return slim(look.Stack(4, text, b.predicting(h)))
}

// slim is a panel above the drawing, as low as it can be.
func slim(o fyne.CanvasObject) fyne.CanvasObject {
	p := look.NewPanel(o)
	p.Padding = 8
	return p
}

// readWidth is how wide the list of what a step will read is, beside what that tells.
const readWidth = 240

// predicting asks what the step will read and what that tells.
func (b *bench) predicting(h *help) fyne.CanvasObject {
	asks := h.ready && h.problem == "" && h.step.Reads // else both keep their room
	var expects []string
	for _, e := range h.step.Expects {
		expects = append(expects, e.Text)
	}
	read := look.NewSelect(expects, h.expects-1, func(i int) { h.expects = i + 1; b.showTaken() })
	tell := look.NewSelect(h.step.Tells, h.tells-1, func(i int) { h.tells = i + 1; b.showTaken() })
	read.PlaceHolder, tell.PlaceHolder = "What will it read?", "What would that tell?"
	if !asks {
		read.Disable()
		tell.Disable()
	}
	return look.Compact(look.Beside(readWidth, 260, 8, read, tell))
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
	for _, act := range done {
		if act.Reads() && b.t.help.expects > 0 {
			b.t.help.foreseen = scenes.Foreseen(b.t.help.step.Expects, b.t.help.expects-1, act)
		}
	}
	b.a.propose(b.t)
	b.a.window.Render()
}

// helps are the entries of the head of the bench by which help is asked for.
func (b *bench) helps() []fyne.CanvasObject {
	if !b.t.hints() || b.t.attempt().Ended() {
		return nil
	}
	return []fyne.CanvasObject{parts.Option("A hint", false, func() { b.a.hint(b.t) })}
}
