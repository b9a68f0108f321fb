package settings

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// A second meter is described by its booklet and used; what is typed for one stays
// while another is looked at; what is not understood, and which limits the error leaves
// open, is told where it is typed.
func TestSeveralMetersAndWhatTheirErrorDoes(t *testing.T) {
	s := must.Have(session.New(session.Options{}))(t)
	s.UseBook(load.Shipped())
	w, r := frametest.Open(t, frametest.Wide, frame.Options{}, place.Settings(), func(f *frame.Frame) { f.Add(New(f, s).Pages("")) })
	fields := func() []*look.Field { return frametest.Find[*look.Field](r) }
	r.Want("0.3 Ω: it may be off by 0.11 Ω there, and four times that is more than the 0.3 Ω from 0 Ω to it.", "30 V AC from 29.6")
	r.Press("Another meter")
	fields()[0].SetText("coarse")
	fields()[1].SetText("2000")
	fields()[2].SetText("±(40% + 9)")
	fields()[7].SetText("DC V\n20.00 V ±(2.0% + 5)\nquite good")
	r.Want("Line 2: DC volts up to 20 V in steps of 0.01 V: ±(2 % + 5).", "Line 3 counts for nothing: “quite” is not understood", "counts as over it.")
	if s.Settings().Meter.Name != "meter 2" {
		t.Errorf("before it is taken, %q is in use", s.Settings().Meter.Name)
	}
	r.Press("ordinary 6000-count meter")
	r.Press("meter 2")
	if text := fields()[0].Text; text != "coarse" {
		t.Errorf("after a look at another meter the field holds %q", text)
	}
	r.Press("Use this meter")
	m := s.Settings().Meter
	if m.Name != "coarse" || m.ACVolts != (faulttree.Accuracy{Percent: 40 * faulttree.One, Counts: 9}) || len(m.Ranges.List()) != 1 {
		t.Errorf("meter %+v, the page says %q", m, w.Said())
	}
	if text := fields()[7].Text; text != "DC V\n20.00 V ±(2.0% + 5)\nquite good" {
		t.Errorf("the booklet is kept as %q", text)
	}
	r.Press("ordinary 6000-count meter")
	if s.Settings().Meter != faulttree.DefaultMeter() {
		t.Errorf("meter %+v", s.Settings().Meter)
	}
	fields()[0].SetText("coarse")
	r.Press("Use this meter")
	r.WantSaid("Not taken: another of your meters is called “coarse”")
	r.Press("Forget this meter")
	if all := s.Settings().All(); len(all) != 1 || s.Settings().Meter != m || fields()[0].Text != "coarse" {
		t.Errorf("left are %+v, the form shows %q", all, fields()[0].Text)
	}
}

// The page of a meter with much to tell is whole at every size.
func TestAMeterOnEverySize(t *testing.T) {
	for name, size := range map[string]fyne.Size{"small": frametest.Small, "wide": frametest.Wide} {
		s := must.Have(session.New(session.Options{}))(t)
		s.UseBook(load.Shipped())
		m := session.OwnMeter{Meter: faulttree.DefaultMeter(), Booklet: "DC V 60.00 V ±(1.0% + 3)\nnot understood"}
		m.Name, m.ACVolts.Percent = "one with a long name, as some give them", 40*faulttree.One
		must.Do(t, s.Set(func(s *session.Settings) { must.Do(t, s.Put(-1, m)) }))
		w, r := frametest.Open(t, size, frame.Options{}, place.Settings(), func(f *frame.Frame) { f.Add(New(f, s).Pages("")) })
		r.Want("counts for nothing", "counts as over it.")
		r.WantNothingCut()
		r.Picture("meters-" + name)
		w.Window().Resize(fyne.NewSize(size.Width, 3200))
		r.Picture("meters-whole-" + name)
	}
}
