package document

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// mostFuzzed bounds what the fuzz target looks at, in bytes: small inputs find
// the same slips, thousands of times as often.
const mostFuzzed = 4 << 10

// Whatever stands in a document, reading it ends without a panic, positions
// lie inside the file, and no letter is lost: the plain text has the same
// letters as the HTML that the Markdown parser's own renderer makes.
func FuzzDocument(f *testing.F) {
	for i, e := range specExamples(f) {
		if i%13 == 0 {
			f.Add([]byte("---\ncard: a\n---\n" + e.Markdown))
		}
	}
	f.Add([]byte("---\ncard: &a [*a]\n<<: {b: !!str c}\n---\n> **DANGER** a\n\n| a |\n| - |\n| `b\\|c` |\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > mostFuzzed {
			return
		}
		if !utf8.Valid(data) || bytes.Contains(data, []byte("\r")) {
			return // the loader refuses or replaces these
		}
		file := source.NewFile("x.md", data)
		var diags source.List
		doc := Parse(file, &diags)
		doc.Front.Map("the front matter", "card").Texts("card")
		for _, d := range diags {
			if d.Pos.Column < 1 || d.Pos.Column > utf8.RuneCountInString(file.LineText(d.Pos.Line))+1 {
				t.Errorf("there is no such place: %v", d)
			}
		}
		var own source.List
		plain := letters(Plain(Markdown(file, 0, &own)))
		for _, d := range own {
			if d.Rule != RuleImage {
				return // shown in another form, or refused
			}
		}
		var html strings.Builder
		must.Do(t, commonMark().Convert(data, &html))
		if want := letters(textOf(html.String())); plain != want {
			t.Errorf("letters %q, expected %q", plain, want)
		}
	})
}
