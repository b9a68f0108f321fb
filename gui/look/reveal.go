package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// holder is a widget that shows other objects.
type holder interface{ held() []fyne.CanvasObject }

// inside lists what o shows, as far as that can be told from outside.
func inside(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *fyne.Container:
		return o.Objects
	case holder:
		return o.held()
	case *container.Scroll:
		return []fyne.CanvasObject{o.Content}
	case *container.ThemeOverride:
		return []fyne.CanvasObject{o.Content}
	}
	return nil
}

// Walk visits o and all that it shows, outermost first, hidden things left
// out. Returning false from visit leaves out what lies inside.
func Walk(o fyne.CanvasObject, visit func(fyne.CanvasObject) bool) {
	if o == nil || !o.Visible() || !visit(o) {
		return
	}
	for _, c := range inside(o) {
		Walk(c, visit)
	}
}

// TextOf gathers the text that o shows, a line for each piece, as for copying
// a page.
func TextOf(o fyne.CanvasObject) string {
	var lines []string
	Walk(o, func(o fyne.CanvasObject) bool {
		switch o := o.(type) {
		case *fyne.Container:
			if _, ok := o.Layout.(hanging); ok { // a list item: mark and text
				lines = append(lines, TextOf(o.Objects[0])+" "+TextOf(o.Objects[1]))
				return false
			}
		case interface{ Plain() string }:
			lines = append(lines, o.Plain())
			return false
		case *widget.Label:
			lines = append(lines, o.Text)
		case *widget.Entry:
			lines = append(lines, o.Text)
		case *widget.RichText:
			lines = append(lines, o.String())
		case *canvas.Text:
			lines = append(lines, o.Text)
		}
		return true
	})
	return strings.Join(lines, "\n")
}

// Reveal scrolls every scroll that holds o just so far that o is in view.
// Keyboard focus calls it; views may, too.
func Reveal(o fyne.CanvasObject) {
	for _, s := range scrollsAround(o) {
		reveal(s, o)
	}
}

// scrollsAround are the scrolls that hold o, the innermost first; none if o is
// in no window.
func scrollsAround(o fyne.CanvasObject) []*container.Scroll {
	c := canvasOf(o)
	if c == nil {
		return nil
	}
	var scrolls []*container.Scroll
	roots := c.Overlays().List()
	roots = append(roots, c.Content())
	for _, root := range roots {
		if path(root, o, &scrolls) {
			break
		}
	}
	return scrolls
}

// path finds the scrolls between root and o, the innermost first.
func path(root, o fyne.CanvasObject, scrolls *[]*container.Scroll) bool {
	if root == o {
		return true
	}
	for _, c := range inside(root) {
		if c != nil && path(c, o, scrolls) {
			switch s := root.(type) {
			case *container.Scroll:
				*scrolls = append(*scrolls, s)
			case *Scroll:
				*scrolls = append(*scrolls, &s.Scroll)
			}
			return true
		}
	}
	return false
}

func reveal(s *container.Scroll, o fyne.CanvasObject) {
	const margin = 12
	d := fyne.CurrentApp().Driver()
	top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s.Content).Y
	offset := s.Offset.Y
	if low := top + o.Size().Height + margin - s.Size().Height; offset < low {
		offset = low
	}
	if high := top - margin; offset > high {
		offset = high
	}
	offset = max(0, min(offset, s.Content.Size().Height-s.Size().Height))
	if offset != s.Offset.Y {
		s.ScrollToOffset(fyne.NewPos(0, offset))
	}
}
