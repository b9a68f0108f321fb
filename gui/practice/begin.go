package practice

import (
	"fyne.io/fyne/v2"

	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// story is what the customer tells.
func (a *Area) story(t *trying) fyne.CanvasObject {
	return look.NewPanel(look.Stack(10, look.NewCaption("As the customer tells it"), parts.Blocks(a.window, t.scenario.Body)))
}

// beginPage is a scenario before its vehicle is stood before: the story.
func (a *Area) beginPage(t *trying) frame.Page {
	to := look.NewPrimary("Go to the vehicle", func() {
		t.begun = true
		a.window.Render()
		a.window.ScrollTop()
	})
	return frame.Page{Body: []fyne.CanvasObject{
		parts.Head(a.window, "Practice · "+t.scenario.Rig.Title, t.scenario.Title), a.story(t),
		look.Row(12, to, look.NewButton("Other scenarios", func() { a.window.Go(place.Scenarios()) }), look.NewButton("Back", a.window.Back)),
	}, Focus: to}
}
