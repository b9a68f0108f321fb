package parts

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/gui/look"
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
