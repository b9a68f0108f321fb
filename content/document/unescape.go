package document

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/util"

	"faultwright/faulttree/source"
)

// unescape is Markdown text with its backslash escapes and character
// references resolved, as CommonMark 0.31.2, sections 2.4 and 2.5, has it.
func unescape(text []byte) string {
	if bytes.IndexByte(text, '\\') < 0 && bytes.IndexByte(text, '&') < 0 {
		return noNulls(string(text))
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		switch {
		case text[i] == '\\' && i+1 < len(text) && util.IsPunct(text[i+1]):
			b.WriteByte(text[i+1])
			i += 2
			continue
		case text[i] == '&':
			if value, size := reference(text[i:]); size > 0 {
				b.WriteString(value)
				i += size
				continue
			}
		}
		b.WriteByte(text[i])
		i++
	}
	return noNulls(b.String())
}

// reference reads a character reference at the start of text; size is 0 if
// there is none.
func reference(text []byte) (value string, size int) {
	end := bytes.IndexByte(text[:min(len(text), 40)], ';')
	if end < 2 {
		return "", 0
	}
	name := string(text[1:end])
	if name[0] != '#' {
		if entity, ok := util.LookUpHTML5EntityByName(name); ok {
			return source.Shown(string(entity.Characters)), end + 1
		}
		return "", 0
	}
	digits, base, most := name[1:], 10, 7
	if strings.HasPrefix(digits, "x") || strings.HasPrefix(digits, "X") {
		digits, base, most = digits[1:], 16, 6
	}
	if len(digits) > most || strings.ContainsAny(digits, "+-_") {
		return "", 0
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil {
		return "", 0
	}
	if n == 0 || n > utf8.MaxRune || !utf8.ValidRune(rune(n)) || source.Hidden(rune(n)) {
		return string(utf8.RuneError), end + 1
	}
	return string(rune(n)), end + 1
}

// noNulls replaces the character CommonMark forbids.
func noNulls(s string) string { return strings.ReplaceAll(s, "\x00", string(utf8.RuneError)) }
