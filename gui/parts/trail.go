package parts

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// mostPast is how many answers the trail shows before it is asked for all.
const mostPast = 7

// Trail is the answers of a visit so far; pressing one leads to it. Of many
// only the last are shown unless whole is set; showAll is the way to the
// others. It is nil if there are no answers.
func Trail(w Window, visit string, past []view.Past, whole bool, showAll func()) []fyne.CanvasObject {
	if len(past) == 0 {
		return nil
	}
	rows := look.Stack(0)
	if n := len(past) - mostPast; n > 1 && !whole {
		rows.Add(look.Pad(2, 0, 8, 0, look.NewLink(view.Count(n, "earlier answer"), showAll)))
		past = past[n:]
	}
	for _, p := range past {
		at := place.Walk(visit, p.Index)
		rows.Add(look.NewTrailRow(p.Title, p.Short, func() { w.Go(at) }))
		if p.Weighed != "" {
			rows.Add(look.Pad(2, 0, 8, 0, look.NewSoft(p.Weighed)))
		}
	}
	return []fyne.CanvasObject{look.Stack(8, look.NewCaption("So far"), rows)}
}
