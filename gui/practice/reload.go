package practice

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/scene"
)

// keepUp brings what is practised over to the handbook in use, where that was read again
// since. An attempt goes on where it stands, with what is typed of its conclusion. One
// whose vehicle would show something else now is let go of, and told on the next page of
// practice; its record stays.
func (a *Area) keepUp() {
	if a.practice.book == a.session.Book() {
		return
	}
	before := a.practice
	a.practice = practising{book: a.session.Book(), tries: map[string]*trying{}, now: before.now, picture: before.picture, said: before.said}
	for _, key := range slices.Sorted(maps.Keys(before.tries)) {
		t := before.tries[key]
		if t.rec == nil {
			continue // nothing was done at it
		}
		next, err := a.broughtOver(t)
		if err != nil {
			t.left()
			a.practice.said = strings.TrimSpace(a.practice.said + " The attempt at “" + t.scenario.Title + "” cannot be gone on with in the handbook as it was read again; it is on record. " + view.Sentence(view.Capital(err.Error())))
			continue
		}
		a.practice.tries[key] = next
		if next.phase == working {
			a.propose(next, true)
		}
	}
}

// broughtOver is an attempt as it stands, at its scenario in the handbook in use.
func (a *Area) broughtOver(t *trying) (*trying, error) {
	s, task := a.scenarioAt(t.at())
	if s == nil || t.task != nil && !t.isOf(task) {
		return nil, errors.New("its scenario is not in hand any more")
	}
	next := &trying{scenario: s, task: task, c: scenes.CaseOf(a.session.Book(), s), file: t.file, phase: t.phase, last: t.last,
		red: t.red, black: t.black, blackNext: t.blackNext, story: t.story, draft: t.draft, unkept: t.unkept, focus: t.focus}
	var err error
	if next.scene, err = scene.New(s.Rig, scenes.Book(a.session.Book(), a.session.Settings().Meter)); err != nil {
		return nil, err
	}
	if next.rec, err = t.rec.At(next.c); err != nil {
		return nil, err
	}
	next.v = next.rec.Learner()
	next.v.Set(t.v.Setting())
	return next, nil
}
