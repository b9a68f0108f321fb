package figure

import (
	"math"
	"strings"
	"testing"
)

func TestNamedFiguresAreLegibleAndDescribed(t *testing.T) {
	if len(Names()) < 12 {
		t.Errorf("%d figures, want 12 and more", len(Names()))
	}
	for i, name := range Names() {
		d, ok := Named(name)
		if !ok || d.Title == "" || len(d.Description) < 40 {
			t.Errorf("%s: no title or no description", name)
		}
		if i > 0 && Names()[i-1] == name {
			t.Errorf("%s: named twice", name)
		}
		legible(t, name, d)
		wellFormed(t, name, SVG(d, HighContrast()))
		for _, item := range d.Items {
			if text, ok := item.(Text); ok && strings.Contains(strings.ToLower(text.Value), "safe") {
				t.Errorf("%s says %q", name, text.Value)
			}
		}
	}
	if _, ok := Named("no-such-figure"); ok {
		t.Error("an unknown name gave a figure")
	}
}

// The figures printed in pictures follow from the circuits they show.
func TestPrintedVoltages(t *testing.T) {
	says := func(name, words string) {
		t.Helper()
		d, _ := Named(name)
		for _, item := range d.Items {
			if text, ok := item.(Text); ok && strings.Contains(text.Value, words) {
				return
			}
		}
		t.Errorf("%s does not say %q", name, words)
	}
	near := func(got, want, tolerance float64) {
		t.Helper()
		if math.Abs(got-want) > tolerance {
			t.Errorf("computed %.3f, the picture says %.3f", got, want)
		}
	}
	// Open neutral: two resistors in series on 240 V, by their watts at 120 V.
	large, small := 120.0*120/1500, 120.0*120/500
	near(240*large/(large+small), 60, 0.5)
	says("open-neutral", "60 V")
	near(240*small/(large+small), 180, 0.5)
	says("open-neutral", "180 V")
	// 208 = 120·√3 (textbook S03, AC/poly: 207.8 V).
	near(120*math.Sqrt(3), 208, 0.5)
	says("wye-208", "208 V")
	// 25 Ω rod rule (published, S06): 120 V drive 4.8 A.
	if i := 120.0 / 25; i >= 5 {
		t.Errorf("%v A through the rod", i)
	}
	says("rod-only-ground", "under 5 A")
	// Two equal 1 nF capacitors give 60 V behind 2 nF; across 10 MΩ and
	// 100 pF, and across 3 kΩ (derived rows of the floating-chassis table:
	// 56.69 V and 0.136 V).
	reads := func(ohms, farads float64) float64 {
		w := 2 * math.Pi * 60
		y := complex(1/ohms, w*farads)
		source := complex(0, w*2e-9)
		v := 60 * source / (source + y)
		return math.Hypot(real(v), imag(v))
	}
	near(reads(10e6, 100e-12), 57, 0.5)
	says("meter-loading", "57 V")
	near(reads(3e3, 0), 0.1, 0.05)
	says("meter-loading", "0.1 V")
	// ±(1.2 % + 5 counts of 0.1 V) at 29.4 V.
	near(29.4*0.012+0.5, 0.9, 0.05)
	says("limit-ruler", "± 0.9 V")
	// Half of the drop stands on the neutral.
	near(120-4-4, 112, 0)
	says("voltage-drop", "112 V")
}
