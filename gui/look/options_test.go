package look

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
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

// What is longer than the list is read whole: the open list is as wide as its longest
// row, and where the window has no room for that, the row goes on on the next line.
func TestLongOptionsAreReadWhole(t *testing.T) {
	start(t)
	rows := []string{"short", "The grounding conductor is open, or the ground of one branch is open, or the body is not joined to the ground of the panel (vehicle)"}
	for _, width := range []float32{1280, 480} {
		s := NewSelect(rows, 0, func(int) {})
		w := test.NewTempWindow(t, s)
		w.SetPadded(false)
		w.Resize(fyne.NewSize(width, 700))
		s.Resize(fyne.NewSize(300, s.MinSize().Height))
		s.Move(fyne.NewPos(width-310, 10))
		test.Tap(s)
		list, ok := w.Canvas().Focused().(*options)
		if !ok {
			t.Fatal("the list does not open")
		}
		seen := 0
		for _, o := range test.LaidOutObjects(list) {
			row, ok := o.(*widget.Label)
			if !ok || row.Text != rows[1] {
				continue
			}
			seen++
			left := fyne.CurrentApp().Driver().AbsolutePositionForObject(row).X
			if need := row.MinSize(); left < 0 || left+row.Size().Width > width || need.Width > row.Size().Width || need.Height > row.Size().Height {
				t.Errorf("in %v a row at %v has %v and needs %v", width, left, row.Size(), need)
			}
		}
		if seen != 1 || list.GetScrollOffset() != 0 {
			t.Errorf("in %v the long row is seen %d times", width, seen)
		}
		w.Canvas().Overlays().Remove(w.Canvas().Overlays().Top())
	}
}
