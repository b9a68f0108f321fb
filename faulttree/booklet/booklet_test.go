package booklet

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// told words what lines give, one a line.
func told(lines []Line) string {
	var out []string
	for _, l := range lines {
		switch {
		case l.Refused != "":
			out = append(out, fmt.Sprintf("%d refused: %s", l.Number, l.Refused))
		case l.Whole():
			out = append(out, fmt.Sprintf("%d %s: %s", l.Number, l.Of.Function(), l.Accuracy))
		}
		for _, r := range l.Ranges {
			out = append(out, fmt.Sprintf("%d %s", l.Number, r))
		}
	}
	return strings.Join(out, "\n")
}

func TestLinesOfABooklet(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"one line":          {"AC V 600.0 V ±(1.0% + 3)", "1 AC volts up to 600 V in steps of 0.1 V: ±(1 % + 3)"},
		"no range":          {"AC V ±(1.0% + 3)\nΩ 0.9 % rdg + 2 dgt", "1 AC volts: ±(1 % + 3)\n2 ohms: ±(0.9 % + 2)"},
		"resolution":        {"V DC | 60.00 V | 0.01 V | 0.5 % of reading + 2 digits", "1 DC volts up to 60 V in steps of 0.01 V: ±(0.5 % + 2)"},
		"digits not given":  {"VAC 600 V ±(1%+3)\n1000 V ±(1%+3)", "1 AC volts up to 600 V in steps of 0.1 V: ±(1 % + 3)\n2 AC volts up to 1000 V in steps of 1 V: ±(1 % + 3)"},
		"several ranges":    {"ohms 6.000/60.00/600.0 kΩ ±(0.9% + 2)", "1 ohms up to 6 kΩ in steps of 1 Ω: ±(0.9 % + 2)\n1 ohms up to 60 kΩ in steps of 10 Ω: ±(0.9 % + 2)\n1 ohms up to 600 kΩ in steps of 100 Ω: ±(0.9 % + 2)"},
		"from one to other": {"DC voltage 6.000 V to 600.0 V (0,5 % + 2)", "1 DC volts up to 6 V in steps of 0.001 V: ±(0.5 % + 2)\n1 DC volts up to 60 V in steps of 0.01 V: ±(0.5 % + 2)\n1 DC volts up to 600 V in steps of 0.1 V: ±(0.5 % + 2)"},
		"millivolts":        {"DC mV 600.0 mV ±(0.5% + 2)", "1 DC volts up to 0.6 V in steps of 0.0001 V: ±(0.5 % + 2)"},
		"heading":           {"AC V\r\n\r\n6.000 V ±(1.0% + 3)\r\n60.00 V ±(1.5% + 3)\r\nDC\r\n60.00 V ±(0.5% + 2)", "3 AC volts up to 6 V in steps of 0.001 V: ±(1 % + 3)\n4 AC volts up to 60 V in steps of 0.01 V: ±(1.5 % + 3)\n6 DC volts up to 60 V in steps of 0.01 V: ±(0.5 % + 2)"},
		"ohms say it alone": {"600.0 Ω ±(0.9% + 1)", "1 ohms up to 600 Ω in steps of 0.1 Ω: ±(0.9 % + 1)"},
		"the supply's own":  {"AC V 600.0 V 45 Hz to 500 Hz ±(1.0% + 3)\n600.0 V (50/60 Hz) 2%+5", "1 AC volts up to 600 V in steps of 0.1 V: ±(1 % + 3)\n2 refused: line 1 gives AC volts up to 600 V already"},
		"other frequencies": {"AC V 600.0 V 1 kHz - 5 kHz ±(3% + 5)\n60.00 V ±(1% + 3)", "1 refused: it is for another frequency: 1 kHz - 5 kHz; expected the line for 60 Hz\n2 refused: it does not say whether AC or DC; expected AC V or DC V"},
		"clamp":             {"AC current 60.00 A ±(2.5% + 5)", "1 AC amps, clamp up to 60 A in steps of 0.01 A: ±(2.5 % + 5)"},
		"behind it":         {"±(1.0% + 3) DC V", "1 DC volts: ±(1 % + 3)"},
	} {
		if diff := cmp.Diff(c.want, told(Read(c.text, 6000))); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// What a line says must be understood whole.
func TestWhatIsNotUnderstoodIsTold(t *testing.T) {
	for text, says := range map[string]string{
		"AC V 600.0 V":                             "it has no accuracy",
		"AC V 600.0 V ±1.0%":                       "no accuracy",
		"AC V 600.0 V ±(1.0% + 0.1% of range)":     "percent of the range",
		"AC V 600.0 V ±(1.0% + 3.5)":               "no accuracy",
		"AC V 600.0 V ±(1.0% + 3) ±(2% + 5)":       "several accuracies",
		"AC V 600.0 V typical ±(1.0% + 3)":         "“typical” is not understood",
		"600.0 V ±(1.0% + 3)":                      "whether AC or DC",
		"±(1.0% + 3)":                              "of which function",
		"AC V 60.00 A ±(1.0% + 3)":                 "stands in a line of V",
		"AC DC V 600.0 V ±(1.0% + 3)":              "two functions",
		"DC V 1,000 V ±(1.0% + 3)":                 "1000 or 1.000",
		"DC V 600.0 ±(1.0% + 3)":                   "has no unit",
		"DC V 600.0 V 300.0 V ±(1.0% + 3)":         "beside",
		"DC V 600.0 V to 6.000 V ±(1.0% + 3)":      "the lower first",
		"LoZ V 600.0 V ±(2% + 3)":                  "low-impedance",
		"60.00 nF ±(2% + 5)":                       "has no unit",
		"Temperature 40 C ±(1% + 2)":               "“Temperature” is not understood",
		"DC V 0 V ±(1% + 2)":                       "cannot end at",
		"DC V 60.00 V ±(1% + 9999)":                "not a number of counts",
		"DC V 60.00 V ±(1% + 2":                    "",
		"ohms 4000000000 MΩ ±(1% + 2)":             "more than any meter",
		"DC V 1 V to 4000000000 V ±(1% + 2)":       "cannot end at",
		"DC V " + strings.Repeat("6/", 5000) + "V": "",
		strings.Repeat("x", MostText+1):            "only 300 lines",
		"AC V " + strings.Repeat("(", 5000) + "±":  "not understood",
		"<b>AC V</b> 600.0 V ±(1.0% + 3)":          "not understood",
	} {
		lines := Read(text, 6000)
		if len(lines) != 1 || says != "" && !strings.Contains(lines[0].Refused, says) {
			t.Errorf("%.60q: %q; want %q", text, told(lines), says)
		}
		if len(lines) == 1 && lines[0].Text != text {
			t.Errorf("%.60q is kept as %.60q", text, lines[0].Text)
		}
	}
}

// Below a heading that is not understood nothing is taken for what stood above it.
func TestAnUnknownHeadingHoldsForWhatStandsBelowIt(t *testing.T) {
	lines := Read("DC V\n60.00 V ±(0.5% + 2)\nDiode test\n2.000 V ±(0.1% + 0)", 6000)
	want := "2 DC volts up to 60 V in steps of 0.01 V: ±(0.5 % + 2)\n" + lines[2].prefix() + "\n4 refused: it does not say whether AC or DC; expected AC V or DC V"
	if diff := cmp.Diff(want, told(lines)); diff != "" || !strings.Contains(lines[2].Refused, "Diode") {
		t.Error(diff)
	}
}

func (l Line) prefix() string { return fmt.Sprintf("%d refused: %s", l.Number, l.Refused) }

// What is read reaches the readings of the meter.
func TestAMeterByItsBooklet(t *testing.T) {
	m := must.Have(Give(faulttree.DefaultMeter(), Read("AC V ±(1.5% + 10)\n600.0 V ±(1.0% + 3)\nDC A ±(2% + 9)\nAC A ±(3% + 4)\nnonsense", 6000)))(t)
	if m.ACVolts.Counts != 10 || m.Current != (faulttree.Accuracy{Percent: 3 * faulttree.One, Counts: 9}) || m.DCVolts != faulttree.DefaultMeter().DCVolts {
		t.Errorf("%+v", m)
	}
	q := faulttree.Quantity{ID: "q", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
	r := must.Have(faulttree.ParseReading("120.0", q))(t)
	if got := m.Uncertainty(r, q).String(); got != "1.5" { // 1 % of 120 V and 3 counts of 0.1 V
		t.Errorf("120.0 V is uncertain by %s V", got)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"AC V 600.0 V ±(1.0% + 3)", "DC V 6.000 V to 600.0 V 50/60 Hz 0.5 % rdg + 2 dgt", "6/60/600 kΩ 1,5 % + 2", "V~ 1,000 V"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lines := Read(text, 6000)
		if _, err := Give(faulttree.DefaultMeter(), lines); err != nil {
			t.Errorf("lines that were each understood make no meter: %v", err)
		}
	})
}
