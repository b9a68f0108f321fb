package gui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Options says how a desk is set up.
type Options struct {
	ContentDir string // read the handbook from this folder; "" is the built-in one
}

// Desk is the window.
type Desk struct {
	app    fyne.App
	window fyne.Window
}

// New makes the desk and its window, not yet shown.
func New(a fyne.App, o Options) *Desk {
	d := &Desk{app: a, window: a.NewWindow("Faultwright")}
	d.window.SetContent(widget.NewLabel("Faultwright"))
	return d
}

// Window is the desk's window.
func (d *Desk) Window() fyne.Window { return d.window }
