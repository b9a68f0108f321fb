package contact

import "testing"

// TestDenied holds that a figure is taken as not read where the words say so,
// and that the end of a word says nothing.
func TestDenied(t *testing.T) {
	for text, want := range map[string]bool{
		"L1-N is not ": true, "it isn't ": true, "it isnt ": true, "should be ": true, "instead of ": true, "less than ": true,
		"ground current ": false, "the ground went ": false, "L1-N ": false, "cabinet ": false, "present ": false,
	} {
		if got := Denied(text); got != want {
			t.Errorf("Denied(%q) is %v", text, got)
		}
	}
}
