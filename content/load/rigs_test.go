package load

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Prefixes are those of the SI (published); wire sizes above 1 AWG are named
// 1/0 to 4/0.
func TestValuesAreReadInTheirUnit(t *testing.T) {
	for _, test := range []struct {
		text string
		unit rig.ParamUnit
		want float64
	}{
		{"120 V", rig.Volts, 120}, {"7.2 kV", rig.Volts, 7200}, {"500mV", rig.Volts, 0.5},
		{"-120°", rig.Degrees, -120}, {"90 °", rig.Degrees, 90},
		{"2 mΩ", rig.Ohms, 0.002}, {"5 kΩ", rig.Ohms, 5000}, {"10 M\u2126", rig.Ohms, 1e7}, {"1 GΩ", rig.Ohms, 1e9}, {"0", rig.Ohms, 0},
		{"0.3 ohm", rig.Ohms, 0.3}, {"2 kohm", rig.Ohms, 2000}, {"120 v", rig.Volts, 120}, {"5 amps", rig.Amperes, 5}, {"1 uF", rig.Farads, 1e-6},
		{"50 µH", rig.Henries, 50e-6}, {"50 \u03bcH", rig.Henries, 50e-6},
		{"100 pF", rig.Farads, 1e-10}, {"20 nF", rig.Farads, 20e-9}, {"1 µF", rig.Farads, 1e-6}, {"100 pF/m", rig.FaradsPerMetre, 1e-10},
		{"7.5 m", rig.Metres, 7.5}, {"30 cm", rig.Metres, 0.3},
		{"2 AWG", rig.Gauge, 2}, {"1/0 AWG", rig.Gauge, 0}, {"4/0 AWG", rig.Gauge, -3},
		{"1.5 kW", rig.Watts, 1500}, {"5 mA", rig.Amperes, 0.005}, {"60 Hz", rig.Hertz, 60},
		{"-10 °C", rig.Celsius, -10}, {"0.95", rig.Ratio, 0.95}, {"95 %", rig.Ratio, 0.95},
	} {
		got, err := parseValue(test.text, test.unit)
		if err != nil || got != test.want {
			t.Errorf("%q reads %v, %v; expected %v", test.text, got, err, test.want)
		}
	}
	for _, bad := range []struct {
		text string
		unit rig.ParamUnit
	}{
		{"120", rig.Volts}, {"120 bananas", rig.Volts}, {"1e3 V", rig.Volts}, {"NaN V", rig.Volts}, {"+3 V", rig.Volts}, {"3 M", rig.Ohms},
		{"0", rig.Celsius}, {"0", rig.Gauge}, {"0 AWG", rig.Gauge}, {"5/0 AWG", rig.Gauge}, {"-2 AWG", rig.Gauge}, {"1/0 V", rig.Volts},
		{"-1 Ω", rig.Ohms}, {"1 V V", rig.Volts}, {"", rig.Ratio}, {strings.Repeat("9", 400) + " V", rig.Volts},
	} {
		if got, err := parseValue(bad.text, bad.unit); err == nil {
			t.Errorf("%q reads %v in %s", bad.text, got, bad.unit.Symbol())
		}
	}
}

// A run is a part for each wire with shared numbers, and half of its coupling
// lies at each end of each pair.
func TestRunsAreExpanded(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	r := l.Rigs["small"]
	if r == nil {
		t.Fatal(l.Diagnostics)
	}
	var got []string
	for _, p := range r.Parts {
		if p.Run == "feeder" {
			got = append(got, fmt.Sprintf("%s %s %s-%s %q", p.Kind, p.Name, p.A, p.B, p.Title))
		}
	}
	want := []string{
		`conductor feeder.l1 transformer.l1-row.l1 "the feeder, L1"`,
		`conductor feeder.n transformer.n-row.n "the feeder, neutral"`,
		`conductor feeder.g transformer.g-row.g "the feeder, ground"`,
		`capacitance feeder.coupling-l1-n.a transformer.l1-transformer.n "the feeder, capacitance of L1 to neutral"`,
		`capacitance feeder.coupling-l1-n.b row.l1-row.n "the feeder, capacitance of L1 to neutral"`,
		`capacitance feeder.coupling-l1-g.a transformer.l1-transformer.g "the feeder, capacitance of L1 to ground"`,
		`capacitance feeder.coupling-l1-g.b row.l1-row.g "the feeder, capacitance of L1 to ground"`,
		`capacitance feeder.coupling-n-g.a transformer.n-transformer.g "the feeder, capacitance of neutral to ground"`,
		`capacitance feeder.coupling-n-g.b row.n-row.g "the feeder, capacitance of neutral to ground"`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
	wire, _ := r.Part("feeder.n")
	couple, _ := r.Part("feeder.coupling-n-g.b")
	length := r.Param("feeder.length")
	if wire.Params[rig.AttrLength] != length || couple.Params[rig.AttrLength] != length || r.Params[length].To != 80 || !r.Params[length].Log {
		t.Errorf("the length of the feeder is %+v for its wires %v and couplings %v", r.Params[length], wire.Params, couple.Params)
	}
	if p := r.Params[couple.Params[rig.AttrPerMetre]]; p.Value != 100e-12 || couple.Params[rig.AttrFarads] != rig.None {
		t.Errorf("the coupling is %+v, farads %d", p, couple.Params[rig.AttrFarads])
	}
	if tap, _ := r.Part("tap.n"); tap.Params[rig.AttrGauge] != rig.None || r.Params[tap.Params[rig.AttrOhms]].Value != 0.0005 {
		t.Errorf("a conductor of known ohms has %v", tap.Params)
	}
	if r.Params[r.Hertz].Value != 60 || r.Params[r.Celsius].To != 40 || r.Param("feeder") != length || r.Param("tyres") != r.Param("tyres.ohms") {
		t.Error("numbers are not found by their names")
	}
}

// What a fault does is kept with its fault.
func TestEditsAreReadIntoTheFault(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	e := l.Faults["lost-ground"].Edits
	if e == nil || e.ID != "lost-ground" || e.Hazard != faulttree.Danger || e.Weight != 3 || len(e.Variants) != 2 || len(e.In(l.Rigs["small"])) != 2 {
		t.Fatalf("the edits are %+v", e)
	}
	if s := e.Severity; s == nil || s.Unit != rig.Ohms || s.From != 0.3 || s.To != 100 || !s.Log || s.Name != "lost-ground" {
		t.Errorf("the severity is %+v", e.Severity)
	}
	cord := e.Variants[1]
	if cord.Place != faulttree.Cord || cord.Text != "in the cord" || cord.Edits[0].Ohms.Of(4) != 2 || cord.Edits[1].Attr != rig.AttrLength || cord.Edits[1].Parts[0] != "cord" {
		t.Errorf("the second variant is %+v", cord)
	}
}

// Files beyond the bound on rigs are not read.
func TestMostRigs(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	delete(files, "scenarios/bite.md")
	for i := range mostRigs {
		id := fmt.Sprintf("r%03d", i)
		files["rigs/"+id+".yaml"] = strings.Replace(files["rigs/small.yaml"], "rig: small", "rig: "+id, 1)
	}
	l := FS(context.Background(), folder(files))
	if len(l.Rigs) != mostRigs || len(l.Diagnostics) != 1 || l.Diagnostics[0].Rule != RuleTooMany || l.Diagnostics[0].Pos.File != "rigs/small.yaml" {
		t.Errorf("%d rigs, %v", len(l.Rigs), l.Diagnostics)
	}
}

// Whatever stands in a rig, reading it ends without a panic, twice with the
// same result, and the rig beside it is read all the same. A rig without
// errors holds only sound numbers.
func FuzzRig(f *testing.F) {
	base := archive(f, "testdata/base.txtar")
	seedFrom(f, "rigs/", base)
	drop(base, "scenarios/")
	rules := ruleTexts(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > mostFuzzed {
			return
		}
		files := folder(base)
		files["rigs/other.yaml"] = copyOf(text)
		l := FS(context.Background(), files)
		if len(text)%8 == 0 { // every load costs the solving of the rigs
			again := FS(context.Background(), files)
			if diff := cmp.Diff(l.Diagnostics, again.Diagnostics); diff != "" {
				t.Errorf("two loads differ:\n%s", diff)
			}
		}
		if l.Rigs["small"] == nil || l.Faults["lost-ground"].Edits == nil {
			t.Error("the rig beside it is missing")
		}
		placed(t, l, rules)
		if r := l.Rigs["other"]; r != nil {
			soundRig(t, r)
		}
	})
}

// FuzzFault is FuzzRig for what a fault does.
func FuzzFault(f *testing.F) {
	base := archive(f, "testdata/base.txtar")
	seedFrom(f, "faults/", base)
	drop(base, "scenarios/")
	rules := ruleTexts(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > mostFuzzed {
			return
		}
		files := folder(base)
		files["faults/other.md"] = copyOf(text)
		l := FS(context.Background(), files)
		if l.Faults["lost-ground"].Edits == nil {
			t.Error("the fault beside it is missing")
		}
		placed(t, l, rules)
		o := l.Faults["other"]
		if o == nil || o.Edits == nil {
			return
		}
		for _, v := range o.Edits.Variants {
			if !v.FitsIn(l.Rigs["small"]) || len(v.Edits) == 0 {
				t.Errorf("a clean variant does not fit: %+v", v)
			}
		}
		if s := o.Edits.Severity; s != nil && (s.Unit == 0 || !(s.From < s.To)) {
			t.Errorf("a clean severity is %+v", s)
		}
	})
}

func soundRig(t *testing.T, r *rig.Rig) {
	if r.Hertz < 0 || r.Celsius < 0 || len(r.Parts) == 0 || len(r.Parts) > mostParts {
		t.Errorf("a clean rig has %d parts, hertz %d, celsius %d", len(r.Parts), r.Hertz, r.Celsius)
	}
	for _, p := range r.Params {
		if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) || p.From > p.Value || p.To < p.Value || (p.Log && p.From <= 0) || !p.Pos.IsValid() {
			t.Errorf("a clean rig has the number %+v", p)
		}
	}
	for _, p := range r.Parts {
		if p.A == "" || p.B == "" || p.A == p.B || p.Kind == 0 || !p.Pos.IsValid() {
			t.Errorf("a clean rig has the part %+v", p)
		}
		for _, i := range p.Params {
			if i < rig.None || i >= len(r.Params) {
				t.Errorf("a clean part has number %d of %d", i, len(r.Params))
			}
		}
	}
}
