package view

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentences splits advice into its sentences, so that it can be numbered.
func Sentences(text string) []string {
	var out []string
	rest := strings.TrimSpace(text)
	for rest != "" {
		end := len(rest)
		for i := 0; i+1 < len(rest); i++ {
			if (rest[i] == '.' || rest[i] == ';') && rest[i+1] == ' ' && !abbreviated(rest[:i]) {
				end = i + 1
				break
			}
		}
		part := strings.TrimSuffix(strings.TrimSpace(rest[:end]), ";")
		out = append(out, Capital(Sentence(part)))
		rest = strings.TrimSpace(rest[end:])
	}
	return out
}

// Capital begins text with a capital letter.
func Capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

// abbreviated reports whether text ends in a single letter or a digit, after
// which a full stop ends no sentence.
func abbreviated(text string) bool {
	i := strings.LastIndexByte(text, ' ')
	last := text[i+1:]
	return len(last) == 1 && last != "V" && last != "A" && last != "m"
}
