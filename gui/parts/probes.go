package parts

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// Probes are the pictures of a step, one for each quantity, and, where nobody
// said it yet, the choice of the plug that the vehicle has.
type Probes struct {
	Pictures []fyne.CanvasObject
	Plugs    fyne.CanvasObject // nil where nothing is to choose
}

// NewProbes draws where the probes go of a step. Plug is the vehicle's where its
// facts do not say it.
func NewProbes(says view.Step, plug figure.Face, choose func(figure.Face)) Probes {
	faces := figure.Faces(says.Plug)
	face, shown := faces[0], false
	if slices.Contains(faces, plug) {
		face = plug
	}
	var p Probes
	for _, a := range says.Asked {
		shown = shown || figure.ShowsFace(a.Quantity)
		p.Pictures = append(p.Pictures, look.NewFigure(figure.Probes(a.Quantity, face)))
	}
	if !shown || len(faces) < 2 {
		return p
	}
	plugs := look.Row(8)
	for _, f := range faces {
		plugs.Add(Option(f.Rating()+" plug", f == face, func() { choose(f) }))
	}
	p.Plugs = plugs
	return p
}

// mostPast is how many answers the trail shows before it is asked for all.
const mostPast = 7

// Trail is the answers of a visit so far; pressing one leads to it. Of many
// only the last are shown, and what the program concluded from them in between
// is one line, until either is unfolded. It is nil if there are no answers.
func Trail(w *frame.Frame, visit string, past []view.Past, folds Folds) []fyne.CanvasObject {
	if len(past) == 0 {
		return nil
	}
	const earlier = "earlier"
	rows := look.Stack(0)
	link := func(text, fold string) {
		rows.Add(look.Pad(2, 0, 8, 0, look.NewLink(text, func() { folds.Unfold(fold) })))
	}
	if n := len(past) - mostPast; n > 1 && !folds.Open(earlier) {
		link(view.Count(n, "earlier answer"), earlier)
		past = past[n:]
	}
	for _, p := range past {
		at := place.Walk(visit, p.Index)
		rows.Add(look.NewTrailRow(p.Title, p.Short, func() { w.Go(at) }))
		known := fmt.Sprint("known ", p.Index)
		switch {
		case p.Known == "":
		case folds.Open(known):
			rows.Add(look.Pad(2, 0, 8, 0, look.NewSoft(p.Known)))
		default:
			link(view.KnownByThen+view.Count(1+strings.Count(p.Known, "\n"), "conclusion"), known)
		}
	}
	return []fyne.CanvasObject{look.Stack(8, look.NewCaption("So far"), rows)}
}
