package scenarios

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// beside is the vehicle that is being made: its circuit, and what a meter would read of
// it. Both follow every dial while it is turned.
type beside struct {
	a       *Area
	m       *making
	box     *fyne.Container
	drawing *look.LiveFigure
	warning *fyne.Container
	width   float32 // of the drawing
}

func newBeside(a *Area, m *making) *beside {
	b := &beside{a: a, m: m, box: look.Stack(10), drawing: look.NewLiveFigure(figure.Drawing{}), warning: look.Stack(0)}
	b.drawing.OnWidth = func(width float32) {
		b.width = width
		b.draw()
	}
	b.update()
	return b
}

// circuit is the drawing, under what it shows of danger.
func (b *beside) circuit() fyne.CanvasObject { return look.Stack(8, b.warning, b.drawing) }

// draw draws the circuit anew, and says what of it can hurt.
func (b *beside) draw() {
	b.warning.Objects = nil
	defer b.warning.Refresh()
	s, err := b.m.form.Scene(b.a.book, b.a.session.Settings().Meter)
	if s == nil || err != nil { // why is told where the readings are
		b.drawing.Hide()
		return
	}
	v, err := s.Look()
	if err != nil {
		b.drawing.Hide()
		return
	}
	b.drawing.Show()
	if v.Warning != "" {
		b.warning.Add(look.NewCallout(faulttree.Danger, look.NewText(v.Warning)))
	}
	if b.width > 0 {
		plan := parts.Oneline(s, v, func(node string) bool { return slices.Contains(s.Points(), node) }, b.width)
		b.drawing.SetDrawing(plan.Draw(parts.OnelineState(s, v)))
	}
}

// panel is where it stands on the page.
func (b *beside) panel() fyne.CanvasObject {
	return look.Stack(8, look.NewCaption("What a meter would read"), b.box)
}

// update reads the vehicle anew.
func (b *beside) update() {
	shown, err := b.m.form.Preview(b.a.book, b.a.session.Settings().Meter)
	b.box.Objects = nil
	switch {
	case err != nil:
		b.box.Add(look.NewCallout(faulttree.Caution, look.NewText("This vehicle cannot be computed. "+view.Capital(view.Sentence(err.Error())))))
	case len(shown) == 0:
		b.box.Add(look.NewSoft("Choose the vehicle; then what a meter reads at the points that matter stands here, and follows what you turn."))
	}
	differs, alike := look.Stack(4), look.Stack(4)
	for _, p := range shown {
		title := view.Capital(p.Title)
		switch {
		case p.Danger:
			b.box.Add(look.NewCallout(faulttree.Danger, look.Stack(2, look.NewStrong(title+": "+p.Shown), look.NewText(p.Why),
				look.NewSoft("In a vehicle in order it reads "+p.Sound+"."))))
		case p.Differs:
			differs.Add(row(title, p.Shown, ", in order "+p.Sound))
		default:
			alike.Add(row(title, p.Shown, ""))
		}
	}
	for _, part := range []struct {
		title string
		rows  *fyne.Container
	}{{"Otherwise than in a vehicle in order", differs}, {"As in a vehicle in order", alike}} {
		if len(part.rows.Objects) > 0 {
			b.box.Add(look.Stack(4, look.NewCaption(part.title), part.rows))
		}
	}
	b.box.Refresh()
	b.draw()
}

// row is a reading: where it is taken, and what it shows. It wraps, so that nothing of
// it is cut.
func row(title, shown, sound string) fyne.CanvasObject {
	return look.NewProse(look.Run{Text: title + ": ", Color: look.ColorSoftInk}, look.Run{Text: shown, Style: fyne.TextStyle{Bold: true}}, look.Run{Text: sound, Color: look.ColorSoftInk})
}
