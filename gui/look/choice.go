package look

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"faultwright/faulttree/source"
)

// Choice is a large answer: a title, a soft line under it, and the digit that
// chooses it. The whole card can be pressed. Put choices into a [Grid].
type Choice struct {
	press

	digit       int
	title, text string
	content     *fyne.Container
	head, soft  *Prose
	key         *Prose
	dot         *Prose // of an answer: the ring that is full once it is marked
	marked      bool
	mark, take  func() // of an answer
}

// NewChoice makes a choice. Digit 1 to 9 is shown in the corner; any other is
// not. The window listens for the digit itself, see [ByDigit].
func NewChoice(digit int, title, text string, tapped func()) *Choice {
	c := &Choice{digit: digit, title: source.Shown(title), text: source.Shown(text)}
	c.OnTapped = tapped
	c.head, c.soft, c.key = NewTitle(title), NewSoft(text), NewSoft("")
	if digit >= 1 && digit <= 9 {
		c.key.SetText(strconv.Itoa(digit))
		c.key.Type = SizeSmall
	}
	c.content = Stack(4, c.head, c.soft)
	if text == "" {
		c.soft.Hide()
	}
	c.extend(c)
	return c
}

// NewAnswer makes a choice that is marked before it is taken, so that neither a
// slip nor a second click answers: a tap or its digit calls mark, Enter and
// Space do so too, and Enter calls take once it is marked.
func NewAnswer(digit int, title, text string, mark, take func()) *Choice {
	c := NewChoice(digit, title, text, mark)
	c.dot, c.mark, c.take = NewTitle("○"), mark, take
	c.dot.Ink = ColorSoftInk
	return c
}

// SetMarked shows whether an answer is marked.
func (c *Choice) SetMarked(on bool) {
	if c.dot == nil || c.marked == on {
		return
	}
	c.marked, c.dot.Ink = on, ColorSoftInk
	if on {
		c.dot.Ink = ColorAccent
	}
	c.dot.SetText(map[bool]string{false: "○", true: "●"}[on])
	c.Refresh()
}

// Marked reports whether it is marked.
func (c *Choice) Marked() bool { return c.marked }

// Arm is what its digit does: it marks an answer. Anything else only gets the
// keyboard, and waits for Enter.
func (c *Choice) Arm() {
	if c.mark != nil && !c.Disabled() {
		c.mark()
	}
}

// TypedKey takes an answer that is marked on Enter; else it is like any press.
func (c *Choice) TypedKey(ev *fyne.KeyEvent) {
	if c.marked && (ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter) {
		c.take()
		return
	}
	c.press.TypedKey(ev)
}

// Title is the choice's first line.
func (c *Choice) Title() string { return c.title }

// Plain is both lines, see [TextOf].
func (c *Choice) Plain() string {
	if c.text == "" {
		return c.AccessibilityLabel()
	}
	return c.AccessibilityLabel() + "\n" + c.text
}

// AccessibilityLabel is the title, and whether it is marked.
func (c *Choice) AccessibilityLabel() string {
	if c.marked {
		return c.title + " (marked)"
	}
	return c.title
}

const (
	choicePad    float32 = 20
	choiceHeight float32 = 76 // at text size 1, so that one-line and two-line choices match
)

// CreateRenderer is called by the toolkit.
func (c *Choice) CreateRenderer() fyne.WidgetRenderer {
	r := &choiceRenderer{c: c, frame: newFrame(theme.Size(theme.SizeNameCardRadius))}
	r.objects = append(r.frame.objects(), c.content, c.key)
	if c.dot != nil {
		r.objects = append(r.objects, c.dot)
	}
	r.Refresh()
	return r
}

type choiceRenderer struct {
	c       *Choice
	frame   *frame
	objects []fyne.CanvasObject
}

func (r *choiceRenderer) Refresh() {
	border, width := ColorLine, float32(1)
	if r.c.hovered || r.c.focused || r.c.marked {
		border = ColorAccent
	}
	if r.c.marked {
		width = 3
	}
	r.frame.paint(r.c, &r.c.press, ColorPanel, border, width)
	r.c.content.Refresh()
	r.c.key.Refresh()
	if r.c.dot != nil {
		r.c.dot.Refresh()
	}
	canvas.Refresh(r.c)
}

// dotRoom is kept free at the left for the ring of an answer.
func (r *choiceRenderer) dotRoom() float32 {
	if r.c.dot == nil {
		return 0
	}
	return r.c.dot.Natural().Width + 12
}

// keyRoom is kept free at the right for the digit.
func (r *choiceRenderer) keyRoom() float32 {
	if r.c.key.Plain() == "" {
		return 0
	}
	return r.c.key.Natural().Width + 4
}

func (r *choiceRenderer) MinSize() fyne.Size {
	m := r.c.content.MinSize().AddWidthHeight(2*choicePad+r.keyRoom()+r.dotRoom(), 2*choicePad)
	m.Height = max(m.Height, choiceHeight*TextScale())
	return m
}

func (r *choiceRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	w := size.Width - 2*choicePad - r.keyRoom() - r.dotRoom()
	place(r.c.content, choicePad+r.dotRoom(), choicePad, w, heightAt(r.c.content, w))
	if r.c.dot != nil {
		d := r.c.dot.Natural()
		place(r.c.dot, choicePad, choicePad, d.Width, d.Height)
	}
	k := r.c.key.Natural()
	place(r.c.key, size.Width-choicePad/2-k.Width-2, choicePad/2, k.Width, k.Height)
}

func (r *choiceRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *choiceRenderer) Destroy()                     {}

// Armed is what a digit leads to: it gets the keyboard, and Enter presses it.
type Armed interface {
	fyne.Focusable
	Arm()
}

// ByDigit is the first visible choice inside o whose digit it is, or button
// whose hint it is; nil if there is none.
func ByDigit(o fyne.CanvasObject, digit int) Armed {
	var found Armed
	Walk(o, func(o fyne.CanvasObject) bool {
		switch c := o.(type) {
		case *Choice:
			if found == nil && c.digit == digit && digit > 0 && !c.Disabled() {
				found = c
			}
		case *Button:
			if found == nil && c.Hint == strconv.Itoa(digit) && !c.Disabled() {
				found = c
			}
		}
		return found == nil
	})
	return found
}
