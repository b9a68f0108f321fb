package flow

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content/figure"
	marks "faultwright/content/flow"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// pane is the drawing on the page.
func (w *window) pane() *look.Viewport { return w.Shown().Body[1].(*look.Viewport) }

// By keys alone: from the first step to its plates, by one of them on to a step, to
// that step's own page, and back to the flow as it was.
func TestAFlowIsFollowedByKeysAlone(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Want("Step 1 What do you see, hear or smell?")
	w.Key(fyne.KeyRight)
	w.Want("To another walk.", "(A hot plug or cord)")
	w.Key(fyne.KeyDown)
	w.Key(fyne.KeyDown)
	w.Want("Go on to step 2 Breaker off, plug out, now.")
	w.Key(fyne.KeyReturn)
	w.Want("Step 2 Breaker off, plug out, now.")
	before := w.pane().View()
	w.Key(fyne.KeyReturn)
	if w.Here() != place.Document("step", "half-dead#too-bright") {
		t.Fatalf("Enter leads to %+v", w.Here())
	}
	w.Back()
	w.Want("Step 2 Breaker off, plug out, now.")
	if got := w.pane().View(); got != before {
		t.Errorf("the flow is shown at %+v, and was left at %+v", got, before)
	}
	w.Key(fyne.KeyRight)
	w.Key(fyne.KeyLeft)
	w.Want("Step 2 Breaker off")
}

// A plate of another walk leads to that walk's flow, to the very step.
func TestADoorLeadsIntoTheOtherFlow(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Key(fyne.KeyRight)
	w.Key(fyne.KeyReturn)
	if w.Here() != place.Flow("heat", "") {
		t.Fatalf("the door leads to %+v", w.Here())
	}
	w.Want("STOP: leave it alone until it is off and cool")
}

// The whole is in view at 0, and everything reads at 100 % at 1; what has the keyboard is
// in view after every key, at every size of window.
func TestWhatHasTheKeyboardIsInView(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Small, frametest.Middle, frametest.Wide} {
		w := open(t, size)
		for _, key := range []fyne.KeyName{fyne.KeyRight, fyne.KeyDown, fyne.KeyDown, fyne.KeyReturn, fyne.KeyDown, fyne.KeyDown, fyne.KeyRight, fyne.KeyLeft, fyne.KeyUp} {
			w.Key(key)
			l := w.area.laid.layout
			b := l.Boxes[newFlowPage(w.area, w.Here(), l, w.area.seen["half-dead"]).marks.At]
			at, room := w.pane().PositionOf(figure.Point{X: b.Left, Y: b.Top}), w.pane().Size()
			if at.X < 0 || at.Y < 0 || at.X > room.Width || at.Y > room.Height {
				t.Errorf("at %v after %s %q is out of view, at %v of %v", size, key, l.Graph.Nodes[b.Node].Title, at, room)
			}
		}
		w.Type("0")
		d := w.area.laid.layout
		low, high := w.pane().PositionOf(figure.Point{}), w.pane().PositionOf(figure.Point{X: d.Width, Y: d.Height})
		if room := w.pane().Size(); low.X < -1 || low.Y < -1 || high.X > room.Width+1 || high.Y > room.Height+1 {
			t.Errorf("at %v the whole lies from %v to %v in %v", size, low, high, room)
		}
		w.Type("1")
		if z := w.pane().View().Zoom; z != 1 {
			t.Errorf("100 %% is %v", z)
		}
		w.Type("+")
		w.Type("-")
		if z := w.pane().View().Zoom; z < 0.99 || z > 1.01 {
			t.Errorf("nearer and farther again is %v", z)
		}
	}
}

// Words are found in all boxes, and N goes from one to the next; the words stay with the
// place.
func TestWordsAreFoundInTheFlow(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Type("f")
	w.Type("spike")
	found := w.area.laid.layout.Graph.Find("spike")
	w.Want(fmt.Sprintf("%d found", len(found)))
	w.Key(fyne.KeyReturn)
	first := w.Shown().Foot
	for range found {
		w.Key(fyne.KeyReturn)
	}
	if again := w.Shown().Foot; look.TextOf(first) != look.TextOf(again) {
		t.Errorf("after all boxes found comes %q, not %q", look.TextOf(again), look.TextOf(first))
	}
	if w.Here().Query != "spike" {
		t.Errorf("the place has %q", w.Here().Query)
	}
}

// A tap marks a box, a second one opens it; dragging and the wheel move the drawing.
func TestAFlowByPointer(t *testing.T) {
	w := open(t, frametest.Wide)
	l := w.area.laid.layout
	plate := l.Boxes[l.Next(l.First(), 1, 0)]
	tap := func() {
		at := w.pane().PositionOf(figure.Point{X: plate.Left + 5, Y: plate.Top + 5})
		test.TapAt(w.pane(), at)
	}
	tap()
	w.Want("To another walk.")
	before := w.pane().View().Middle
	w.pane().Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(-50, 0)})
	w.pane().Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -30)})
	if got := w.pane().View().Middle; got != before.Add(50, 30) {
		t.Errorf("moved from %v to %v", before, got)
	}
	tap()
	if w.Here() != place.Flow("heat", "") {
		t.Errorf("the second tap leads to %+v", w.Here())
	}
}

// The way of a visit is marked, and where it stands; the flow opens there.
func TestTheWayOfAVisitIsMarked(t *testing.T) {
	w := open(t, frametest.Wide)
	out := must.Have(w.s.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	out = must.Have(w.s.Answer(out.To.ID, faulttree.Answer{Choice: "dead"}))(t)
	w.Go(place.Flow("half-dead", out.To.ID))
	w.Want("What has tripped?")
	g := w.area.laid.layout.Graph
	var walked []string
	for _, n := range g.Nodes {
		if n.Walked {
			walked = append(walked, n.Title)
		}
	}
	if len(walked) != 2 || walked[0] != "What do you see, hear or smell?" {
		t.Errorf("marked are %v", walked)
	}
	w.Key(fyne.KeyUp)
	w.Want("What do you see, hear or smell?")
	must.Have(w.s.Answer(out.To.ID, faulttree.Answer{Choice: "none"}))(t)
	w.Return("")
	w.Want("Breaker off, plug out.") // where the walk stands now
	if text := strings.Join(textsOf(w), "\n"); !strings.Contains(text, "you are here") {
		t.Errorf("nothing says where the walk stands:\n%s", text)
	}
	w.Go(place.Flow("half-dead", ""))
	for _, n := range w.area.laid.layout.Graph.Nodes {
		if n.Walked {
			t.Errorf("%q is marked without a visit", n.Title)
		}
	}
}

// textsOf are the words drawn.
func textsOf(w *window) []string {
	var out []string
	for _, item := range w.area.laid.layout.Draw(marks.NoMarks()).Items {
		if t, ok := item.(figure.Text); ok {
			out = append(out, t.Value)
		}
	}
	return out
}

// A walk that is not there is told.
func TestAFlowThatIsNotThere(t *testing.T) {
	w := open(t, frametest.Small)
	w.Go(place.Flow("no-such-walk", ""))
	w.Want("This walk cannot be drawn: there is no walk \"no-such-walk\".")
}

// Moving the largest flow by one step of the wheel, drawn anew each time.
func BenchmarkMove(b *testing.B) {
	w := open(b, frametest.Wide)
	w.Go(place.Flow("body-voltage", ""))
	b.ReportAllocs()
	for b.Loop() {
		w.pane().Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -3)})
		w.Window().Canvas().Capture()
	}
}

// An author who saves sees the flow change, at the box that he was looking at.
func TestASavedChangeIsSeen(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../testdata/handbook")); err != nil {
		t.Fatal(err)
	}
	w := open(t, frametest.Wide)
	w.s.UseBook(must.Have(load.Dir(t.Context(), dir))(t))
	w.Go(place.Flow("tingle", ""))
	w.Key(fyne.KeyDown)
	was := w.Shown().Text
	at := w.area.seen["tingle"].at
	file := filepath.Join(dir, "trees", "tingle.md")
	text := string(must.Have(os.ReadFile(file))(t))
	title := w.area.laid.layout.Graph.Nodes[1].Title
	if err := os.WriteFile(file, []byte(strings.Replace(text, "## "+title, "## Written anew", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	w.s.UseBook(must.Have(load.Dir(t.Context(), dir))(t))
	w.Return("")
	if now := w.Shown().Text; now != strings.ReplaceAll(was, title, "Written anew") {
		t.Errorf("after the change:\n%s\nbefore:\n%s", now, was)
	}
	if w.area.seen["tingle"].at != at {
		t.Errorf("the keyboard was at %s and is at %s", at, w.area.seen["tingle"].at)
	}
}

// The flow has the room that all else leaves of the window, whatever its size and that of
// the text: nothing of it lies out of view or behind the foot, the foot stands at the
// bottom, and where both have no room the foot is scrolled to.
func TestAFlowHasTheRoomThatIsLeft(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Small, frametest.Middle, frametest.Wide, fyne.NewSize(3840, 2160)} {
		for _, text := range []float32{1, 1.5, 2} {
			w := open(t, size)
			w.SetLook("light", text)
			w.Go(place.Flow("half-dead", ""))
			at := func(o fyne.CanvasObject) fyne.Position {
				return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
			}
			pane, foot := w.pane(), w.Shown().Foot
			top, bottom := at(pane).Y, at(pane).Y+pane.Size().Height
			if bottom > size.Height || top < 0 || pane.Size().Height < look.LeastViewport {
				t.Errorf("%v at %v: the flow lies from %v to %v", size, text, top, bottom)
			}
			l := w.area.laid.layout
			if first := pane.PositionOf(figure.Point{X: l.Boxes[l.First()].Left, Y: l.Boxes[l.First()].Top}); first.X < 10 || first.Y < 10 {
				t.Errorf("%v at %v: the first step begins at %v", size, text, first)
			}
			between, under := at(foot).Y-bottom, size.Height-at(foot).Y-foot.Size().Height
			if between < 0 || between > 60 || pane.Spare > 0 && (under < 0 || under > 40) {
				t.Errorf("%v at %v: the foot lies %v under the flow and %v above the edge", size, text, between, under)
			}
			if size.Width >= 1280 && text == 1 && size.Width-at(pane).X-pane.Size().Width > 40 {
				t.Errorf("%v: the flow is %v wide", size, pane.Size().Width)
			}
		}
	}
}
