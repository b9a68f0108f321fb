package practice

import (
	"slices"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/practice"
)

// keep has on record what was chosen and typed and is not said yet, for a program that
// ends before it is. Where that fails it is said once.
func (a *Area) keep(t *trying) {
	d, h := practice.Draft{Conclusion: t.draft}, t.help
	if h.expects > 0 || h.tells > 0 {
		d.Readings = len(t.attempt().Readings())
		if h.expects > 0 {
			d.Expects = h.step.Expects[h.expects-1].Text
		}
		if h.tells > 0 {
			d.Tells = h.step.Tells[h.tells-1]
		}
	}
	err := t.rec.Keep(d)
	if err != nil && !t.unkept {
		a.window.Say("What you choose and type is on record only once it is said. " + view.Sentence(err.Error()))
	}
	t.unkept = err != nil
}

// foreseenBefore takes up what was foreseen of the step that is proposed, before the
// program ended.
func (t *trying) foreseenBefore() {
	h, d := &t.help, t.rec.Draft()
	if h.expects > 0 || h.tells > 0 || d.Readings != len(t.attempt().Readings()) {
		return
	}
	h.expects = 1 + slices.IndexFunc(h.step.Expects, func(e scenes.Expectation) bool { return e.Text == d.Expects })
	h.tells = 1 + slices.Index(h.step.Tells, d.Tells)
}
