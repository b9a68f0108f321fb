package look

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// sampler shows every widget of the package on one page.
func sampler() fyne.CanvasObject {
	sign := NewSignLine(faulttree.Warning, nil, Run{Text: "Live supply. One hand only. Do not lean on the vehicle. Meter proved on a known outlet first. "}, Run{Text: "What to do", Target: "card:x"})
	crumb := NewSoft("A tingle from the body · step 2")
	crumb.Type = SizeText
	entry := NewReadingEntry("V ±0.7")
	entry.SetText("41.5")
	leads := Stack(0, NewStrong("Leads to: stop, unplug"), NewSoft("well above the 30 V limit, nothing to settle"))
	take := NewPrimary("Take this reading", nil)
	take.Hint = "↵"
	buttons := Row(12, take, NewButton("I cannot measure this", nil), NewButton("Back", nil))
	chips := Row(10, NewChip("function", "AC volts"), NewChip("range", "600 V or the next above 240"), NewChip("hold", "off"))
	choices := Grid(260, 14, 3,
		NewChoice(1, "A tingle or a shock", "from the door, the steps, a tap", nil),
		NewChoice(2, "Half of it is dead", "some outlets, one air conditioner", nil),
		NewChoice(3, "Bright and dim", "lights change when something starts", nil),
		NewChoice(4, "12 V is weak or dead", "lights, pump, battery, the fridge on gas, and everything else on the small fuses", nil))
	banner := NewBanner(faulttree.Danger, "The body of this vehicle is live. It can kill.", NewText("Keep everyone off the vehicle and off the ground beside it. Switch off the breaker at the pedestal, then pull the plug, with a dry hand."))
	return Stack(16, NewField("Search, or type a reading: “58 V on the bumper”"), sign, Stack(4, crumb, NewQuestion("Measure from bare metal of the body to the spike")),
		chips, Beside(0, 200, 18, entry, leads),
		NewRuler(NewRulerValue(body(), faulttree.VoltsAC, reading("41.5", "41.5", "1"))),
		NewRuler(NewRulerValue(body(), faulttree.VoltsAC, reading("29.6", "29.6", "0.9"))),
		NewRuler(NewRulerValue(supply(), faulttree.VoltsAC, reading("119.8", "119.8", "1.9"))),
		NewRuler(NewRulerValue(body(), faulttree.VoltsAC, &RulerReading{OverRange: true, Text: "OL"})),
		buttons, choices, banner,
		NewCallout(faulttree.Notice, NewText("A notice has no triangle.")),
		NewCallout(faulttree.Caution, NewText("A caution has one.")),
		NewCallout(faulttree.Danger, NewText("A reading that is low proves nothing.")),
		NewPanel(Stack(12, NewCaption("Who repairs it"), NewText("A replacement cord is a job for the owner. Anything inside the pedestal or behind a panel cover is work for a licensed electrician."))),
	)
}

// supply has many limits close together.
func supply() []faulttree.Segment {
	cut := []string{"0", "1", "104", "110", "126", "132"}
	labels := []string{"dead", "stray", "low", "in range", "high", "unplug"}
	signals := []faulttree.Signal{faulttree.Notice, faulttree.Danger, faulttree.Warning, faulttree.NoSignal, faulttree.Warning, faulttree.Danger}
	var out []faulttree.Segment
	for i := range cut {
		to := faulttree.Highest
		if i+1 < len(cut) {
			to = volts(cut[i+1])
		}
		out = append(out, faulttree.Segment{Span: faulttree.Span{From: volts(cut[i]), Below: to}, Label: labels[i], Signal: signals[i]})
	}
	return out
}

func sideSample() fyne.CanvasObject {
	return Stack(GapSection,
		Stack(8, NewCaption("So far"), Stack(0, NewTrailRow("Meter on a known outlet", "119.8 V", func() {}), NewTrailRow("Tingle with main on", "yes", func() {}))),
		Stack(8, NewCaption("Cards"), NewLink("Why the body can be live", nil), NewLink("Wet soil as a reference", nil)))
}

func railSample() fyne.CanvasObject {
	at := NewNav("Find the cause", nil)
	at.SetChosen(true)
	return Pad(20, 14, 20, 14, Stack(8, Pad(0, 0, 12, 8, NewTitle("Faultwright")), at, NewNav("Check a pedestal", nil), NewNav("Handbook", nil), NewNav("Visits", nil)))
}

// shoot draws an object at a size in a mode; with LOOK_PICTURES set to a
// folder it also keeps the picture there.
func shoot(t *testing.T, name string, mode Mode, scale float32, size fyne.Size, build func() fyne.CanvasObject) {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(mode, scale))
	w := test.NewTempWindow(t, build())
	w.SetPadded(false)
	w.Resize(size)
	img := w.Canvas().Capture()
	dir := os.Getenv("LOOK_PICTURES")
	if dir == "" {
		return
	}
	f := must.Have(os.Create(filepath.Join(dir, name+".png")))(t)
	defer f.Close()
	must.Do(t, png.Encode(f, img))
}

func TestSamplerDraws(t *testing.T) {
	for _, mode := range []Mode{Light, Dark, HighContrast} {
		for name, width := range map[string]float32{"narrow": 480, "wide": 1280} {
			build := func() fyne.CanvasObject {
				c := NewColumns(railSample(), Pad(12, 16, 12, 16, NewTitle("Faultwright")))
				c.SetContent(sampler(), sideSample(), nil)
				return c
			}
			height := float32(1100)
			if width == 480 {
				height = 2000
			}
			shoot(t, mode.String()+"-"+name, mode, 1, fyne.NewSize(width, height), build)
		}
	}
}

func TestFocusDraws(t *testing.T) {
	for _, mode := range []Mode{Light, Dark, HighContrast} {
		shoot(t, "focus-"+mode.String(), mode, 1, fyne.NewSize(560, 620), func() fyne.CanvasObject {
			focused := func(p *press) { p.focused = true; p.Refresh() }
			take, back := NewPrimary("Take this reading", nil), NewButton("Back", nil)
			choice, row, nav := NewChoice(1, "A tingle or a shock", "from the door", nil), NewTrailRow("Body to earth", "58.2 V", func() {}), NewNav("Handbook", nil)
			off := NewPrimary("Take this reading", nil)
			off.Disable()
			link := NewProse(Run{Text: "See "}, Run{Text: "the reference of wet soil", Target: "x"}, Run{Text: " first."})
			focused(&take.press)
			focused(&back.press)
			focused(&choice.press)
			focused(&row.press)
			focused(&nav.press)
			focused(&link.links[0].press)
			e := NewReadingEntry("V")
			e.Field.onFocus(true)
			four := []faulttree.Segment{
				{Span: faulttree.Span{From: faulttree.Lowest, Below: volts("-1")}, Label: "reversed", Signal: faulttree.Danger},
				{Span: faulttree.Span{From: volts("-1"), Below: volts("11.8")}, Label: "weak", Signal: faulttree.Caution},
				{Span: faulttree.Span{From: volts("11.8"), Below: faulttree.Highest}, Label: "nothing here", Signal: faulttree.NoSignal},
			}
			return Pad(24, 24, 24, 24, Stack(20, Row(20, take, back, NewButton("Other", nil), off), choice, row, nav, link, e, NewValue("58.2 V ±0.9"), NewRuler(NewRulerValue(four, faulttree.VoltsDC, reading("12.6", "12.6", "0.1")))))
		})
	}
}

func TestLargeTypeDraws(t *testing.T) {
	shoot(t, "large", Light, 2, fyne.NewSize(480, 2400), func() fyne.CanvasObject {
		c := NewColumns(railSample(), Pad(12, 16, 12, 16, NewTitle("Faultwright")))
		c.SetContent(sampler(), sideSample(), nil)
		return c
	})
}
