package frametest

import (
	"fmt"

	"fyne.io/fyne/v2"

	"faultwright/gui/look"
)

// WantNothingOverlapping fails if two texts, or things to press, of the body lie over one
// another, or two of the foot. What lies inside of one is part of it.
func (r *Reader) WantNothingOverlapping() {
	r.tb.Helper()
	for _, part := range [][]fyne.CanvasObject{r.window.Shown().Body, {r.window.Shown().Foot}} {
		var all []fyne.CanvasObject
		for _, o := range part {
			look.Walk(o, func(o fyne.CanvasObject) bool {
				whole := false
				switch o.(type) {
				case *look.Prose, *look.ReadingEntry, *look.Dial, fyne.Focusable:
					all, whole = append(all, o), true
				}
				return !whole
			})
		}
		for i, o := range all {
			for _, other := range all[:i] {
				if overlap(o, other) {
					r.tb.Errorf("%+v: %s lies over %s", r.window.Here(), named(o), named(other))
				}
			}
		}
	}
}

func overlap(a, b fyne.CanvasObject) bool {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject
	p, q, s, t := at(a), at(b), a.Size(), b.Size()
	const touching = 1
	return min(p.X+s.Width, q.X+t.Width)-max(p.X, q.X) > touching && min(p.Y+s.Height, q.Y+t.Height)-max(p.Y, q.Y) > touching
}

func named(o fyne.CanvasObject) string {
	if says, ok := o.(interface{ Plain() string }); ok {
		return fmt.Sprintf("“%.60s”", says.Plain())
	}
	return fmt.Sprintf("%T", o)
}

// WantAllByKeys fails if Tab does not come to everything on the page that can be pressed,
// turned or typed into, but for what is switched off.
func (r *Reader) WantAllByKeys() {
	r.tb.Helper()
	all := r.Pressables()
	canvas := r.canvas()
	met := map[fyne.Focusable]bool{}
	for range len(all) + 60 { // once around, with what stands around the page
		canvas.FocusNext()
		if f := canvas.Focused(); f != nil {
			met[f] = true
		}
	}
	for _, o := range all {
		off, can := o.(fyne.Disableable)
		if !met[o.(fyne.Focusable)] && !(can && off.Disabled()) {
			r.tb.Errorf("%+v: Tab does not come to %s", r.window.Here(), named(o))
		}
	}
}
