package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/source"
)

// Tracked is a short bold word on one line with space between its letters:
// signal words and section captions.
type Tracked struct {
	widget.BaseWidget

	Text string
	Type fyne.ThemeSizeName
	Ink  fyne.ThemeColorName
	// Space between letters as a share of the type size.
	Space float32
}

// NewTracked makes a letter-spaced word.
func NewTracked(text string, size fyne.ThemeSizeName, ink fyne.ThemeColorName) *Tracked {
	t := &Tracked{Text: source.Shown(text), Type: size, Ink: ink, Space: 0.08}
	t.ExtendBaseWidget(t)
	return t
}

// Plain is the text.
func (t *Tracked) Plain() string { return t.Text }

// AccessibilityLabel is the text.
func (t *Tracked) AccessibilityLabel() string { return t.Text }

// AccessibilityRole is that of a text.
func (t *Tracked) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer is called by the toolkit.
func (t *Tracked) CreateRenderer() fyne.WidgetRenderer {
	r := &trackedRenderer{t: t}
	r.Refresh()
	return r
}

type trackedRenderer struct {
	t       *Tracked
	objects []fyne.CanvasObject
	size    fyne.Size
}

func (r *trackedRenderer) Refresh() {
	r.objects = r.objects[:0]
	size := sizeOf(r.t.Type, r.t)
	ink := colorOf(r.t.Ink, r.t)
	r.size = fyne.Size{}
	for _, letter := range r.t.Text {
		c := canvas.NewText(string(letter), ink)
		c.TextSize, c.TextStyle = size, fyne.TextStyle{Bold: true}
		m := c.MinSize()
		place(c, r.size.Width, 0, m.Width, m.Height)
		r.size.Width += m.Width + size*r.t.Space
		r.size.Height = max(r.size.Height, m.Height)
		r.objects = append(r.objects, c)
	}
	r.size.Width = max(r.size.Width-size*r.t.Space, 0)
	canvas.Refresh(r.t)
}

func (r *trackedRenderer) MinSize() fyne.Size           { return r.size }
func (r *trackedRenderer) Layout(fyne.Size)             {}
func (r *trackedRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *trackedRenderer) Destroy()                     {}
