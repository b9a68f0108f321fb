package class

import (
	"cmp"
	"strings"
	"unicode"
)

// mostFileName is how many characters of a name stand in that of a file.
const mostFileName = 40

// FileName is what a file is called, without its ending, by its kind and by whose it is or
// what it is about: "attempt-Wren-Ash". Many of a kind come into one folder, so each has a
// name of its own. The kind stands first, so that none is a name that a system keeps for
// itself.
func FileName(kind, of string) string {
	words := strings.FieldsFunc(plain(of), func(r rune) bool { return !unicode.In(r, unicode.L, unicode.M, unicode.N) })
	name := []rune(strings.Join(words, "-"))
	text := strings.TrimRight(string(name[:min(len(name), mostFileName)]), "-")
	return kind + "-" + cmp.Or(text, "nameless")
}
