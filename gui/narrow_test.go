package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/gui/session"
)

// At 480 by 640 the question, the reading and its button are visible without
// scrolling, for every step of the shipped trees that takes one reading.
func TestReadingFitsTheSmallestWindow(t *testing.T) {
	w := open(t, small, shipped, unkept)
	w.session.Set(func(s *session.Settings) { s.Role = faulttree.Qualified })
	driver := fyne.CurrentApp().Driver()
	for _, id := range w.session.Book().Forest.IDs() {
		for _, s := range w.session.Book().Forest.Trees[id].Steps {
			if s.Kind != faulttree.KindMeasure || len(s.Measure) > 1 {
				continue
			}
			w.begin(s.Ref())
			w.Type("58")
			if w.scrolled() != 0 {
				t.Errorf("%s: scrolled by %v at first", s.Ref(), w.scrolled())
			}
			for _, o := range w.Shown().Body {
				look.Walk(o, func(o fyne.CanvasObject) bool {
					b, ok := o.(*look.Button)
					if ok && b.Primary {
						if bottom := driver.AbsolutePositionForObject(b).Y + b.Size().Height; bottom > small.Height {
							t.Errorf("%s: the button ends at %v", s.Ref(), bottom)
						}
					}
					return true
				})
			}
		}
	}
}
