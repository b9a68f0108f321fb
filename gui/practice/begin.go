package practice

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	attempts "faultwright/faulttree/practice/store"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// story is what the customer tells.
func (a *Area) story(t *trying) fyne.CanvasObject {
	return look.NewPanel(look.Stack(10, look.NewCaption("As the customer tells it"), parts.Blocks(a.window, t.scenario.Body)))
}

// beginPage is a scenario before its vehicle is stood before: the story, and how
// much help is wanted. Attempts made before are offered by when they were made,
// and say nothing of what was found.
func (a *Area) beginPage(t *trying) frame.Page {
	at := func(level practice.Level) func() { return func() { a.begin(t, level) } }
	levels := look.Grid(300, 14, 3,
		look.NewChoice(1, levelTitle(practice.Free), "The vehicle, the meter and nothing else.", at(practice.Free)),
		look.NewChoice(2, levelTitle(practice.Guided), "The walk beside it, and a hint where you ask for one. Each hint costs points.", at(practice.Guided)),
		look.NewChoice(3, levelTitle(practice.Worked), "Each step is proposed, and what it will read is asked before the reading.", at(practice.Worked)),
	)
	as := "You practise as an owner: nothing that means opening an enclosure or a panel is yours to read."
	if t.scenario.Role == faulttree.Qualified {
		as = "You practise as somebody who is qualified for this work."
	}
	body := []fyne.CanvasObject{
		parts.Head(a.window, "Practice · "+t.scenario.Rig.Before(), t.scenario.Title), a.story(t),
		look.Stack(8, look.NewCaption("Go to the vehicle"), levels, look.NewSoft(as)),
	}
	if before := a.before(t); before != nil {
		body = append(body, before)
	}
	row := look.Row(12)
	if t.rec != nil && t.attempt().Ended() {
		row.Add(look.NewButton("Look back on the last attempt", func() { a.look(t) }))
	}
	row.Add(look.NewButton("Other scenarios", func() { a.window.Go(place.Scenarios()) }))
	row.Add(look.NewButton("Save as a file to change", func() { a.saveAsFile(t.scenario) }))
	row.Add(look.NewButton("Back", a.window.Back))
	return frame.Page{Body: append(body, row)}
}

// levelTitle is what a level is called where it is chosen.
func levelTitle(l practice.Level) string {
	switch l {
	case practice.Worked:
		return "Step by step"
	case practice.Guided:
		return "With help at hand"
	}
	return "On my own"
}

// mostBefore is how many attempts made before are offered.
const mostBefore = 5

// madeBefore is the attempts on record that may be gone on with here, the last first.
func (a *Area) madeBefore(t *trying) ([]attempts.Summary, error) {
	all, err := a.session.AttemptsAt(t.scenario.ID)
	return slices.DeleteFunc(all, func(x attempts.Summary) bool { return !t.goesOn(x) }), err
}

// before lists the attempts on record at a scenario; nil for none.
func (a *Area) before(t *trying) fyne.CanvasObject {
	all, err := a.madeBefore(t)
	if err != nil {
		return look.NewSoft("Attempts made before cannot be listed. " + view.Sentence(err.Error()))
	}
	if len(all) == 0 {
		return nil
	}
	list := look.Stack(8, look.NewCaption("Attempts at practice made before"))
	for _, x := range all[:min(len(all), mostBefore)] {
		list.Add(a.one(t, x))
	}
	return list
}

// one is one attempt on record: when it was made, to be gone on with or deleted.
func (a *Area) one(t *trying, x attempts.Summary) fyne.CanvasObject {
	ended := "not ended"
	if x.Ended {
		ended = "ended"
	}
	on := look.NewButton("Go on with it", func() { a.goOn(t, x.ID) })
	row := look.Row(12, on)
	if a.practice.deleting == x.ID {
		row.Add(look.NewButton("Keep it", func() { a.askDelete("") }))
		row.Add(look.NewButton("Delete it for good", func() { a.delete(t, x.ID) }))
	} else {
		row.Add(look.NewButton("Delete it", func() { a.askDelete(x.ID) }))
	}
	return look.Stack(4, look.NewText(x.Header.Started.Local().Format("2006-01-02 15:04")+" · "+faulttree.InSentence(levelTitle(x.Header.Level))+" · "+view.Count(x.Readings, "reading")+" · "+ended), row)
}

func (a *Area) askDelete(id string) {
	a.practice.deleting = id
	a.window.Render()
}

// delete removes an attempt for good.
func (a *Area) delete(t *trying, id string) {
	a.practice.deleting = ""
	if t.rec != nil && t.rec.ID() == id {
		t.left()
		t.rec, t.v, t.phase, t.marked = nil, nil, beginning, false
	}
	if err := a.session.DeleteAttempt(id); err != nil {
		a.window.Say("It was not deleted. " + view.Sentence(err.Error()))
		return
	}
	a.window.Say("The attempt was deleted.")
}
