package look

import (
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// options is the open list of a [Select]. It follows the keyboard, so that a
// long list shows what would be chosen.
type options struct {
	widget.List

	rows  []string
	at    int // the row that Enter takes
	take  func(row int)
	leave func()
}

func newOptions(rows []string, take func(row int), leave func()) *options {
	o := &options{rows: rows, take: take, leave: leave}
	o.Length = func() int { return len(o.rows) }
	o.CreateItem = func() fyne.CanvasObject { return newOption("") }
	o.UpdateItem = func(row widget.ListItemID, item fyne.CanvasObject) { item.(*widget.Label).SetText(o.rows[row]) }
	o.OnSelected = func(row widget.ListItemID) { o.take(row) }
	o.OnHighlighted = func(row widget.ListItemID) { o.at = row }
	o.HideSeparators = true
	o.ExtendBaseWidget(o)
	return o
}

// newOption is one row; what does not fit on a line goes on on the next.
func newOption(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// fit gives every row the height that it needs, and returns the size of all: no
// narrower than least, wide enough for the longest row, and no wider than most.
func (o *options) fit(least, most float32) fyne.Size {
	const between = 4
	size := fyne.NewSize(least, 0)
	for _, r := range o.rows {
		size.Width = max(size.Width, widget.NewLabel(r).MinSize().Width+between)
	}
	size.Width = min(size.Width, most)
	for i, r := range o.rows {
		l := newOption(r)
		l.Resize(fyne.NewSize(size.Width, 0))
		o.SetItemHeight(i, l.MinSize().Height)
		size.Height += l.MinSize().Height + between
	}
	return size
}

// TypedKey takes a row on Enter and Space and leaves on Escape.
func (o *options) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		o.take(o.at)
	case fyne.KeyEscape:
		o.leave()
	case fyne.KeyHome:
		o.Highlight(0)
	case fyne.KeyEnd:
		o.Highlight(len(o.rows) - 1)
	default:
		o.List.TypedKey(ev)
	}
}

// TypedRune goes to the next row that begins with a letter.
func (o *options) TypedRune(r rune) {
	for i := range o.rows {
		row := (o.at + 1 + i) % len(o.rows)
		if strings.HasPrefix(strings.ToLower(o.rows[row]), string(unicode.ToLower(r))) {
			o.Highlight(row)
			return
		}
	}
}

// open shows all options under the list, or over it where there is no room.
func (s *Select) open() {
	c := canvasOf(s)
	if c == nil || len(s.Options) == 0 {
		return
	}
	var pop *widget.PopUp
	leave := func() {
		pop.Hide()
		c.Focus(s)
	}
	list := newOptions(s.Options, func(row int) {
		leave()
		s.SetSelectedIndex(row)
	}, leave)
	pop = widget.NewPopUp(list, c)
	const gap = 8
	size := list.fit(s.Size().Width, c.Size().Width-2*gap).AddWidthHeight(0, gap)
	size.Height = min(size.Height, c.Size().Height-2*gap)
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(s).AddXY(0, s.Size().Height)
	at.X = max(gap, min(at.X, c.Size().Width-gap-size.Width))
	at.Y = max(gap, min(at.Y, c.Size().Height-gap-size.Height))
	pop.Resize(size)
	pop.ShowAtPosition(at)
	c.Focus(list)
	list.Highlight(max(0, s.SelectedIndex()))
}

// Tapped opens the list.
func (s *Select) Tapped(*fyne.PointEvent) {
	if s.Disabled() {
		return
	}
	if c := canvasOf(s); c != nil {
		c.Focus(s)
	}
	s.open()
}
