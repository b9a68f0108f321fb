package circuit

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/faulttree/must"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// window is the page of the circuit over the shipped handbook, with a reader
// at it.
type window struct {
	*frame.Frame
	*frametest.Reader
	t    testing.TB
	area *Area
	book *content.Library
}

var shipped = sync.OnceValue(load.Shipped)

func open(t testing.TB, size fyne.Size) *window {
	t.Helper()
	s := must.Have(session.New(session.Options{}))(t)
	s.UseBook(shipped())
	w := &window{t: t, book: s.Book()}
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{}, place.Circuit("", "", ""), func(f *frame.Frame) {
		w.area = New(f, s)
		f.Add(w.area.Pages(""))
	})
	return w
}

// toCircuit shows a rig with a fault.
func (w *window) toCircuit(rig, fault string) {
	w.t.Helper()
	w.Go(place.Circuit(rig, fault, ""))
	if at := w.area.bench.at; at.ID != rig || at.Query != fault {
		w.t.Fatalf("no circuit is shown:\n%s", w.Text())
	}
}

// dial is the dial with a title.
func (w *window) dial(title string) *look.Dial {
	w.t.Helper()
	for _, dial := range frametest.Find[*look.Dial](w.Reader) {
		if strings.Contains(dial.Title(), title) {
			return dial
		}
	}
	w.t.Fatalf("no dial %q:\n%s", title, w.Text())
	return nil
}

// volts is the number that the page shows beside a name.
func (w *window) volts(name string) float64 {
	w.t.Helper()
	m := regexp.MustCompile(regexp.QuoteMeta(name) + `\s+([0-9.]+) V`).FindStringSubmatch(w.Text())
	if m == nil {
		w.t.Fatalf("the page does not show %s:\n%s", name, w.Text())
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		w.t.Fatal(err)
	}
	return v
}

// Turning one leg up under an open neutral: that leg sags, the other rises, at
// once and everywhere on the page.
func TestStoryOfAnOpenNeutral(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toCircuit("coach-50a", "open-neutral")
	w.Want("The neutral is open", "L1 to neutral", "L2 to neutral", "Body to earth")
	w.Choose("in the cord")
	one, two := w.volts("L1 to neutral, panel"), w.volts("L2 to neutral, panel")
	if one > 100 || two < 140 {
		t.Fatalf("with the neutral open the legs stand at %v and %v V", one, two)
	}
	dial := w.dial("Loads on L2")
	dial.Turn(1)
	if w.volts("L1 to neutral, panel") <= one || w.volts("L2 to neutral, panel") >= two {
		t.Errorf("turned up, L2 does not sag while L1 rises:\n%s", w.Text())
	}
	before := w.volts("L2 to neutral, panel")
	w.Window().Canvas().Focus(dial.Focusable())
	for range 20 {
		w.Key(fyne.KeyLeft)
	}
	if w.volts("L2 to neutral, panel") <= before {
		t.Error("the arrow keys do not turn the dial")
	}
}

// Probes go where the drawing is tapped, red first; the lists say so.
func TestStoryOfTwoProbes(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toCircuit("coach-50a", "")
	w.Want("A sound circuit", "Put the red probe and the black one on a test point")
	f := frametest.Find[*look.LiveFigure](w.Reader)[0]
	plan := figure.NewOneline(figure.OnelinePlan{Rig: w.area.bench.scene.Rig(), Loads: w.area.bench.scene.State().Loads,
		Points: func(node string) bool { return w.book.Points[node].ID != "" }, Width: float64(f.Size().Width - 24)})
	for _, node := range []string{"panel.l1", "panel.n"} {
		for _, s := range plan.Spots() {
			if s.Node == node {
				test.TapAt(f, f.PositionOf(s.At))
			}
		}
	}
	if red, black := w.area.bench.scene.Probes(); red != "panel.l1" || black != "panel.n" {
		t.Fatalf("the probes are on %q and %q", red, black)
	}
	lists := frametest.Find[*look.Select](w.Reader)
	if r, b := lists[len(lists)-2].Selected, lists[len(lists)-1].Selected; !strings.Contains(r, "L1") || !strings.Contains(strings.ToLower(b), "neutral") {
		t.Errorf("the lists say %q and %q", r, b)
	}
	if !regexp.MustCompile(`\b1[12][0-9]\.[0-9] V\n`).MatchString(w.Text()) {
		t.Errorf("the meter shows no line voltage:\n%s", w.Text())
	}
	w.Press("Ohms")
	w.Want("DANGER: ")
}

// The page can be used with the keyboard alone: every control is reached.
func TestCircuitByKeyboard(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toCircuit("coach-50a", "high-resistance-neutral")
	kinds := map[string]int{}
	c := w.Window().Canvas()
	c.Unfocus()
	for range 80 {
		c.FocusNext()
		switch c.Focused().(type) {
		case *look.Select:
			kinds["list"]++
		case *look.Check:
			kinds["check"]++
		case *look.Nav:
			kinds["option"]++
		case *look.Button:
			kinds["button"]++
		case nil:
		default:
			kinds["other"]++ // dials, the search entry
		}
	}
	for kind, least := range map[string]int{"list": 4, "check": 3, "option": 5, "button": 2, "other": 3} {
		if kinds[kind] < least {
			t.Errorf("Tab reaches %d of kind %s, want %d", kinds[kind], kind, least)
		}
	}
}

// The arrow keys go from fault to fault, and the keyboard stays on the list.
func TestCircuitFaultsByArrows(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toCircuit("coach-50a", "")
	faults := w.area.bench.scene.Faults()
	w.Window().Canvas().Focus(frametest.Find[*look.Select](w.Reader)[1])
	for i := range 3 {
		w.Key(fyne.KeyDown)
		if got := w.area.bench.scene.Fault(); got == nil || got.ID != faults[i].ID {
			t.Fatalf("after %d presses the fault is %v, want %s", i+1, got, faults[i].ID)
		}
		w.Want(faults[i].Title)
	}
	w.Key(fyne.KeyHome)
	w.Want("A sound circuit")
}

// A switch opens what it switches, and a dead vehicle shows it.
func TestCircuitSwitches(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toCircuit("coach-50a", "")
	if v := w.volts("L1 to neutral, panel"); math.Abs(v-119) > 5 {
		t.Fatalf("plugged in, L1 stands at %v V", v)
	}
	for _, c := range frametest.Find[*look.Check](w.Reader) {
		if strings.Contains(c.Text, "main breaker") {
			c.SetChecked(false)
		}
	}
	if strings.Contains(w.Text(), "L1 to neutral, panel\n11") {
		t.Errorf("with the main off:\n%s", w.Text())
	}
}

// Whatever is plugged, thrown or turned, no switch, dial or list moves: a click
// meant for one never meets another. Warnings and a larger drawing come below.
func TestSwitchesKeepTheirPlaces(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Wide, frametest.Middle, frametest.Small} {
		w := open(t, size)
		warned := false
		for _, fault := range []string{"hot-to-body-short", "open-ground", "open-neutral"} {
			w.toCircuit("coach-50a", fault)
			all := w.Pressables()
			first := slices.IndexFunc(all, func(o fyne.CanvasObject) bool { _, ok := o.(*look.Nav); return ok })
			last := slices.IndexFunc(all, func(o fyne.CanvasObject) bool { _, ok := o.(*look.Button); return ok })
			controls, meter := all[:first], all[first:last] // above the drawing, and below it
			for _, dial := range frametest.Find[*look.Dial](w.Reader) {
				for _, share := range []float64{0, 1, 0.5} {
					w.WantSteady(fmt.Sprintf("%v, %s, %s to %v", size, fault, dial.Title(), share), controls, func() { dial.Turn(share) })
				}
			}
			for _, c := range frametest.Find[*look.Check](w.Reader) {
				look.Reveal(c)
				for range 2 {
					w.WantSteady(fmt.Sprintf("%v, %s, %s", size, fault, c.Plain()), controls, func() { test.Tap(c) })
					warned = warned || strings.Contains(w.Text(), "it can kill") || strings.Contains(w.Text(), "Tripped: ")
				}
			}
			for _, o := range meter {
				if n, ok := o.(*look.Nav); ok {
					w.WantSteady(fmt.Sprintf("%v, %s, %s", size, fault, n.Plain()), meter, func() { n.Tapped(nil) })
				}
			}
			for _, list := range frametest.Find[*look.Select](w.Reader)[3:] {
				w.WantSteady(fmt.Sprintf("%v, %s, a probe", size, fault), meter, func() { list.SetSelectedIndex(2) })
			}
		}
		if !warned {
			t.Error("nothing came that could have moved them")
		}
	}
}

// Each circuit opens with each fault that it offers, at every width, and the
// page never scrolls sideways.
func TestEveryCircuitOpens(t *testing.T) {
	w := open(t, frametest.Small)
	for id := range w.book.Rigs {
		w.toCircuit(id, "")
		faults := w.area.bench.scene.Faults()
		if len(faults) == 0 {
			t.Errorf("%s has no faults to show", id)
		}
		for _, f := range faults {
			w.toCircuit(id, f.ID)
			if got := w.area.bench.scene.Fault(); got != f {
				t.Errorf("%s: asked for %s, shown is %v", id, f.ID, got)
			}
			if strings.Contains(w.Text(), "cannot be computed") {
				t.Errorf("%s with %s cannot be computed", id, f.ID)
			}
		}
	}
}

// Changing the rig keeps the fault where the next rig can have it.
func TestCircuitChangesItsRig(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toCircuit("coach-50a", "open-ground")
	w.Choose(w.book.Rigs["trailer-30a"].Title)
	if s := w.area.bench.scene; s.Rig().ID != "trailer-30a" || s.Fault() == nil || s.Fault().ID != "open-ground" {
		t.Errorf("shown is %s with %v", s.Rig().ID, s.Fault())
	}
}

// From a slider's move to the new drawing under 16 ms: solve, draw, set the
// texts and paint the shapes at the size of a window.
func BenchmarkSliderToRedraw(b *testing.B) {
	w := open(b, frametest.Wide)
	w.toCircuit("coach-50a", "open-neutral")
	dial := w.dial("Loads on L1")
	f := frametest.Find[*look.LiveFigure](w.Reader)[0]
	share := 0.0
	for b.Loop() {
		share = math.Mod(share+0.37, 1)
		dial.Turn(share)
		f.Paint(1016, 380)
	}
}

// BenchmarkEmptyRedraw is the same without a circuit, to compare with.
func BenchmarkEmptyRedraw(b *testing.B) {
	w := open(b, frametest.Wide)
	f := look.NewLiveFigure(figure.Drawing{Width: 1016, Height: 380})
	w.Window().SetContent(f)
	for b.Loop() {
		f.SetDrawing(figure.Drawing{Width: 1016, Height: 380})
		f.Paint(1016, 380)
	}
}
