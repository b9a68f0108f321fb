package parts

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// ProbePictures show where the probes go. Where the tree is about either
// supply, the reader says which plug the vehicle has.
func ProbePictures(t *faulttree.Tree, asked []view.Asked, plug figure.Face, choose func(figure.Face)) fyne.CanvasObject {
	faces := figure.Faces(t)
	face, shown := faces[0], false
	if slices.Contains(faces, plug) {
		face = plug
	}
	pictures := look.Grid(230, look.GapBlock, 3)
	for _, a := range asked {
		shown = shown || figure.ShowsFace(a.Quantity)
		picture := look.NewFigure(figure.Probes(a.Quantity, face))
		if len(asked) == 1 {
			pictures.Add(picture)
			break
		}
		pictures.Add(look.Stack(8, look.NewStrong(a.Title), picture, Chips(a.Chips)))
	}
	if !shown || len(faces) < 2 {
		return pictures
	}
	plugs := look.Row(8)
	for _, f := range faces {
		plugs.Add(Option(f.Rating()+" plug", f == face, func() { choose(f) }))
	}
	return look.Stack(8, pictures, plugs)
}
