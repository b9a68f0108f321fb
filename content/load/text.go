package load

import (
	"bytes"
	"unicode/utf8"

	"faultwright/faulttree/source"
)

// fileOf is a file from outside as the readers take it: its line ends plain
// newlines, without a byte order mark, and without characters that are not
// shown, which are reported. A file that is too long or not UTF-8 is reported
// and not read: ok is false.
func fileOf(name string, text []byte, diags *source.List) (f *source.File, ok bool) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if bytes.Contains(text, []byte("\r\n")) {
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	}
	if bytes.Count(text, []byte("\n")) > mostLines {
		diags.Add(source.Pos{File: name}, RuleTooLarge, "the file has more than %d lines; it is not read", mostLines)
		return nil, false
	}
	f = source.NewFile(name, text)
	if !utf8.Valid(text) {
		diags.Add(f.Pos(firstInvalid(text)), RuleEncoding, "this byte is not UTF-8; save the file as UTF-8")
		return nil, false
	}
	at := bytes.IndexFunc(text, source.Hidden)
	if at < 0 {
		return f, true
	}
	shown := bytes.Map(func(r rune) rune {
		if source.Hidden(r) {
			return -1
		}
		return r
	}, text)
	hidden, _ := utf8.DecodeRune(text[at:])
	diags.AddHint(f.Pos(at), RuleHidden, "take it out", "a character that is not shown stands here, %U; with it this file has %d of them",
		hidden, utf8.RuneCount(text)-utf8.RuneCount(shown))
	return source.NewFile(name, shown), true
}
