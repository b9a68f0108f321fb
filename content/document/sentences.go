package document

import (
	"faultwright/faulttree/lists"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentences splits advice into its sentences, so that it can be numbered. A
// semicolon ends one as well.
func Sentences(text string) []string {
	return lists.Each(split(text, ".;"), func(part string) string { return Capital(Sentence(strings.TrimSuffix(part, ";"))) })
}

// WholeSentences splits a text at its full stops alone and changes no word.
func WholeSentences(text string) []string {
	return lists.Each(split(text, "."), Sentence)
}

// split cuts a text behind each of the stops that a space follows.
func split(text, stops string) []string {
	var out []string
	rest := strings.TrimSpace(text)
	for rest != "" {
		end := len(rest)
		for i := 0; i+1 < len(rest); i++ {
			if strings.IndexByte(stops, rest[i]) >= 0 && rest[i+1] == ' ' && !abbreviated(rest[:i]) {
				end = i + 1
				break
			}
		}
		out = append(out, strings.TrimSpace(rest[:end]))
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

// Sentence ends text with a full stop if it ends with nothing of the kind.
func Sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".?:") {
		return text
	}
	return text + "."
}
