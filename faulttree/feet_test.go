package faulttree

import (
	"strings"
	"testing"
)

// A foot is 0.3048 m exactly (international yard and pound agreement, 1959).
func TestMetresWithFeet(t *testing.T) {
	for text, want := range map[string]string{
		"Stand 3 m off, pets too.":            "Stand 3 m (10 ft) off, pets too.", // 9.84
		"Spike 2 m from jacks":                "Spike 2 m (7 ft) from jacks",      // 6.56
		"Everybody 3 m (10 ft) off":           "Everybody 3 m (10 ft) off",
		"30 m to 120 m.":                      "30 m (98 ft) to 120 m (390 ft).", // 98.4, 393.7
		"7.6 m":                               "7.6 m (25 ft)",                   // 24.93
		"Is it 3 m off, or 2 m?":              "Is it 3 m (10 ft) off, or 2 m (7 ft)?",
		"1000 m":                              "1000 m (3300 ft)", // 3281
		"0.1 m":                               "0.1 m",
		"100 Ω m of soil, 20 mΩ, 5 min, 8 mA": "100 Ω m of soil, 20 mΩ, 5 min, 8 mA",
		"3 m²":                                "3 m²",
		"":                                    "",
	} {
		if got := WithFeet(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
		if again := WithFeet(WithFeet(text)); again != want {
			t.Errorf("%q twice: %q", text, again)
		}
	}
	// A handbook is read from outside: no length in it may stop the program.
	for _, digits := range []int{10, 308, 400, 100000} {
		if text := strings.Repeat("9", digits) + " m"; WithFeet(text) != text {
			t.Errorf("a length of %d digits has feet", digits)
		}
	}
}
