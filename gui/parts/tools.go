package parts

import (
	"fyne.io/fyne/v2"

	"faultwright/faulttree/suspect"
	"faultwright/gui/look"
)

// Tools lets the reader say what he has beside a multimeter.
func Tools(has suspect.Tools, say func(suspect.Tools)) fyne.CanvasObject {
	out := look.Stack(4)
	for _, t := range suspect.AllTools() {
		out.Add(look.NewCheck(t.Title, has&t.Is != 0, func(bool) { say(has ^ t.Is) }))
	}
	return out
}
