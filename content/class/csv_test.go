package class

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"

	"faultwright/faulttree/must"
)

// rfc4180 reads a file by the grammar of RFC 4180, section 2, and nothing beside it:
// a second reader that shares nothing with encoding/csv.
func rfc4180(text string) ([][]string, error) {
	var all [][]string
	for len(text) > 0 {
		var record []string
		for {
			var field string
			if strings.HasPrefix(text, `"`) {
				end := 1
				for {
					i := strings.IndexByte(text[end:], '"')
					if i < 0 {
						return nil, errors.New("a quoted field does not end")
					}
					end += i + 1
					if !strings.HasPrefix(text[end:], `"`) {
						break
					}
					end++
				}
				field, text = strings.ReplaceAll(text[1:end-1], `""`, `"`), text[end:]
			} else {
				end := strings.IndexAny(text, ",\"\r\n")
				if end < 0 {
					return nil, errors.New("the last record has no line break")
				}
				field, text = text[:end], text[end:]
			}
			record = append(record, field)
			if !strings.HasPrefix(text, ",") {
				break
			}
			text = text[1:]
		}
		if !strings.HasPrefix(text, "\r\n") {
			return nil, fmt.Errorf("expected CRLF at %q", text[:min(20, len(text))])
		}
		text = text[2:]
		all = append(all, record)
	}
	return all, nil
}

// The characters with which a spreadsheet begins a formula are those of OWASP, CSV
// Injection: = + - @ tab, carriage return, line feed, and their full-width forms.
func TestNoCellIsAFormula(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step", "bright-over-the-sink")
	names := []string{`=HYPERLINK("x")`, "+1", "-2+3", "@SUM(A1)", "\t=1", "＝1+1", `Anne "the meter", Wren`, "x;=1+1", " =2", "Zoë O'Neil-Reed"}
	files := map[string][]byte{}
	for i, name := range names {
		files[fmt.Sprintf("=%d\n\x1b[31m.zip", i)] = written(t, handedIn(t, a, name, 7e9+1e6*1000))
	}
	c := collected(t, folderOf(t, a, files), Options{})
	if len(c.Learners) != len(names) {
		t.Fatalf("%d learners: %v", len(c.Learners), c.Told)
	}
	c.Scenarios[0].Title = "=cmd|' /C calc'!A0"
	var out bytes.Buffer
	must.Do(t, c.CSV(&out, false))
	lines := must.Have(csv.NewReader(bytes.NewReader(out.Bytes())).ReadAll())(t)
	again := must.Have(rfc4180(out.String()))(t)
	if diff := cmp.Diff(lines, again); diff != "" {
		t.Errorf("two readers differ:\n%s", diff)
	}
	if len(lines) != 1+2*len(names) {
		t.Errorf("%d lines", len(lines))
	}
	for _, line := range lines {
		for _, cell := range line {
			if strings.ContainsFunc(cell, unicode.IsControl) { // what a screen would obey
				t.Errorf("%q has a control character", cell)
			}
			for _, part := range strings.Split(cell, ";") {
				if part = strings.TrimLeft(part, " "); part != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(part)[0]) {
					t.Errorf("%q would be a formula", cell)
				}
			}
		}
	}
	for _, want := range []string{`'=HYPERLINK("x")`, `Anne "the meter", Wren`, "Zoë O'Neil-Reed", "x;'=1+1"} {
		if !slices.ContainsFunc(lines, func(l []string) bool { return l[0] == want }) {
			t.Errorf("no line is of %q", want)
		}
	}
}
