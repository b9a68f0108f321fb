package class

import (
	"io/fs"
	"strings"
	"testing"
)

// A file is called by its kind and its learner, whatever the name has in it.
func TestFileName(t *testing.T) {
	for of, want := range map[string]string{
		"Wren Ash":                     "attempt-Wren-Ash",
		`Quote "Q" O'Hara`:             "attempt-Quote-Q-O-Hara",
		"../../etc/evil":               "attempt-etc-evil",
		"=1+1":                         "attempt-1-1",
		"CON":                          "attempt-CON",
		"Jose\u0301 \u202eAsh\nII":     "attempt-Jose\u0301-Ash-II",
		"?!":                           "attempt-nameless",
		strings.Repeat("Wren-Ash ", 9): "attempt-" + strings.TrimSuffix(strings.Repeat("Wren-Ash-", 9)[:40], "-"),
	} {
		got := FileName("attempt", of)
		if got != want {
			t.Errorf("the file of %q is %q, not %q", of, got, want)
		}
		if !fs.ValidPath(got) || strings.Contains(got, "/") {
			t.Errorf("%q names no file of a folder", got)
		}
	}
}
