package faulttree

import "strings"

// InSentence is the beginning of a sentence as a part of another: in small letters,
// without its full stop. "GFCI" and "L1" keep their capitals, and so does "I".
func InSentence(text string) string {
	text = strings.TrimSuffix(text, ".")
	if len(text) < 2 || text[0] == 'I' && text[1] == ' ' || text[1] != ' ' && (text[1] < 'a' || text[1] > 'z') {
		return text
	}
	return strings.ToLower(text[:1]) + text[1:]
}
