package session

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

var today = time.Date(2026, 5, 30, 12, 0, 0, 0, time.UTC)

// fine is a form that is understood, but for a line of its booklet.
func fine() MeterForm {
	return MeterForm{Name: "fine one", Counts: "20 000", ACVolts: "±(0.5% + 10)", DCVolts: "0.1 % rdg + 4 dgt", Resistance: "0,2 + 2", Current: "1 + 10",
		Proved: "2026-05-29", Booklet: "AC V\n200.00 V ±(0.4% + 20)\nquite good\n"}
}

func TestAMeterIsReadFromItsForm(t *testing.T) {
	m, lines, err := fine().Meter(today)
	if err != nil || len(lines) != 3 || lines[2].Refused == "" || lines[2].Number != 3 {
		t.Fatalf("%v, %+v", err, lines)
	}
	want := []faulttree.Range{{Unit: faulttree.VoltsAC, Top: 200 * faulttree.One, Count: faulttree.One / 100, Accuracy: faulttree.Accuracy{Percent: 4 * faulttree.One / 10, Counts: 20}}}
	if diff := cmp.Diff(want, m.Ranges.List()); diff != "" || m.Booklet != fine().Booklet {
		t.Errorf("%s; kept %q", diff, m.Booklet)
	}
	again, _, err := FormOf(m).Meter(today)
	if err != nil || again != m {
		t.Errorf("shown and read again it is %+v, %v", again, err)
	}
	for says, change := range map[string]func(*MeterForm){
		"the name has 0 letters":   func(f *MeterForm) { f.Name = " " },
		"the name has 81 letters":  func(f *MeterForm) { f.Name = strings.Repeat("x", 81) },
		"counts of the display":    func(f *MeterForm) { f.Counts = "many" },
		"ohms is “good”":           func(f *MeterForm) { f.Resistance = "good" },
		"amps is “1”":              func(f *MeterForm) { f.Current = "1" },
		"last proved is “soon”":    func(f *MeterForm) { f.Proved = "soon" },
		"proved is “2026-05-31”":   func(f *MeterForm) { f.Proved = "2026-05-31" },
		"a meter has 100 to":       func(f *MeterForm) { f.Counts = "5" },
		"number of counts of this": func(f *MeterForm) { f.Booklet = "DC V ±(1% + 99999)" },
	} {
		f := fine()
		change(&f)
		if _, _, err := f.Meter(today); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v; want %q", err, says)
		}
	}
}

// Several meters are kept with what was copied of their booklets, also of lines that
// are not understood; one of them is in use, and its low-impedance setting at hand.
func TestSeveralMeters(t *testing.T) {
	s := DefaultSettings()
	one, _, err := fine().Meter(today)
	must.Do(t, err)
	one.LowImpedance = true
	must.Do(t, s.Put(-1, one))
	if s.Meter != one.Meter || len(s.All()) != 2 || s.Tools != suspect.LowImpedance {
		t.Fatalf("%+v", s)
	}
	path := filepath.Join(t.TempDir(), "settings.json")
	must.Do(t, WriteSettings(path, s))
	back := must.Have(ReadSettings(path))(t)
	if diff := cmp.Diff(s, back); diff != "" {
		t.Error(diff)
	}
	if err := s.Put(0, one); err == nil {
		t.Error("two meters have one name")
	}
	s.Use(faulttree.DefaultMeter().Name)
	if s.Meter != faulttree.DefaultMeter() || s.Tools != 0 {
		t.Errorf("in use is %+v with %v", s.Meter, s.Tools.IDs())
	}
	s.Use("no such meter")
	if s.Meter != faulttree.DefaultMeter() {
		t.Errorf("in use is %+v", s.Meter)
	}
	s.SetTools(suspect.LowImpedance | suspect.Clamp)
	if !s.Meter.LowImpedance || !s.All()[0].LowImpedance {
		t.Error("the setting of the meter is not kept with it")
	}
	s.Drop(s.Meter.Name)
	if s.Meter != one.Meter || len(s.All()) != 1 {
		t.Errorf("what is left is %+v", s.All())
	}
	s.Drop(s.Meter.Name)
	if len(s.All()) != 1 {
		t.Error("the last meter is gone")
	}
	for range MostMeters {
		one.Name += "x"
		_ = s.Put(-1, one)
	}
	if len(s.All()) != MostMeters {
		t.Errorf("%d meters are kept", len(s.All()))
	}
}

// A file of before there were several has one meter; of another, what is none, or is
// there twice, is left out.
func TestOldSettingsHaveOneMeter(t *testing.T) {
	const own = `{"name":"mine","counts":6000,"ac_volts":{"percent":"1","counts":3},"dc_volts":{"percent":"1","counts":3},"ohms":{"percent":"1","counts":3},"amps":{"percent":"1","counts":3}}`
	s := must.Have(decodeSettings([]byte(`{"welcomed":true,"role":"owner","meter":` + own + `,"tools":["low-impedance"]}`)))(t)
	if all := s.All(); len(all) != 1 || all[0].Name != "mine" || s.Meter.ACVolts.Counts != 3 || s.Tools != suspect.LowImpedance {
		t.Errorf("%+v", s)
	}
	s = must.Have(decodeSettings([]byte(`{"role":"owner","meter":` + own + `,"meters":[` + own + `,` + own + `,{"name":"none","counts":-1}]}`)))(t)
	if all := s.All(); len(all) != 1 || s.At("mine") != 0 {
		t.Errorf("%+v", all)
	}
}
