package look

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
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
}

// NewChoice makes a choice. Digit 1 to 9 is shown in the corner; any other is
// not. The view that holds the choices listens for the digit itself, see
// [Digits].
func NewChoice(digit int, title, text string, tapped func()) *Choice {
	c := &Choice{digit: digit, title: title, text: text}
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

// Title is the choice's first line.
func (c *Choice) Title() string { return c.title }

// Digit is the key that chooses it, or 0.
func (c *Choice) Digit() int { return c.digit }

// Plain is both lines, see [TextOf].
func (c *Choice) Plain() string {
	if c.text == "" {
		return c.title
	}
	return c.title + "\n" + c.text
}

// AccessibilityLabel is the title.
func (c *Choice) AccessibilityLabel() string { return c.title }

// AccessibilityRole is that of a button.
func (c *Choice) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

const (
	choicePad    float32 = 20
	choiceHeight float32 = 76 // at text size 1, so that one-line and two-line choices match
)

// CreateRenderer is called by the toolkit.
func (c *Choice) CreateRenderer() fyne.WidgetRenderer {
	r := &choiceRenderer{c: c, frame: newFrame(theme.Size(theme.SizeNameCardRadius))}
	r.objects = append(r.frame.objects(), c.content, c.key)
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
	if r.c.hovered || r.c.focused {
		border = ColorAccent
	}
	r.frame.paint(r.c, &r.c.press, ColorPanel, border, width)
	r.c.content.Refresh()
	r.c.key.Refresh()
	canvas.Refresh(r.c)
}

// keyRoom is kept free at the right for the digit.
func (r *choiceRenderer) keyRoom() float32 {
	if r.c.key.Plain() == "" {
		return 0
	}
	return r.c.key.Natural().Width + 4
}

func (r *choiceRenderer) MinSize() fyne.Size {
	m := r.c.content.MinSize().AddWidthHeight(2*choicePad+r.keyRoom(), 2*choicePad)
	m.Height = max(m.Height, choiceHeight*TextScale())
	return m
}

func (r *choiceRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	w := size.Width - 2*choicePad - r.keyRoom()
	place(r.c.content, choicePad, choicePad, w, heightAt(r.c.content, w))
	k := r.c.key.Natural()
	place(r.c.key, size.Width-choicePad/2-k.Width-2, choicePad/2, k.Width, k.Height)
}

func (r *choiceRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *choiceRenderer) Destroy()                     {}

// Digits presses the first visible choice inside o whose digit r is, or button
// whose hint it is; it reports whether there was one. A view calls it for
// runes typed while no entry has the keyboard.
func Digits(o fyne.CanvasObject, r rune) bool {
	if r < '1' || r > '9' {
		return false
	}
	var found fyne.Tappable
	Walk(o, func(o fyne.CanvasObject) bool {
		if found != nil {
			return false
		}
		switch c := o.(type) {
		case *Choice:
			if c.digit == int(r-'0') && !c.Disabled() {
				found = c
			}
		case *Button:
			if c.Hint == string(r) && !c.Disabled() {
				found = c
			}
		}
		return found == nil
	})
	if found == nil {
		return false
	}
	found.Tapped(nil)
	return true
}
