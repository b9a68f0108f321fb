package document

import (
	"encoding/json"
	"html"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// specExample is one example of the CommonMark Spec 0.31.2; see
// testdata/commonmark/NOTICE.
type specExample struct {
	Markdown, HTML, Section string
	Example                 int
}

func specExamples(t testing.TB) []specExample {
	data := must.Have(os.ReadFile("../../testdata/commonmark/spec.json"))(t)
	var examples []specExample
	must.Do(t, json.Unmarshal(data, &examples))
	return examples
}

var (
	altForm = regexp.MustCompile(`<img [^>]*?alt="([^"]*)"[^>]*>`)
	tagForm = regexp.MustCompile(`(?s)<!--.*?-->|<\?.*?\?>|<!\[CDATA\[.*?\]\]>|<![A-Za-z].*?>|</?[A-Za-z](?:"[^"]*"|'[^']*'|[^'">])*>`)
)

// textOf is the text content of expected HTML: the words of images in their
// places, no tags, character references resolved.
func textOf(expected string) string {
	return html.UnescapeString(tagForm.ReplaceAllString(altForm.ReplaceAllString(expected, "$1"), "\x00"))
}

// letters keeps letters and digits only.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, s)
}

// oneLine is text with each line end as a space, as running text shows it.
func oneLine(s string) string { return strings.ReplaceAll(s, "\n", " ") }

// Text is lost when a letter or digit of the expected HTML's text content is
// missing from the plain text, or stands elsewhere in it. Without raw HTML the
// letters must be the same; with it, its tags must be shown as they are
// written, and each run of text between tags must follow the one before.
func TestCommonMarkSpecLosesNoText(t *testing.T) {
	examples := specExamples(t)
	if len(examples) != 652 {
		t.Fatalf("the spec has %d examples, expected 652", len(examples))
	}
	exact := 0
	for _, e := range examples {
		var diags source.List
		f := source.NewFile("spec.md", []byte(e.Markdown))
		plain := Plain(Markdown(f, 0, &diags))
		got := letters(plain)
		raw := false
		for _, d := range diags {
			raw = raw || d.Rule == RuleRawHTML
			if d.Rule != RuleRawHTML && d.Rule != RuleImage {
				t.Errorf("example %d (%s): %v", e.Example, e.Section, d)
			}
			if !d.Pos.IsValid() {
				t.Errorf("example %d: no place: %v", e.Example, d)
			}
		}
		text := textOf(e.HTML)
		if !raw {
			exact++
			if want := letters(text); got != want {
				t.Errorf("example %d (%s): %q\nletters %q\nwant    %q", e.Example, e.Section, e.Markdown, got, want)
			}
			continue
		}
		for _, tag := range tagForm.FindAllString(e.HTML, -1) {
			if strings.Contains(e.Markdown, tag) && !strings.Contains(oneLine(plain), oneLine(tag)) {
				t.Errorf("example %d (%s): %q\nthe tag %q is missing in %q", e.Example, e.Section, e.Markdown, tag, plain)
			}
		}
		rest := got
		for _, run := range strings.Split(text, "\x00") {
			at := strings.Index(rest, letters(run))
			if at < 0 {
				t.Errorf("example %d (%s): %q\n%q is missing in %q", e.Example, e.Section, e.Markdown, letters(run), rest)
				break
			}
			rest = rest[at+len(letters(run)):]
		}
	}
	if exact < 550 {
		t.Errorf("only %d examples compared letter by letter", exact)
	}
}

// Raw HTML is shown as it is written, with a warning at its place.
func TestRawHTMLIsShownLiterally(t *testing.T) {
	for _, test := range []struct{ markdown, plain, at string }{
		{"A <b>bold</b> claim", "A <b>bold</b> claim", "x.md:1:3"},
		{"<div>\n  inner & more\n</div>", "<div>\n  inner & more\n</div>", "x.md:1:1"},
		{"text\n\n<script>\nrun()\n</script>", "text\n<script>\nrun()\n</script>", "x.md:3:1"},
	} {
		var diags source.List
		got := Plain(Markdown(source.NewFile("x.md", []byte(test.markdown)), 0, &diags))
		if got != test.plain {
			t.Errorf("%q: %q, expected %q", test.markdown, got, test.plain)
		}
		if len(diags) == 0 || diags[0].Rule != RuleRawHTML || diags[0].Severity != source.Warning || diags[0].Pos.String() != test.at {
			t.Errorf("%q: %v, expected a raw-html warning at %s", test.markdown, diags, test.at)
		}
	}
}

// HTML that is never closed takes up all that stands below it: an error says
// where it begins, and how far it goes.
func TestUnclosedHTMLIsAnError(t *testing.T) {
	for _, begin := range []string{"<!-- a note", "<script>", "<?", "<![CDATA["} {
		var diags source.List
		Markdown(source.NewFile("x.md", []byte("text\n\n"+begin+"\n\n## Lost\n\nmore\n")), 0, &diags)
		if len(diags) != 1 || diags[0].Severity != source.Error || diags[0].Rule != RuleRawHTML || diags[0].Pos.String() != "x.md:3:1" || !strings.Contains(diags[0].Message, "down to line 7") {
			t.Errorf("%q: %v", begin, diags)
		}
	}
	for _, closed := range []string{"<!-- a note -->\n\nmore", "<!-- a\n\nnote -->\n\nmore", "<!-- a\n\nnote --> and\nmore", "<script>\n</script>", "<b>\nmore"} {
		var diags source.List
		Markdown(source.NewFile("x.md", []byte(closed)), 0, &diags)
		if diags.HasErrors() {
			t.Errorf("%q: %v", closed, diags)
		}
	}
}
