package look

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestGridCountsItsColumns(t *testing.T) {
	start(t)
	var cells []fyne.CanvasObject
	for range 5 {
		cells = append(cells, NewChoice(0, "A tingle or a shock", "from the door", nil))
	}
	g := Grid(260, 14, 3, cells...)
	for width, want := range map[float32]int{300: 1, 533: 1, 534: 2, 808: 3, 4000: 3} {
		g.Resize(fyne.NewSize(width, heightAt(g, width)))
		n := 0
		for _, c := range cells {
			if c.Position().Y == 0 {
				n++
			}
		}
		if n != want {
			t.Errorf("%v wide: %d columns, want %d", width, n, want)
		}
	}
}

func TestRowBreaks(t *testing.T) {
	start(t)
	a, b, c := NewPrimary("Take this reading", nil), NewButton("I cannot measure this", nil), NewButton("Back", nil)
	r := Row(12, a, b, c)
	all := a.Natural().Width + b.Natural().Width + c.Natural().Width + 24
	r.Resize(fyne.NewSize(all+1, heightAt(r, all+1)))
	if c.Position().Y != 0 {
		t.Error("breaks although there is room")
	}
	one := r.MinSize().Height
	r.Resize(fyne.NewSize(all-10, heightAt(r, all-10)))
	if c.Position().Y == 0 || c.Position().X != 0 {
		t.Errorf("the last button is at %v", c.Position())
	}
	if two := r.MinSize().Height; two != 2*one+12 {
		t.Errorf("two lines are %v tall, one is %v", two, one)
	}
	r.Resize(fyne.NewSize(120, heightAt(r, 120)))
	if a.Size().Width > 120 {
		t.Errorf("a button is %v wide in 120", a.Size().Width)
	}
}

func TestBesideStacksWhenNarrow(t *testing.T) {
	start(t)
	e, s := NewReadingEntry("V"), NewText("Leads to: stop, unplug")
	o := Beside(0, 200, 18, e, s)
	o.Resize(fyne.NewSize(700, heightAt(o, 700)))
	if s.Position().X <= e.Size().Width {
		t.Errorf("the sentence is at %v", s.Position())
	}
	o.Resize(fyne.NewSize(300, heightAt(o, 300)))
	if s.Position().X != 0 || s.Position().Y < e.Size().Height {
		t.Errorf("the sentence is at %v", s.Position())
	}
}

func TestStackGrowsWithItsText(t *testing.T) {
	start(t)
	p := NewText("short")
	s := Stack(8, p, NewText("below"))
	s.Resize(fyne.NewSize(200, heightAt(s, 200)))
	before := s.MinSize().Height
	p.SetText("long enough to need three lines at this width, surely and truly")
	if s.MinSize().Height <= before {
		t.Error("the stack does not see that its text has grown")
	}
}

func TestColumns(t *testing.T) {
	start(t)
	told := 0
	c := NewColumns(railSample(), NewTitle("Faultwright"))
	c.OnColumns = func(n int) { told = n }
	c.SetContent(sampler(), sideSample(), nil)
	w := test.NewTempWindow(t, c)
	w.SetPadded(false)
	for _, s := range []struct {
		size fyne.Size
		want int
	}{
		{fyne.NewSize(480, 640), 1}, {fyne.NewSize(799, 600), 1}, {fyne.NewSize(800, 600), 2}, {fyne.NewSize(1099, 700), 2},
		{fyne.NewSize(1100, 700), 3}, {fyne.NewSize(3840, 2160), 3}, {fyne.NewSize(480, 640), 1},
	} {
		w.Resize(s.size)
		if c.Count() != s.want || told != s.want {
			t.Errorf("%v: %d columns, told %d, want %d", s.size, c.Count(), told, s.want)
		}
		for _, scroll := range []*Scroll{c.main, c.aside} {
			if scroll.Content.Size().Width > scroll.Size().Width {
				t.Errorf("%v: content %v wide in %v scrolls sideways", s.size, scroll.Content.Size().Width, scroll.Size().Width)
			}
			if m := scroll.Content.MinSize().Height; scroll.Size().Width > 0 && scroll.Content.Size().Height < m {
				t.Errorf("%v: content of %v is cut off at %v", s.size, m, scroll.Content.Size().Height)
			}
		}
		if at, edge := rightmost(c.main, 0); edge > c.main.Position().X+c.main.Size().Width {
			t.Errorf("%v: %q sticks out at %v", s.size, at, edge)
		}
	}
	if m := c.MinSize(); m.Width > 480 || m.Height > 640 {
		t.Errorf("the window cannot be smaller than %v", m)
	}
}

func TestFocusComesIntoView(t *testing.T) {
	start(t)
	var rows []fyne.CanvasObject
	var last *Button
	for range 40 {
		last = NewButton("Back", nil)
		rows = append(rows, last)
	}
	s := NewScroll(Stack(8, rows...))
	w := test.NewTempWindow(t, s)
	w.Resize(fyne.NewSize(300, 300))
	w.Canvas().Focus(last)
	if top := last.Position().Y - s.Offset.Y; top < 0 || top+last.Size().Height > s.Size().Height {
		t.Errorf("the focused button is at %v of %v", top, s.Size().Height)
	}
	w.Canvas().Focus(rows[0].(*Button))
	if s.Offset.Y != 0 {
		t.Errorf("back at the top the offset is %v", s.Offset.Y)
	}
}

func TestScrollKeepsItsPlaceOnResize(t *testing.T) {
	start(t)
	c := NewColumns(railSample(), NewTitle("Faultwright"))
	c.SetContent(sampler(), nil, nil)
	w := test.NewTempWindow(t, c)
	w.Resize(fyne.NewSize(900, 400))
	c.SetOffset(120)
	w.Resize(fyne.NewSize(950, 420))
	if c.Offset() != 120 {
		t.Errorf("the offset is %v", c.Offset())
	}
}
