package look

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree"
)

func start(t *testing.T) {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(Light, 1))
}

func key(name fyne.KeyName) *fyne.KeyEvent { return &fyne.KeyEvent{Name: name} }

func TestPressedByEveryKeyAndTap(t *testing.T) {
	start(t)
	n := 0
	count := func() { n++ }
	things := map[string]fyne.Focusable{
		"button": NewButton("Back", count), "primary": NewPrimary("Take this reading", count),
		"choice": NewChoice(1, "A tingle", "from the door", count), "trail": NewTrailRow("Body to earth", "58 V", count),
		"nav": NewNav("Handbook", count), "link": NewLink("Wet soil", count).links[0],
	}
	for name, f := range things {
		for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace} {
			before := n
			f.TypedKey(key(k))
			if n != before+1 {
				t.Errorf("%s does nothing on %s", name, k)
			}
		}
		before := n
		f.TypedKey(key(fyne.KeyA))
		f.TypedRune('x')
		if n != before {
			t.Errorf("%s is pressed by a letter", name)
		}
	}
	for _, tap := range []fyne.Tappable{things["button"].(fyne.Tappable), things["choice"].(fyne.Tappable), things["trail"].(fyne.Tappable), things["nav"].(fyne.Tappable)} {
		before := n
		test.Tap(tap)
		if n != before+1 {
			t.Errorf("%T does nothing on a tap", tap)
		}
	}
	b := NewButton("Back", count)
	b.Disable()
	before := n
	b.TypedKey(key(fyne.KeySpace))
	test.Tap(b)
	if n != before {
		t.Error("a disabled button does something")
	}
}

func TestFocusIsVisible(t *testing.T) {
	start(t)
	b := NewButton("Back", nil)
	w := test.NewTempWindow(t, Pad(10, 10, 10, 10, b))
	w.Resize(fyne.NewSize(200, 100))
	before := w.Canvas().Capture()
	w.Canvas().Focus(b)
	after := w.Canvas().Capture()
	same := true
	for y := range 100 {
		for x := range 200 {
			same = same && before.At(x, y) == after.At(x, y)
		}
	}
	if same || !b.Focused() {
		t.Error("focus cannot be seen")
	}
}

func TestButtonWraps(t *testing.T) {
	start(t)
	b := NewButton("I cannot measure this with the meter that I have here", nil)
	one := b.Natural()
	tall := heightAt(b, 160)
	if tall <= one.Height || b.MinSize().Width > 160 {
		t.Errorf("at 160 it is %v tall and %v wide; on one line %v", tall, b.MinSize().Width, one)
	}
	if back := heightAt(b, one.Width+1); back != one.Height {
		t.Errorf("with room again it is %v tall, want %v", back, one.Height)
	}
}

// A digit presses nothing: it marks an answer, which Enter then takes, and
// brings the keyboard to anything else, which Enter then presses.
func TestADigitOnlyMarks(t *testing.T) {
	start(t)
	got := ""
	says := func(text string) func() { return func() { got += text } }
	hidden := NewChoice(1, "hidden", "", says("hidden"))
	hidden.Hide()
	again := NewButton("Again", says("again"))
	again.Hint = "3"
	answer := NewAnswer(2, "two", "", says("marked "), says("taken"))
	page := Stack(8, hidden, Grid(200, 8, 2, NewChoice(1, "one", "", says("one")), answer), again)
	enter := &fyne.KeyEvent{Name: fyne.KeyReturn}
	for digit, want := range map[int][2]string{1: {"", "one"}, 2: {"marked ", "marked marked "}, 3: {"", "again"}} {
		got = ""
		a := ByDigit(page, digit)
		if a == nil {
			t.Fatalf("nothing has the digit %d", digit)
		}
		a.Arm()
		if got != want[0] {
			t.Errorf("%d does %q, want %q", digit, got, want[0])
		}
		a.TypedKey(enter)
		if got != want[1] {
			t.Errorf("%d and Enter do %q, want %q", digit, got, want[1])
		}
	}
	got = ""
	answer.SetMarked(true)
	if answer.TypedKey(enter); got != "taken" || !strings.Contains(TextOf(answer), "marked") {
		t.Errorf("a marked answer does %q on Enter and says %q", got, TextOf(answer))
	}
	if answer.Tapped(nil); got != "takenmarked " {
		t.Errorf("a second tap takes: %q", got)
	}
	if ByDigit(page, 4) != nil || ByDigit(page, 0) != nil {
		t.Error("a digit without a choice chose")
	}
}

func TestReadingEntry(t *testing.T) {
	start(t)
	e := NewReadingEntry("V")
	var typed, sent string
	escaped := false
	e.Field.OnChanged = func(s string) { typed = s }
	e.Field.OnSubmitted = func(s string) { sent = s }
	e.Field.OnEscape = func() { escaped = true }
	w := test.NewTempWindow(t, Stack(8, e))
	w.Resize(fyne.NewSize(400, 200))
	e.Focus()
	test.Type(e.Field, "41.5")
	if typed != "41.5" || e.Text() != "41.5" {
		t.Errorf("typed %q, holds %q", typed, e.Text())
	}
	behind := e.unit.Position().X
	test.Type(e.Field, "00")
	if e.unit.Position().X <= behind {
		t.Error("the unit does not give way to the number")
	}
	test.Type(e.Field, "00000000000000")
	if right := e.unit.Position().X + e.unit.Size().Width; right > e.Size().Width {
		t.Errorf("the unit ends at %v of %v", right, e.Size().Width)
	}
	e.Field.TypedKey(key(fyne.KeyReturn))
	if sent != e.Text() {
		t.Errorf("Enter sent %q", sent)
	}
	e.Field.TypedKey(key(fyne.KeyEscape))
	if !escaped {
		t.Error("Esc did nothing")
	}
}

func TestSignSaysItsWord(t *testing.T) {
	start(t)
	var went string
	s := NewSignLine(faulttree.Danger, func(target string) { went = target }, Run{Text: "Stand off. "}, Run{Text: "What to do", Target: "caution:first-minute"})
	if got := TextOf(s); !strings.Contains(got, "DANGER") || !strings.Contains(got, "Stand off. What to do") {
		t.Errorf("says %q", got)
	}
	s.body.(*Prose).Press("caution:first-minute")
	if went != "caution:first-minute" {
		t.Errorf("went to %q", went)
	}
	if got := TextOf(NewCallout(faulttree.NoSignal, NewText("plain"))); got != "plain" {
		t.Errorf("without a signal it says %q", got)
	}
	for width := float32(200); width < 800; width += 100 {
		b := NewBanner(faulttree.Danger, "The body of this vehicle is live. It can kill.", NewText("Keep everyone off the vehicle and off the ground beside it."))
		h := heightAt(b, width)
		b.Resize(fyne.NewSize(width, h))
		if end := b.body.Position().Y + b.body.MinSize().Height; end > h {
			t.Errorf("at %v the body ends at %v of %v", width, end, h)
		}
	}
}

func TestAlertSymbol(t *testing.T) {
	start(t)
	for s := faulttree.Notice; s <= faulttree.Danger; s++ {
		has := test.TempWidgetRenderer(t, newAlert(s)).Objects() != nil
		if has != (s != faulttree.Notice) {
			t.Errorf("%v: alert symbol %v", s, has)
		}
	}
}

func TestValueIsSelectable(t *testing.T) {
	start(t)
	v := NewValue("58.2 V").Objects[0].(*widget.Label)
	if !v.Selectable || v.Text != "58.2 V" {
		t.Errorf("%+v", v)
	}
}

func TestTextOfLeavesOutWhatIsHidden(t *testing.T) {
	start(t)
	gone := NewText("gone")
	gone.Hide()
	page := NewScroll(Stack(8, NewCaption("So far"), NewTrailRow("Body", "58 V", nil), gone, NewPanel(NewText("in a panel")), NewSelectable("selected")))
	if got, want := TextOf(page), "SO FAR\nBody\t58 V\nin a panel\nselected"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestPlaceholderIsCutToItsRoom(t *testing.T) {
	start(t)
	f := NewField("Search, or type a reading")
	f.Resize(fyne.NewSize(400, 44))
	if f.PlaceHolder != "Search, or type a reading" {
		t.Errorf("with room it is %q", f.PlaceHolder)
	}
	f.Resize(fyne.NewSize(140, 44))
	if f.PlaceHolder != "Search, or…" {
		t.Errorf("without room it is %q", f.PlaceHolder)
	}
	f.Resize(fyne.NewSize(400, 44))
	if f.PlaceHolder != "Search, or type a reading" {
		t.Errorf("with room again it is %q", f.PlaceHolder)
	}
}

func TestNumbered(t *testing.T) {
	start(t)
	if got := TextOf(Numbered("Keep off.", "Leave it unplugged.")); got != "1. Keep off.\n2. Leave it unplugged." {
		t.Errorf("%q", got)
	}
	if got := TextOf(Numbered("Keep off.")); got != "Keep off." {
		t.Errorf("%q", got)
	}
}

// What a meter shows is seen whole: its minus, a wandering display, a unit that was typed.
func TestLongReadingIsSeenWhole(t *testing.T) {
	start(t)
	e := NewReadingEntry("V ±0.72")
	w := test.NewTempWindow(t, Row(8, e))
	w.Resize(fyne.NewSize(600, 200))
	for _, text := range []string{"-119.8", "wanders 3-8", "120 mV", "0"} {
		e.SetText(text)
		size := e.number.Size(theme.SizeNameText)
		wide := fyne.MeasureText(text, size, fyne.TextStyle{Bold: true}).Width
		room := e.unit.Position().X - e.big.Position().X - theme.Size(theme.SizeNameInnerPadding)
		if wide > room {
			t.Errorf("%q is %v wide and has %v", text, wide, room)
		}
		if size < theme.Size(SizeText) {
			t.Errorf("%q is set in %v points, smaller than running text", text, size)
		}
	}
	if e.number.share != 1 {
		t.Error("a short reading stays small after a long one")
	}
}

// The wheel scrolls the page wherever the pointer is, over a field, over the rail and
// over a short side column too.
func TestWheelScrollsThePage(t *testing.T) {
	start(t)
	rail, side := Stack(0, NewText("rail")), NewText("side")
	reading, field := NewReadingEntry("V"), NewField("words")
	tall := canvas.NewRectangle(none)
	tall.SetMinSize(fyne.NewSize(10, 4000))
	c := NewColumns(rail, NewText("bar"))
	c.SetContent(Stack(8, reading, field, tall), side, nil)
	w := test.NewTempWindow(t, c)
	w.Resize(fyne.NewSize(1280, 800))
	for name, o := range map[string]fyne.CanvasObject{"reading": reading, "field": field, "rail": rail, "side": side, "page": tall} {
		c.SetOffset(0)
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
		test.Scroll(w.Canvas(), at.AddXY(6, 6), 0, -40)
		if c.Offset() != 40 {
			t.Errorf("over the %s the wheel scrolls by %v, want 40", name, c.Offset())
		}
	}
}

// Tab leads out of an entry of several lines, as whoever has keys alone needs.
func TestTabLeadsOutOfLines(t *testing.T) {
	var note fyne.Tabbable = NewLines("", 3) // the window asks it before it gives it a Tab
	if note.AcceptsTab() {
		t.Error("Tab stays in the entry")
	}
}
