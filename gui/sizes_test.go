package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/session"
)

// The window goes from the smallest size to 4K, and text from the smallest to
// the largest setting.
func TestSizes(t *testing.T) {
	for _, v := range []struct {
		name string
		size fyne.Size
		text float32
	}{
		{"4k", fyne.NewSize(3840, 2160), 1}, {"4k-large", fyne.NewSize(3840, 2160), 2}, {"hd", fyne.NewSize(1920, 1080), 1.3},
		{"large-text", wide, 2}, {"small-text", wide, 0.75}, {"small-large", small, 1.5},
	} {
		t.Run(v.name, func(t *testing.T) {
			w := open(t, v.size, shipped)
			w.set(func(s *session.Settings) { s.TextSize = v.text })
			w.Picture("size-" + v.name + "-opening")
			w.toShippedBody()
			w.Type("58")
			w.Picture("size-" + v.name + "-step")
			w.Want("Leads to: stop")
		})
	}
}
