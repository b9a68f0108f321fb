package contact

import "testing"

// TestNumbersInWords holds that a number in words is read whole or left.
func TestNumbersInWords(t *testing.T) {
	for text, want := range map[string]string{
		"zero volts": "0 volts", "twelve point one volts": "12.1 volts", "one hundred and nineteen volts": "119 volts", "twenty-five ohms": "25 ohms",
		"a hundred volts": "100 volts", "two hundred forty volts": "240 volts", "zero point zero five ohms": "0.05 ohms", "neutral and sixty volts": "neutral and 60 volts",
		"thirty volts": "30 volts", "ninety nine volts": "99 volts", "zero": "0",
		// Left.
		"one leg": "one leg", "fifty to sixty volts": "fifty to sixty volts", "two hundred 40 volts": "two hundred 40 volts", "couple of hundred volts": "couple of hundred volts",
		"minus three volts": "minus three volts", "one twenty volts": "one twenty volts", "5 hundred volts": "5 hundred volts", "one and two volts": "one and two volts",
		"three or four volts": "three or four volts", "leg one hundred volts": "leg one hundred volts", "sixty odd volts": "sixty odd volts",
	} {
		if got := Figures(text); got != want {
			t.Errorf("%q is read as %q; want %q", text, got, want)
		}
	}
}
