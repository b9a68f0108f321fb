package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// wheel lies over an entry and gives the mouse wheel to the page around it.
// The toolkit's entry would keep the wheel for the scroll it has inside, so
// that a page would stand still while the pointer is over a field.
type wheel struct {
	widget.BaseWidget
	over fyne.CanvasObject
}

func newWheel(over fyne.CanvasObject) *wheel {
	w := &wheel{over: over}
	w.ExtendBaseWidget(w)
	return w
}

// Scrolled scrolls the innermost scroll around the entry, or else the page that
// the entry stands under.
func (w *wheel) Scrolled(ev *fyne.ScrollEvent) {
	for _, s := range scrollsAround(w.over) {
		s.Scrolled(ev)
		return
	}
	if c := canvasOf(w.over); c != nil {
		if page, ok := c.Content().(fyne.Scrollable); ok {
			page.Scrolled(ev)
		}
	}
}

// CreateRenderer is called by the toolkit; there is nothing to see.
func (w *wheel) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{})
}

// fieldRenderer is the entry's own with the wheel over it.
type fieldRenderer struct {
	fyne.WidgetRenderer
	wheel *wheel
}

// CreateRenderer is called by the toolkit.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	return &fieldRenderer{f.Entry.CreateRenderer(), newWheel(f)}
}

func (r *fieldRenderer) Layout(size fyne.Size) {
	r.WidgetRenderer.Layout(size)
	r.wheel.Resize(size)
}

func (r *fieldRenderer) Objects() []fyne.CanvasObject {
	entry := r.WidgetRenderer.Objects()
	return append(entry[:len(entry):len(entry)], r.wheel)
}
