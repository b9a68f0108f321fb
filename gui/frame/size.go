package frame

import (
	"fmt"

	"fyne.io/fyne/v2"
)

const (
	prefSize = "window.size" // one entry, since each is a file written anew

	usualWidth, usualHeight = 1280, 800
	leastWidth, leastHeight = 480, 640
	mostWidth, mostHeight   = 7680, 4320
)

func (f *Frame) restoreSize() {
	var w, h int
	if n, err := fmt.Sscanf(f.app.Preferences().String(prefSize), "%dx%d", &w, &h); n != 2 || err != nil {
		w, h = usualWidth, usualHeight
	}
	w = min(max(w, leastWidth), mostWidth)
	h = min(max(h, leastHeight), mostHeight)
	f.window.Resize(fyne.NewSize(float32(w), float32(h)))
}

func (f *Frame) rememberSize() {
	size := f.window.Canvas().Size()
	now := fmt.Sprintf("%dx%d", int(size.Width), int(size.Height))
	if now != f.app.Preferences().String(prefSize) {
		f.app.Preferences().SetString(prefSize, now)
	}
}

// Close remembers the window's size, stops all work and closes the window.
func (f *Frame) Close() {
	f.rememberSize()
	f.runner.CancelAll()
	if f.options.Closed != nil {
		f.options.Closed()
	}
	f.window.Close()
}
