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

// titleBar is room, in the window's units, for what a desktop puts around a
// window; no toolkit tells it. From memory: the usual desktops take 30 to 40.
const titleBar = 44

// FitScreen makes the window no larger than the room for windows on its screen,
// in pixels. A room of nothing is not known, and changes nothing.
func (f *Frame) FitScreen(room fyne.Size) {
	if room.Width <= 0 || room.Height <= 0 {
		return
	}
	scale := f.window.Canvas().Scale()
	most := fyne.NewSize(room.Width/scale, room.Height/scale-titleBar)
	size := f.window.Canvas().Size()
	if size.Width > most.Width || size.Height > most.Height {
		f.window.Resize(size.Min(most))
	}
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
