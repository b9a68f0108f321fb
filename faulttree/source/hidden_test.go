package source_test

import (
	"testing"

	"faultwright/faulttree/source"
)

// The marks that turn the direction of text are those of the Unicode Character
// Database, PropList.txt, property Bidi_Control.
func TestHiddenCharacters(t *testing.T) {
	turning := []rune{0x061C, 0x200E, 0x200F, 0x202A, 0x202B, 0x202C, 0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069}
	for _, r := range append(turning, 0, '\r', 0x1B, 0x7F, 0x9B) {
		if !source.Hidden(r) || source.Shown("a"+string(r)+"b") != "ab" {
			t.Errorf("%U is shown", r)
		}
	}
	for _, r := range "a é Ω ש م\n\t\u00a0\u2009" {
		if source.Hidden(r) {
			t.Errorf("%U is not shown", r)
		}
	}
	d := source.Diagnostic{Pos: source.Pos{File: "a\u202e.md"}, Message: "no key \x1b[31m", Hint: "b\u2066"}
	if got := d.String(); got != "a.md: error: no key [31m (b)" {
		t.Errorf("a diagnostic reads %q", got)
	}
}
