package look

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// A long list is chosen from by the keyboard: the arrows and first letters move
// through all of it, Enter takes, Escape leaves things as they were.
func TestSelectOpensAListForTheKeyboard(t *testing.T) {
	test.NewTempApp(t)
	var rows []string
	for i := range 60 {
		rows = append(rows, fmt.Sprintf("fault %02d", i))
	}
	rows = append(rows, "the neutral is open")
	chosen := -1
	s := NewSelect(rows, 2, func(i int) { chosen = i })
	w := test.NewTempWindow(t, s)
	w.Resize(fyne.NewSize(400, 300))
	c := w.Canvas()
	key := func(name fyne.KeyName) { c.Focused().TypedKey(&fyne.KeyEvent{Name: name}) }
	c.Focus(s)

	key(fyne.KeyReturn)
	list, ok := c.Focused().(*options)
	if !ok {
		t.Fatalf("Enter gives the keyboard to %T", c.Focused())
	}
	if got := list.Size().Height; got > 300 {
		t.Errorf("the list is %v high in a window of 300", got)
	}
	for range 40 {
		key(fyne.KeyDown)
	}
	if list.GetScrollOffset() == 0 {
		t.Error("the list does not follow the keyboard")
	}
	key(fyne.KeyReturn)
	if chosen != 42 || s.Selected != rows[42] || c.Focused() != fyne.Focusable(s) {
		t.Errorf("chose %d, shown %q, keyboard at %T", chosen, s.Selected, c.Focused())
	}

	key(fyne.KeySpace)
	c.Focused().TypedRune('T')
	key(fyne.KeyEscape)
	if chosen != 42 {
		t.Errorf("Escape chose %d", chosen)
	}
	test.Tap(s)
	c.Focused().TypedRune('t')
	key(fyne.KeyEnter)
	if chosen != 60 {
		t.Errorf("the letter t and Enter chose %d", chosen)
	}
}
