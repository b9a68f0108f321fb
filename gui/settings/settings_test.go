package settings

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

func TestMyMeter(t *testing.T) {
	s := must.Have(session.New(session.Options{}))(t)
	w, r := frametest.Open(t, frametest.Wide, frame.Options{}, place.Settings(), func(f *frame.Frame) { f.Add(New(f, s).Pages("")) })
	fields := func() []*look.Field { return frametest.Find[*look.Field](r) }
	fields()[1].SetText("20000")
	fields()[2].SetText("0.5 % + 10")
	r.Press("Use this meter")
	if m := s.Settings().Meter; m.FullScale != 20000 || m.ACVolts != (faulttree.Accuracy{Percent: faulttree.One / 2, Counts: 10}) {
		t.Errorf("meter %+v, the page says %q", m, w.Said())
	}
	fields()[3].SetText("quite good")
	r.Press("Use this meter")
	r.Want("Not taken: DC volts is “quite good”; expected something like 1.2 + 5.")
	w.Render()
	if text := fields()[3].Text; text != "quite good" {
		t.Errorf("after a new build of the page the field holds %q", text)
	}
	r.Press("An ordinary meter")
	if s.Settings().Meter != faulttree.DefaultMeter() {
		t.Errorf("meter %+v", s.Settings().Meter)
	}
}

// Text sizes go step by step to the last, by the keys as by the page.
func TestTextSizes(t *testing.T) {
	s := must.Have(session.New(session.Options{}))(t)
	w := frame.New(test.NewTempApp(t))
	a := New(w, s)
	w.Add(a.Pages(""))
	w.Open(frame.Options{Inline: true, Shortcuts: a.Shortcuts()}, place.Settings())
	r := frametest.NewReader(t, w, frametest.Wide)
	r.Press("Larger")
	r.Shortcut(fyne.KeyPlus, fyne.KeyModifierControl)
	if size := s.Settings().TextSize; size != 1.3 {
		t.Errorf("two steps up is %v", size)
	}
	for range 20 {
		r.Shortcut(fyne.KeyMinus, fyne.KeyModifierControl)
	}
	if size := s.Settings().TextSize; size != look.Smallest {
		t.Errorf("the smallest is %v, want %v", size, look.Smallest)
	}
	for range 20 {
		r.Press("Larger")
	}
	if size := s.Settings().TextSize; size != look.Largest {
		t.Errorf("the largest is %v, want %v", size, look.Largest)
	}
	r.Shortcut(fyne.Key0, fyne.KeyModifierControl)
	if size := s.Settings().TextSize; size != 1 {
		t.Errorf("the usual is %v", size)
	}
}

// What is at hand beside a multimeter is kept with the settings.
func TestToolsAtHand(t *testing.T) {
	s := must.Have(session.New(session.Options{}))(t)
	_, r := frametest.Open(t, frametest.Wide, frame.Options{}, place.Settings(), func(f *frame.Frame) { f.Add(New(f, s).Pages("")) })
	r.Check("A low-impedance setting (LoZ) on the meter", true)
	r.Check("A clamp meter for alternating current", true)
	if has := s.Settings().Tools; has != suspect.LowImpedance|suspect.Clamp {
		t.Errorf("what is kept is %v", has.IDs())
	}
}
