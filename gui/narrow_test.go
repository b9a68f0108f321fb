package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/gui/look"
)

// At 480 by 640 the question, the reading and its button are visible without
// scrolling, for every step of the shipped trees that takes one reading.
func TestReadingFitsTheSmallestWindow(t *testing.T) {
	d := desk(t, small, func(o *Options) { o.ContentDir = ""; o.Visits = nil })
	d.settings.Role = faulttree.Qualified
	driver := fyne.CurrentApp().Driver()
	for _, id := range d.book.Forest.IDs() {
		for _, s := range d.book.Forest.Trees[id].Steps {
			if s.Kind != faulttree.KindMeasure || len(s.Measure) > 1 {
				continue
			}
			d.begin(s.Ref())
			d.typeIn(t, "58")
			if d.shell.offset() != 0 {
				t.Errorf("%s: scrolled by %v at first", s.Ref(), d.shell.offset())
			}
			for _, o := range d.pane.body {
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
