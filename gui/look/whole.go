package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// NewWholeSelect makes a list that shows what is chosen whole, on several lines where it
// must. It has room for the longest option that it has had, so that a choice moves nothing.
func NewWholeSelect(options []string, chosen int, choose func(index int)) *Select {
	s := NewSelect(options, chosen, choose)
	s.whole = true
	return s
}

// CreateRenderer is called by the toolkit.
func (s *Select) CreateRenderer() fyne.WidgetRenderer {
	drawn := s.Select.CreateRenderer()
	if !s.whole {
		return drawn
	}
	r := &wholeRenderer{WidgetRenderer: drawn, s: s}
	for _, o := range drawn.Objects() {
		if words, ok := o.(*widget.RichText); ok {
			words.Truncation, words.Wrapping = fyne.TextTruncateOff, fyne.TextWrapWord
			r.words = words
		}
	}
	return r
}

// wholeRenderer is that of the toolkit with its words wrapped.
type wholeRenderer struct {
	fyne.WidgetRenderer
	s      *Select
	words  *widget.RichText
	width  float32 // of the words
	height float32 // of the whole with the longest option at that width
}

// Layout makes room beside the toolkit's arrow, and then has it lay out the lines there are.
func (r *wholeRenderer) Layout(size fyne.Size) {
	arrow := sizeOf(theme.SizeNameInlineIcon, r.s) + sizeOf(theme.SizeNameInnerPadding, r.s) + sizeOf(theme.SizeNamePadding, r.s)
	if width := size.Width - arrow; width != r.width {
		r.width, r.height = width, 0
		r.words.Resize(fyne.NewSize(width, 1))
		r.measure()
	}
	r.WidgetRenderer.Layout(size)
}

func (r *wholeRenderer) MinSize() fyne.Size {
	least := r.WidgetRenderer.MinSize()
	least.Height = max(least.Height, r.height)
	return least
}

func (r *wholeRenderer) Refresh() {
	r.WidgetRenderer.Refresh()
	r.measure()
}

// measure puts each option in the place of the words for as long as it takes to see how tall
// that is.
func (r *wholeRenderer) measure() {
	said, ok := r.words.Segments[0].(*widget.TextSegment)
	if !ok || r.width <= 0 {
		return
	}
	was := said.Text
	for _, o := range r.s.Options {
		said.Text = o
		r.words.Refresh()
		r.height = max(r.height, r.WidgetRenderer.MinSize().Height)
	}
	said.Text = was
	r.words.Refresh()
}
