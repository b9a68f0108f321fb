package gui

import (
	"testing"

	"fyne.io/fyne/v2"
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
			d := desk(t, v.size, func(o *Options) { o.ContentDir = "" })
			d.set(func(s *Settings) { s.TextSize = v.text })
			d.picture(t, "size-"+v.name+"-opening")
			d.toShippedBody(t)
			d.typeIn(t, "58")
			d.picture(t, "size-"+v.name+"-step")
			d.wantShown(t, "Leads to: stop")
		})
	}
}
