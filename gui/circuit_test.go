package gui

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content/figure"
	"faultwright/gui/look"
)

// shippedDesk is a window over the shipped handbook, which has the circuits.
func shippedDesk(t *testing.T, size fyne.Size) *Desk {
	t.Helper()
	return desk(t, size, func(o *Options) { o.ContentDir = ""; o.Visits = nil })
}

// toCircuit shows a rig with a fault.
func (d *Desk) toCircuit(t *testing.T, rig, fault string) {
	t.Helper()
	d.Go(Location{Page: pageCircuit, ID: rig, Query: fault})
	if d.bench.scene == nil {
		t.Fatalf("no circuit is shown:\n%s", d.shown())
	}
}

// find returns the widgets of a type that the page shows.
func find[T fyne.CanvasObject](d *Desk) []T {
	var out []T
	for _, o := range d.pane.body {
		look.Walk(o, func(o fyne.CanvasObject) bool {
			if w, ok := o.(T); ok {
				out = append(out, w)
			}
			return true
		})
	}
	return out
}

// dial is the dial with a title.
func (d *Desk) dial(t *testing.T, title string) *look.Dial {
	t.Helper()
	for _, dial := range find[*look.Dial](d) {
		if strings.Contains(dial.Title(), title) {
			return dial
		}
	}
	t.Fatalf("no dial %q:\n%s", title, d.shown())
	return nil
}

// chooseIn chooses an option in whichever list has it.
func (d *Desk) chooseIn(t *testing.T, option string) {
	t.Helper()
	for _, list := range find[*look.Select](d) {
		for i, o := range list.Options {
			if o == option {
				list.SetSelectedIndex(i)
				return
			}
		}
	}
	t.Fatalf("no list has %q", option)
}

// volts is the number that the page shows beside a name.
func (d *Desk) volts(t *testing.T, name string) float64 {
	t.Helper()
	m := regexp.MustCompile(regexp.QuoteMeta(name) + `\s+([0-9.]+) V`).FindStringSubmatch(d.shown())
	if m == nil {
		t.Fatalf("the page does not show %s:\n%s", name, d.shown())
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Turning one leg up under an open neutral: that leg sags, the other rises, at
// once and everywhere on the page.
func TestStoryOfAnOpenNeutral(t *testing.T) {
	d := shippedDesk(t, wide)
	d.toCircuit(t, "coach-50a", "open-neutral")
	d.wantShown(t, "The neutral is open", "L1 to neutral", "L2 to neutral", "Body to earth")
	d.chooseIn(t, "in the cord")
	one, two := d.volts(t, "L1 to neutral, panel"), d.volts(t, "L2 to neutral, panel")
	if one > 100 || two < 140 {
		t.Fatalf("with the neutral open the legs stand at %v and %v V", one, two)
	}
	dial := d.dial(t, "Loads on L2")
	dial.Turn(1)
	if d.volts(t, "L1 to neutral, panel") <= one || d.volts(t, "L2 to neutral, panel") >= two {
		t.Errorf("turned up, L2 does not sag while L1 rises:\n%s", d.shown())
	}
	before := d.volts(t, "L2 to neutral, panel")
	d.window.Canvas().Focus(dial.Focusable())
	for range 20 {
		d.key(fyne.KeyLeft)
	}
	if d.volts(t, "L2 to neutral, panel") <= before {
		t.Error("the arrow keys do not turn the dial")
	}
}

// Probes go where the drawing is tapped, red first; the lists say so.
func TestStoryOfTwoProbes(t *testing.T) {
	d := shippedDesk(t, wide)
	d.toCircuit(t, "coach-50a", "")
	d.wantShown(t, "A sound circuit", "Put the red probe and the black one on a test point")
	f := find[*look.LiveFigure](d)[0]
	plan := figure.NewOneline(figure.OnelinePlan{Rig: d.bench.scene.Rig(), Loads: d.bench.scene.State().Loads,
		Points: func(node string) bool { return d.book.Points[node].ID != "" }, Width: float64(f.Size().Width - 24)})
	for _, node := range []string{"panel.l1", "panel.n"} {
		for _, s := range plan.Spots() {
			if s.Node == node {
				test.TapAt(f, f.PositionOf(s.At))
			}
		}
	}
	if red, black := d.bench.scene.Probes(); red != "panel.l1" || black != "panel.n" {
		t.Fatalf("the probes are on %q and %q", red, black)
	}
	lists := find[*look.Select](d)
	if r, b := lists[len(lists)-2].Selected, lists[len(lists)-1].Selected; !strings.Contains(r, "L1") || !strings.Contains(strings.ToLower(b), "neutral") {
		t.Errorf("the lists say %q and %q", r, b)
	}
	if !regexp.MustCompile(`\b1[12][0-9]\.[0-9] V\n`).MatchString(d.shown()) {
		t.Errorf("the meter shows no line voltage:\n%s", d.shown())
	}
	d.press(t, "Ohms")
	d.wantShown(t, "DANGER: ")
}

// The page can be used with the keyboard alone: every control is reached.
func TestCircuitByKeyboard(t *testing.T) {
	d := shippedDesk(t, wide)
	d.toCircuit(t, "coach-50a", "high-resistance-neutral")
	kinds := map[string]int{}
	c := d.window.Canvas()
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
	d := shippedDesk(t, wide)
	d.toCircuit(t, "coach-50a", "")
	faults := d.bench.scene.Faults()
	d.window.Canvas().Focus(find[*look.Select](d)[1])
	for i := range 3 {
		d.key(fyne.KeyDown)
		if got := d.bench.scene.Fault(); got == nil || got.ID != faults[i].ID {
			t.Fatalf("after %d presses the fault is %v, want %s", i+1, got, faults[i].ID)
		}
		d.wantShown(t, faults[i].Title)
	}
	d.key(fyne.KeyHome)
	d.wantShown(t, "A sound circuit")
}

// A switch opens what it switches, and a dead vehicle shows it.
func TestCircuitSwitches(t *testing.T) {
	d := shippedDesk(t, wide)
	d.toCircuit(t, "coach-50a", "")
	if v := d.volts(t, "L1 to neutral, panel"); math.Abs(v-119) > 5 {
		t.Fatalf("plugged in, L1 stands at %v V", v)
	}
	for _, c := range find[*look.Check](d) {
		if strings.Contains(c.Text, "main breaker") {
			c.SetChecked(false)
		}
	}
	if strings.Contains(d.shown(), "L1 to neutral, panel\n11") {
		t.Errorf("with the main off:\n%s", d.shown())
	}
}

// Each circuit opens with each fault that it offers, at every width, and the
// page never scrolls sideways.
func TestEveryCircuitOpens(t *testing.T) {
	d := shippedDesk(t, small)
	for id := range d.book.Rigs {
		d.toCircuit(t, id, "")
		faults := d.bench.scene.Faults()
		if len(faults) == 0 {
			t.Errorf("%s has no faults to show", id)
		}
		for _, f := range faults {
			d.toCircuit(t, id, f.ID)
			if got := d.bench.scene.Fault(); got != f {
				t.Errorf("%s: asked for %s, shown is %v", id, f.ID, got)
			}
			if strings.Contains(d.shown(), "can not be computed") {
				t.Errorf("%s with %s can not be computed", id, f.ID)
			}
		}
	}
}

// From a finding, "Show me why" opens the circuit with its fault and the
// reader's own readings beside those of the model.
func TestStoryShowMeWhy(t *testing.T) {
	d := shippedDesk(t, wide)
	d.toShippedBody(t)
	d.answer(t, "58")
	d.typeIn(t, "1")
	d.answerShipped(t, nil, "")
	if !d.visit.walk().Ended() {
		t.Fatalf("no finding:\n%s", d.shown())
	}
	d.press(t, "Show me why")
	d.wantShown(t, "YOUR READINGS BESIDE THE MODEL'S", "read · model", "58 V · ")
	if d.bench.scene.Fault() == nil {
		t.Error("no fault is in force")
	}
	d.Back()
	d.wantShown(t, "Show me why")
}

// Changing the rig keeps the fault where the next rig can have it.
func TestCircuitChangesItsRig(t *testing.T) {
	d := shippedDesk(t, wide)
	d.toCircuit(t, "coach-50a", "open-ground")
	d.chooseIn(t, d.book.Rigs["trailer-30a"].Title)
	if s := d.bench.scene; s.Rig().ID != "trailer-30a" || s.Fault() == nil || s.Fault().ID != "open-ground" {
		t.Errorf("shown is %s with %v", s.Rig().ID, s.Fault())
	}
}

// From a slider's move to the new drawing under 16 ms: solve, draw, set the
// texts and paint the shapes at the size of a window.
func BenchmarkSliderToRedraw(b *testing.B) {
	t := new(testing.T)
	d := benchDesk(b)
	d.toCircuit(t, "coach-50a", "open-neutral")
	dial := d.dial(t, "Loads on L1")
	f := find[*look.LiveFigure](d)[0]
	share := 0.0
	for b.Loop() {
		share = math.Mod(share+0.37, 1)
		dial.Turn(share)
		f.Paint(1016, 380)
	}
}

// BenchmarkEmptyRedraw is the same without a circuit, to compare with.
func BenchmarkEmptyRedraw(b *testing.B) {
	d := benchDesk(b)
	f := look.NewLiveFigure(figure.Drawing{Width: 1016, Height: 380})
	d.window.SetContent(f)
	for b.Loop() {
		f.SetDrawing(figure.Drawing{Width: 1016, Height: 380})
		f.Paint(1016, 380)
	}
}

func benchDesk(b *testing.B) *Desk {
	b.Helper()
	a := test.NewTempApp(b)
	d := New(a, Options{Inline: true})
	d.settings.Welcomed = true
	d.window.Resize(wide)
	d.window.Show()
	return d
}
