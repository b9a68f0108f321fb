package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/session"
)

// bounds is where an object is drawn.
func bounds(o fyne.CanvasObject) (x, top, right, bottom float32) {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	return at.X, at.Y, at.X + o.Size().Width, at.Y + o.Size().Height
}

// pictureOf is the picture that stands nearest to an entry.
func (w *window) pictureOf(entry fyne.CanvasObject) (nearest fyne.CanvasObject, gap float32) {
	x, top, right, bottom := bounds(entry)
	gap = 1e6
	for _, f := range frametest.Find[*look.Figure](w.Reader) {
		fx, ftop, fright, fbottom := bounds(f)
		if d := max(fx-right, x-fright, ftop-bottom, top-fbottom); d < gap {
			nearest, gap = f, d
		}
	}
	return nearest, gap
}

// For every step of the shipped trees, at 1280 by 800 and at 480 by 640, field
// and button are on the first screen, after the instruction; of several fields
// the first is, and each has its own picture beside it.
func TestFieldAndButtonAreOnTheFirstScreen(t *testing.T) {
	for _, size := range []fyne.Size{wide, small} {
		w := open(t, size, shipped, unkept)
		w.session.Set(func(s *session.Settings) { s.Role = faulttree.Qualified })
		for _, id := range w.session.Book().Forest.IDs() {
			for _, s := range w.session.Book().Forest.Trees[id].Steps {
				if s.Kind == faulttree.KindMeasure {
					w.beginKnown(s)
					w.wantFieldAndButton(s, size)
				}
			}
		}
	}
}

func (w *window) wantFieldAndButton(s *faulttree.Step, size fyne.Size) {
	w.t.Helper()
	entries := frametest.Find[*look.ReadingEntry](w.Reader)
	if len(entries) != len(s.Measure) {
		w.t.Fatalf("%s: %d entries", s.Ref(), len(entries))
	}
	if w.scrolled() != 0 {
		w.t.Errorf("%s: scrolled by %v at first", s.Ref(), w.scrolled())
	}
	room := size.Height // of what scrolls
	if foot := w.Shown().Foot; foot != nil {
		_, room, _, _ = bounds(foot)
	}
	_, top, _, bottom := bounds(entries[0])
	if len(entries) == 1 {
		_, _, _, button := bounds(w.button("Take this reading"))
		if top < room || bottom > size.Height || button > size.Height {
			w.t.Errorf("%s at %v: the field goes from %v to %v, the button to %v, the instruction to %v", s.Ref(), size, top, bottom, button, room)
		}
		return
	}
	if bottom > room {
		w.t.Errorf("%s at %v: the first field ends at %v, the foot begins at %v", s.Ref(), size, bottom, room)
	}
	seen := map[fyne.CanvasObject]bool{}
	for i, e := range entries {
		picture, gap := w.pictureOf(e)
		if picture == nil || gap > 20 || seen[picture] {
			w.t.Errorf("%s at %v: field %d has no picture of its own beside it, the nearest is %v away", s.Ref(), size, i+1, gap)
		}
		seen[picture] = true
	}
}

// button is the one that says this.
func (w *window) button(text string) *look.Button {
	w.t.Helper()
	for _, b := range frametest.Find[*look.Button](w.Reader) {
		if b.Text() == text {
			return b
		}
	}
	w.t.Fatalf("no button says %q:\n%s", text, w.Text())
	return nil
}
