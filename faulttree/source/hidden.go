package source

import (
	"strings"
	"unicode"
)

// Hidden reports whether a character shows nothing by itself and can change how
// what stands around it is shown: a control character other than the end of a
// line and the tab, or a mark that turns the direction of text.
func Hidden(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' || unicode.Is(unicode.Bidi_Control, r)
}

// Shown is text as it may be shown: without hidden characters.
func Shown(text string) string {
	if strings.IndexFunc(text, Hidden) < 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if Hidden(r) {
			return -1
		}
		return r
	}, text)
}
