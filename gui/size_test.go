package gui

import (
	"testing"

	"fyne.io/fyne/v2"
)

// The window fits the screen it opens on, and is left alone where it fits or the
// screen is not known.
func TestWindowFitsItsScreen(t *testing.T) {
	for _, c := range []struct{ screen, want fyne.Size }{
		{fyne.NewSize(1024, 700), fyne.NewSize(1024, 656)},
		{fyne.NewSize(1366, 768), fyne.NewSize(1280, 724)},
		{fyne.NewSize(1920, 1080), fyne.NewSize(1280, 800)},
		{fyne.Size{}, fyne.NewSize(1280, 800)},
	} {
		w := open(t, wide)
		w.Frame.FitScreen(c.screen)
		if got := w.Frame.Window().Canvas().Size(); got != c.want {
			t.Errorf("on a screen with room for %v the window is %v, want %v", c.screen, got, c.want)
		}
	}
}
