package practice

import (
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// window is the pages of practice over the shipped handbook, with a reader at
// them.
type window struct {
	*frame.Frame
	*frametest.Reader
	t    testing.TB
	area *Area
	book *content.Library
}

var shipped = sync.OnceValue(load.Shipped)

// open opens a window over a handbook without a rubric: marks take a while.
func open(t testing.TB, size fyne.Size) *window {
	t.Helper()
	return openWith(t, size, session.Options{}, unmarked())
}

// unmarked is the shipped handbook without its rubric.
var unmarked = sync.OnceValue(func() *content.Library {
	lib := *shipped()
	lib.Rubric = nil
	return &lib
})

func openWith(t testing.TB, size fyne.Size, o session.Options, book *content.Library) *window {
	t.Helper()
	if o.Now == nil {
		o.Now = func() time.Time { return time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC) }
	}
	o.Random = func() uint64 { return 7 }
	s := must.Have(session.New(o))(t)
	s.UseBook(book)
	w := &window{t: t, book: s.Book()}
	rail := []frame.RailEntry{{Name: "Practice", Open: func() {
		if at, ok := w.area.UnderWay(); ok {
			w.Go(at)
		}
	}}}
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{Rail: rail}, place.Scenarios(), func(f *frame.Frame) {
		w.area = New(f, s)
		f.Add(w.area.Pages(""))
	})
	return w
}

// toScenario shows a scenario of the shipped handbook.
func (w *window) toScenario(id string) *trying {
	w.t.Helper()
	w.Go(place.Scenario(id))
	try := w.area.practice.tries[keyOf(place.Scenario(id))]
	if try == nil {
		w.t.Fatalf("no scenario is shown:\n%s", w.Text())
	}
	if try.phase == beginning {
		w.Press("On my own")
	}
	return try
}

// probe puts the probes on two points by the lists and takes the reading.
func (w *window) probe(try *trying, red, black string) {
	w.t.Helper()
	lists := []*look.Select{try.bench.red, try.bench.black}
	for i, id := range []string{red, black} {
		title := scenes.PointName(id)
		at := -1
		for k, o := range lists[i].Options {
			if o == title {
				at = k
			}
		}
		if at < 0 {
			w.t.Fatalf("no probe can be put on %s", title)
		}
		lists[i].SetSelectedIndex(at)
	}
	w.Press("Take this reading")
	w.Press("Do it") // where it is asked: up the step, a hand on the body
}

func TestStoryPractises(t *testing.T) {
	w := openWith(t, frametest.Wide, session.Options{}, shipped())
	w.Press("Practice")
	w.Want("Somebody tells what their vehicle does")
	w.Press("A buzz in the knuckles")
	w.Press("With help at hand")
	try := w.area.practice.tries[keyOf(place.Scenario("buzz-after-the-rain"))]
	if text := w.Text(); strings.Contains(text, try.scenario.Answer) {
		t.Error("the answer is shown before anything was named")
	}
	w.Press("Prove the meter")
	w.Want("120.0 V")
	w.probe(try, "body", "earth")
	if a := try.last; !a.Numeric() || a.Reading().Low < 45*faulttree.One {
		t.Errorf("the body reads %s; expected about half of line, circuit arithmetic", a.Shown)
	}
	w.Want(try.last.Shown)
	w.Press("Take the walk beside it")
	if w.Here().Page != place.WalkPage {
		t.Errorf("the tree is at %+v", w.Here())
	}
	w.Press("Practice") // back to the vehicle
	w.Want("Body to earth")
	w.probe(try, "pedestal.l1", "pedestal.n")
	w.Want("is in the way")
	w.Check("The plug in the pedestal", false) // with the breaker on
	w.Want("Pull out the plug")
	w.Press("Do it")
	w.conclude(try, "open-ground")
	w.Want("It is so, but it was a guess")
	w.Want("In act 3 the plug in the pedestal was pulled with the breaker ahead of it on", "Read why", strings.ToUpper("Your marks, each with its reason"))
	w.Want("Nothing was repaired and read again.")
	w.Want("It was: The grounding conductor is open (supply)", " V to 61.") // nine tenths of the vehicles that are drawn, half of line
	w.Want(try.scenario.Answer)
	w.Go(place.Scenarios())
	if text := w.Text(); strings.Contains(text, "Found, with") {
		t.Error("the list tells what somebody found")
	}
	w.Want("Practised before. It begins anew.")
	w.Press("A buzz in the knuckles") // opens without its answer: others use this computer too
	if text := w.Text(); strings.Contains(text, try.scenario.Answer) {
		t.Error("the answer opens by itself")
	}
	w.Press("On my own")
	w.Want("Done so far: nothing yet")
}

// An attempt is on disk before its readings are shown: another window goes on with
// it where this one was. It is deleted on wish, once that is confirmed.
func TestAttemptsAreKept(t *testing.T) {
	folder := t.TempDir()
	openKept := func() *window {
		kept := must.Have(store.Open(folder))(t)
		t.Cleanup(func() { kept.Close() })
		w := openWith(t, frametest.Wide, session.Options{Practice: session.OnDisk(kept), Now: func() time.Time { return time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC) }}, unmarked())
		return w
	}
	w := openKept()
	try := w.toScenario("buzz-after-the-rain")
	w.probe(try, "body", "earth")
	shown := try.last.Shown
	try.left() // as when the window is closed or killed: nothing more is written
	w = openKept()
	w.Go(place.Scenario("buzz-after-the-rain"))
	w.Want("on my own · 1 reading · not ended")
	w.Press("Go on with it")
	w.Want("Body to earth", shown)
	again := w.area.practice.tries[keyOf(place.Scenario("buzz-after-the-rain"))]
	w.Press("Prove the meter")
	if n := len(again.attempt().Acts); n != 2 {
		t.Fatalf("gone on with, it has %d acts", n)
	}
	w.Press("Begin again")
	w.Press("Delete it")
	w.Want("Delete it for good", "Keep it")
	w.Press("Keep it")
	w.Want("2 readings · not ended")
	w.Press("Delete it")
	w.Press("Delete it for good")
	if strings.Contains(w.Text(), "not ended") {
		t.Errorf("deleted, it is there:\n%s", w.Text())
	}
}

// What is chosen and typed of a conclusion, and half of what is foreseen of a reading,
// outlive the program: the next window has them where they were left.
func TestWhatWasNotSaidYetIsKept(t *testing.T) {
	folder := t.TempDir()
	next := func() (*window, *trying) { // nothing is closed: the window before it was killed
		kept := must.Have(store.Open(folder))(t)
		t.Cleanup(func() { kept.Close() })
		w := openWith(t, frametest.Wide, session.Options{Practice: session.OnDisk(kept)}, unmarked())
		at := place.Scenario("lamps-like-candles")
		w.Go(at)
		if strings.Contains(w.Text(), "Go on with it") {
			w.Press("Go on with it")
		} else {
			w.Press("Step by step")
		}
		return w, w.area.practice.tries[keyOf(at)]
	}
	w, try := next()
	w.Choose("from 12.4 V to 13 V")
	try.left()
	w, try = next()
	if h := try.help; h.expects == 0 || h.tells != 0 || h.step.Expects[h.expects-1].Text != "from 12.4 V to 13 V" {
		t.Fatalf("foreseen is %+v", h)
	}
	w.Choose("The meter can be trusted")
	try.left()
	w, try = next()
	w.Press("Prove the meter")
	if p := try.attempt().Predictions; len(p) != 1 || p[0].Expects != "from 12.4 V to 13 V" || p[0].Tells != "The meter can be trusted" {
		t.Fatalf("on record is %+v", p)
	}
	if h := try.help; h.expects != 0 || h.tells != 0 {
		t.Errorf("of the next reading %+v is foreseen", h)
	}
	w.Press("Conclude")
	w.Choose("A 12 V connection is corroded (12 V)")
	w.Press("Likely: the readings point to it")
	field := frametest.Find[*look.Field](w.Reader)[0]
	w.Window().Canvas().Focus(field)
	for _, r := range "Clean the clam" { // the hand is in the middle of a word
		field.TypedRune(r)
	}
	try.left()
	w, try = next()
	w.WantSaid("What you had begun to conclude is still there")
	w.Press("Conclude")
	w.Want("A 12 V connection is corroded (12 V)")
	if w.Said() != "" {
		t.Errorf("where it leads it still says %q", w.Said())
	}
	if d := try.draft; d.Tell != "Clean the clam" || d.Sure != practice.Likely || frametest.Find[*look.Field](w.Reader)[0].Text != d.Tell {
		t.Errorf("of the conclusion there is %+v", d)
	}
}
