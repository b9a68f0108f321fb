package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree/source"
)

// Tracked is short bold text with space between its letters: signal words and
// section captions. It wraps between words.
type Tracked struct {
	widget.BaseWidget

	Text string
	Type fyne.ThemeSizeName
	Ink  fyne.ThemeColorName
	// Space between letters as a share of the type size.
	Space float32
}

// NewTracked makes letter-spaced text.
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

// Natural is the size on one line.
func (t *Tracked) Natural() fyne.Size {
	r := &trackedRenderer{t: t}
	r.Refresh()
	return fyne.NewSize(r.wide, r.line)
}

type trackedRenderer struct {
	t       *Tracked
	letters []*canvas.Text
	objects []fyne.CanvasObject
	wide    float32 // on one line
	word    float32 // the longest
	line    float32 // its height
	lines   int     // at the present width
}

// Refresh makes the letters anew.
func (r *trackedRenderer) Refresh() {
	r.letters, r.objects = r.letters[:0], r.objects[:0]
	size := sizeOf(r.t.Type, r.t)
	ink := colorOf(r.t.Ink, r.t)
	for _, letter := range r.t.Text {
		c := canvas.NewText(string(letter), ink)
		c.TextSize, c.TextStyle = size, fyne.TextStyle{Bold: true}
		c.Resize(c.MinSize())
		r.letters, r.objects = append(r.letters, c), append(r.objects, c)
	}
	r.wide, r.word, r.line = 0, 0, 0
	begin := float32(0)
	for _, c := range r.letters {
		if c.Text == " " {
			begin = r.wide + r.step(c)
		}
		r.wide += r.step(c)
		r.word, r.line = max(r.word, r.wide-begin), max(r.line, c.Size().Height)
	}
	r.Layout(r.t.Size())
	canvas.Refresh(r.t)
}

// step is how far behind a letter the next one stands.
func (r *trackedRenderer) step(c *canvas.Text) float32 {
	return c.Size().Width + sizeOf(r.t.Type, r.t)*r.t.Space
}

// MinSize is as wide as the longest word, and as high as it is at the present
// width.
func (r *trackedRenderer) MinSize() fyne.Size {
	return fyne.NewSize(min(r.word, longestMin), float32(max(r.lines, 1))*r.line)
}

// Layout breaks the line before a word that does not fit.
func (r *trackedRenderer) Layout(size fyne.Size) {
	x, y := float32(0), float32(0)
	r.lines = 1
	for i, c := range r.letters {
		if i > 0 && r.letters[i-1].Text == " " && x > 0 && size.Width > 0 && x+r.wordAt(i) > size.Width+0.5 {
			x, y = 0, y+r.line
			r.lines++
		}
		c.Move(fyne.NewPos(x, y))
		x += r.step(c)
	}
}

// wordAt is how wide the word is that begins with a letter.
func (r *trackedRenderer) wordAt(i int) float32 {
	wide := float32(0)
	for _, c := range r.letters[i:] {
		if c.Text == " " {
			break
		}
		wide += r.step(c)
	}
	return wide - sizeOf(r.t.Type, r.t)*r.t.Space
}

func (r *trackedRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *trackedRenderer) Destroy()                     {}
