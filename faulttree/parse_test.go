package faulttree

import (
	"strings"
	"testing"
	"unicode/utf8"
)

var (
	legVolts  = Quantity{ID: "pedestal.l1-n", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	houseDC   = Quantity{ID: "battery.pos-neg", Unit: VoltsDC, Range: 60 * One, Most: 100 * One}
	groundOhm = Quantity{ID: "ohm:plug.g-body@unplugged", Unit: Ohms, Range: 600 * One, Most: 200_000_000 * One}
	clamp     = Quantity{ID: "amp:pedestal.g", Unit: AmpsAC, Range: 60 * One, Most: 400 * One}
)

func TestReadingsAsPeopleTypeThem(t *testing.T) {
	for _, c := range []struct {
		text string
		q    Quantity
		want string // Reading.Show, or part of the refusal after "refused:"
	}{
		{"118", legVolts, "118 V"},
		{"118.4 V", legVolts, "118.4 V"},
		{"118,4", legVolts, "118.4 V"},
		{"0,4", legVolts, "0.4 V"},
		{"58v", legVolts, "58 V"},
		{"58 volts", legVolts, "58 V"},
		{"58 V AC", legVolts, "58 V"},
		{"58VAC", legVolts, "58 V"},
		{"58 V~", legVolts, "58 V"},
		{" 120.0\u00a0V ", legVolts, "120.0 V"},
		{"120.0\u2009V", legVolts, "120.0 V"}, // a thin space
		{"120.0\u200bV\ufeff", legVolts, "120.0 V"},
		{"5.2\u200a\u200dk\u2060Ω", groundOhm, "5.2 kΩ"},
		{"4 ohm", groundOhm, "4 Ω"},
		{"120 mV", houseDC, "0.120 V"},
		{"-2.0 V", houseDC, "-2.0 V"},
		{"wanders\u20033-8", legVolts, "3 V to 8 V"},
		{".5", legVolts, "0.5 V"},
		{"410 mV", legVolts, "0.410 V"},
		{"5.2 kΩ", groundOhm, "5.2 kΩ"},
		{"5k2", groundOhm, "5.2 kΩ"},
		{"4R7", groundOhm, "4.7 Ω"},
		{"2M2", groundOhm, "2.2 MΩ"},
		{"0.2 ohms", groundOhm, "0.2 Ω"},
		{"0.2 \u2126", groundOhm, "0.2 Ω"},
		{"1.5 Mohm", groundOhm, "1.5 MΩ"},
		{"12.65", houseDC, "12.65 V"},
		{"-12.6 V DC", houseDC, "-12.6 V"},
		{"\u22120.3", houseDC, "-0.3 V"},
		{"3.2 A", clamp, "3.2 A"},
		{"450 mA", clamp, "0.450 A"},
		{"OL", groundOhm, "OL"},
		{"O.L", groundOhm, "OL"},
		{"0L", groundOhm, "OL"},
		{"ol MΩ", groundOhm, "OL"},
		{"overload", legVolts, "OL"},
		{"over-range", legVolts, "OL"},
		{"wanders 3-8 V", legVolts, "3 V to 8 V"},
		{"3 to 8", legVolts, "3 V to 8 V"},
		{"between 3 V and 8 V", legVolts, "3 V to 8 V"},
		{"8…3", legVolts, "3 V to 8 V"},
		{"drifts 1,5 - 2,5 V", legVolts, "1.5 V to 2.5 V"},
		{"not possible: a fence in the way", legVolts, "not measured: a fence in the way"},
		{"cannot, too wet", legVolts, "not measured: too wet"},

		{"", legVolts, "refused: Type what the meter shows"},
		{"1.", legVolts, "refused: over-range"},
		{"1 .", groundOhm, "refused: over-range"},
		{"12.", legVolts, "refused: ends in a decimal mark"},
		{"-5", legVolts, "refused: no sign"},
		{"12000 V", legVolts, "refused: more than can stand here"},
		{"12 kV", legVolts, "refused: more than can stand here"},
		{"5 ohms", legVolts, "refused: Ohms typed where volts are asked"},
		{"120 V", groundOhm, "refused: Volts typed where ohms are asked"},
		{"2 A", legVolts, "refused: Amps typed where volts are asked"},
		{"12 V DC", legVolts, "refused: DC typed where AC volts is asked"},
		{"12 V~", houseDC, "refused: AC typed where DC volts is asked"},
		{"1,234", legVolts, "refused: could mean 1.234 or 1234"},
		{"1,234.5", legVolts, "refused: more than one decimal mark"},
		{"1.2.3", legVolts, "refused: more than one decimal mark"},
		{"5 mΩ", groundOhm, "refused: capital M"},
		{"5 MV", legVolts, "refused: millions"},
		{"about 120", legVolts, "refused: is not a reading"},
		{"wanders 5", legVolts, "refused: lowest and the highest"},
		{"12 bananas", legVolts, "refused: is not a unit"},
		{"1e3", legVolts, "refused: "},
		{"0.0000000001", legVolts, "refused: more decimals"},
		{strings.Repeat("9", 40), legVolts, "refused: larger than any meter"},
		{strings.Repeat("9", 400), legVolts, "refused: longer than any display"},
	} {
		r, err := ParseReading(c.text, c.q)
		if part, refused := strings.CutPrefix(c.want, "refused: "); refused {
			if err == nil || !strings.Contains(err.Error(), part) {
				t.Errorf("%q: got %s, %v; want a refusal with %q", c.text, r.Show(c.q.Unit), err, part)
			}
			continue
		}
		if err != nil || r.Show(c.q.Unit) != c.want {
			t.Errorf("%q: got %q, %v; want %q", c.text, r.Show(c.q.Unit), err, c.want)
		}
		if r.Text != strings.TrimSpace(c.text) {
			t.Errorf("%q: text kept as %q", c.text, r.Text)
		}
	}
}

func TestMillivoltsAreDoubted(t *testing.T) {
	r, err := ParseReading("120 mV", legVolts)
	if err != nil || r.Note == "" {
		t.Fatalf("120 mV was taken without a doubt: %+v, %v", r, err)
	}
}

func FuzzReading(f *testing.F) {
	for _, s := range []string{"118.4 V", "0,4", "5k2", "OL", "wanders 3-8 V", "1.", "1,234", "-3--1", "5.2 kΩ", "not possible: wet", "1e309", "µ", "4R7Ω"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range []Quantity{legVolts, houseDC, groundOhm, clamp} {
			r, err := ParseReading(text, q)
			if err != nil {
				if !utf8.ValidString(text) || strings.TrimSpace(err.Error()) != "" {
					continue
				}
				t.Fatalf("%q refused without a reason", text)
			}
			if !r.Numeric() {
				continue
			}
			if r.Low > r.High || r.Resolution <= 0 || r.High.Abs() > q.Most || r.Low.Abs() > q.Most {
				t.Fatalf("%q read as %+v", text, r)
			}
			if r.Low < 0 && !q.Unit.Signed() {
				t.Fatalf("%q read as negative %s", text, q.Unit)
			}
			if r.Quality != Steady {
				continue
			}
			again, err := ParseReading(r.Show(q.Unit), q)
			if err != nil || again.Low != r.Low {
				t.Fatalf("%q shows as %q, which reads as %v, %v", text, r.Show(q.Unit), again.Low, err)
			}
			if u := DefaultMeter().Uncertainty(r, q); u <= 0 {
				t.Fatalf("%q has the uncertainty %v", text, u)
			}
		}
	})
}

// One figure is read alike from a text of its own and from running words.
func TestFiguresInRunningWords(t *testing.T) {
	for _, c := range []struct{ text, want, rest string }{
		{"58 volts on the bumper", "58 V", " on the bumper"},
		{"58v bumper", "58 V", " bumper"},
		{"58 V AC, all day", "58 V", ", all day"},
		{"0,4 ohm", "0,4 Ω", ""},
		{"5k2 plug", "5.2 kΩ", " plug"},
		{"5k2", "5.2 kΩ", ""},
		{"4R7", "4.7 Ω", ""},
		{"5 k plug", "5 k", " plug"},
		{"2 megohms!", "2 MΩ", "!"},
		{"5 kilohm", "5 kΩ", ""},
		{"30-amp post", "30 A", " post"},
		{"-12.6 volts", "-12.6 V", ""},
		{"58 volts a day", "58 V", " a day"},
		{"5 m of cord", "5", " m of cord"},
		{"60ish", "60", "ish"},
		{"120/240", "120", "/240"},
	} {
		f, rest, ok := ScanFigure(c.text)
		if !ok || f.String() != c.want || rest != c.rest {
			t.Errorf("%q: read %q and left %q; expected %q and %q", c.text, f, rest, c.want, c.rest)
		}
		if rest != "" || c.want == "" {
			continue
		}
		if g, err := ParseFigure(c.text); err != nil || g != f {
			t.Errorf("%q by itself is %+v, %v; at the head of words %+v", c.text, g, err, f)
		}
	}
	for _, text := range []string{"", "V", "x5", "- 5"} {
		if f, _, ok := ScanFigure(text); ok {
			t.Errorf("%q begins with %v", text, f)
		}
	}
}
