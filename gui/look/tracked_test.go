package look

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

// A caption that is longer than its room wraps, and none of its letters is cut.
func TestCaptionWraps(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(NewTheme(Light, 1))
	c := NewCaption("A 30 A trailer with an adapter on a 50 A receptacle")
	line := c.Natural()
	for _, width := range []float32{line.Width + 1, 300, 160} {
		c.Resize(fyne.NewSize(width, 10))
		high := c.MinSize().Height
		if lines := high / line.Height; (width > line.Width) != (lines == 1) {
			t.Errorf("%v wide it takes %v lines", width, lines)
		}
		for _, o := range test.LaidOutObjects(c) {
			letter, ok := o.(*canvas.Text)
			if !ok {
				continue
			}
			if end := letter.Position().Add(letter.Size()); end.X > width+1 && letter.Text != " " || end.Y > high+1 {
				t.Errorf("%v wide: %q ends at %v", width, letter.Text, end)
			}
		}
	}
}
