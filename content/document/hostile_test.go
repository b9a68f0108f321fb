package document

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree/source"
)

// Text made to keep a parser busy ends soon and takes little memory: within the
// bounds it is read, beyond them it is kept as it is written, with an error at
// its place. Without the bounds most of these take minutes or gigabytes.
func TestHostileTextEndsSoon(t *testing.T) {
	const size = 1 << 20
	for name, unit := range map[string]string{
		"quotes": ">", "brackets": "[", "images": "![", "emphasis": "*a **b ", "links": "[a](", "lines": "a\n",
		"paragraphs": "a\n\n", "items": "- a\n", "nested items": "- - - a\n", "tags": "<a ", "comments": "<!--", "fences": "```\n\n",
		"tables": "|a|\n|-|\n\n", "code": "`", "references": "[a][b]", "definitions": "[a]: b\n", "headings": "# *a **b\n", "entities": "&amp;",
		"deep lists":  strings.Join(indented(300), ""),
		"wide table":  strings.Repeat("|", 1501) + "\n" + strings.Repeat("|-", 1500) + "|\n" + strings.Repeat("|\n", 900) + "\n",
		"one heading": "# " + strings.Repeat("*a **b ", 20_000) + "\n",
	} {
		whole := strings.Repeat(unit, size/len(unit)+1)
		for _, piece := range []int{size, 20_000, 1_000, 100} {
			text := lines(strings.Repeat(whole[:piece]+"\n\n", size/(piece+2)+1)[:size], 50_000)
			var diags source.List
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begin := time.Now()
			Plain(Markdown(source.NewFile("x.md", []byte(text)), 0, &diags))
			took := time.Since(begin)
			runtime.ReadMemStats(&after)
			if took > 10*time.Second {
				t.Errorf("%s in pieces of %d: %v", name, piece, took)
			}
			if used := (after.TotalAlloc - before.TotalAlloc) >> 20; used > 200 {
				t.Errorf("%s in pieces of %d: %d MiB allocated in all", name, piece, used)
			}
			if len(diags) > mostReports {
				t.Errorf("%s in pieces of %d: %d diagnostics", name, piece, len(diags))
			}
		}
	}
}

// indented is a list that goes deeper with each of n lines.
func indented(n int) []string {
	var out []string
	for i := range n {
		out = append(out, strings.Repeat("  ", i)+"- a\n")
	}
	return out
}

// lines is at most n lines of text, as the loader has them.
func lines(text string, n int) string {
	for i := range text {
		if text[i] == '\n' {
			if n--; n == 0 {
				return text[:i+1]
			}
		}
	}
	return text
}

// What costs too much is kept as it is written, and what stands around it is
// read.
func TestCostlyTextIsKeptAsWritten(t *testing.T) {
	wide := strings.Repeat("|", 201) + "\n" + strings.Repeat("|-", 200) + "|\n" + strings.Repeat("|\n", 200)
	for name, test := range map[string]struct{ costly, want string }{
		"marks":   {strings.Repeat("[a](", 4000) + "\n", `x.md:3:1: error: this text takes too long to read, with 8001 marks (brackets, stars, bars, ends of lines and the like) in 16001 bytes; it is kept as it is written (divide it by blank lines)`},
		"heading": {"# " + strings.Repeat("*a **b ", 3000) + "\n", `x.md:3:1: error: this text takes too long to read, with 9001 marks (brackets, stars, bars, ends of lines and the like) in 21003 bytes; it is kept as it is written (divide it by blank lines)`},
		"table":   {wide, `x.md:3:1: error: this table has 40200 cells, counted with those that its rows leave out; it is not read as a table (divide the table)`},
	} {
		var diags source.List
		body := Markdown(source.NewFile("x.md", []byte("*Before.*\n\n"+test.costly+"\n## After {#after}\n")), 0, &diags)
		if len(diags) != 1 || diags[0].String() != test.want || diags[0].Rule != RuleWork {
			t.Errorf("%s: %v", name, diags)
		}
		if len(body) != 3 {
			t.Fatalf("%s: %d blocks", name, len(body))
		}
		if kept, ok := body[1].(Code); !ok || kept.Text != test.costly {
			t.Errorf("%s: something else is kept: %T", name, body[1])
		}
		if h, ok := body[2].(Heading); !ok || h.ID != "after" {
			t.Errorf("%s: %v stands after it", name, body[2])
		}
	}
}

// Much text that is cheap piece by piece is read up to the bound of a file.
func TestCostlyFileIsReadInPart(t *testing.T) {
	var diags source.List
	Markdown(source.NewFile("x.md", []byte(strings.Repeat(strings.Repeat("*a* ", 200)+"\n\n", 300))), 0, &diags)
	if len(diags) != 1 || diags[0].Rule != RuleWork || diags[0].Pos.Line < 20 || !strings.Contains(diags[0].Message, "from here on") {
		t.Errorf("%v", diags)
	}
}

// The same for YAML: aliases are never followed, nesting and size are bounded.
func TestHostileYAMLEndsSoon(t *testing.T) {
	bomb := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c <= 'z'; c++ {
		bomb += string(c) + ": &" + string(c) + " [" + strings.Repeat("*"+string(c-1)+", ", 8) + "*" + string(c-1) + "]\n"
	}
	for name, test := range map[string]struct{ text, rule string }{
		"alias bomb": {bomb, RuleYAMLFeature},
		"brackets":   {strings.Repeat(strings.Repeat("[", 80)+"\n", 5000), RuleYAMLSyntax},
		"nested":     {strings.Repeat("- ", 40) + "a\n", RuleYAMLSize},
		"many":       {strings.Repeat("- a\n", 120_000), RuleYAMLSize},
		"long line":  {"[" + strings.Repeat("a,", 10_000) + "]\n", RuleYAMLSize},
		"huge":       {strings.Repeat("- a b c d e f\n", 60_000), RuleYAMLSize},
		"long text":  {"- >\n" + strings.Repeat("  a long text of it\n", 1000), RuleYAMLSize},
		"anchors":    {strings.Repeat("- &a b\n", 50_000), RuleYAMLFeature},
	} {
		var diags source.List
		begin := time.Now()
		ParseYAML(source.NewFile("x.yaml", []byte(test.text)), &diags).Texts("the file")
		if took := time.Since(begin); took > 10*time.Second {
			t.Errorf("%s: %v", name, took)
		}
		if len(diags) == 0 || len(diags) > mostReports {
			t.Errorf("%s: %d diagnostics", name, len(diags))
		}
		for _, d := range diags {
			if d.Rule != test.rule {
				t.Errorf("%s: %v; expected rule %s", name, d, test.rule)
				break
			}
		}
	}
}

// Twenty thousand keys that nobody knows are told by the first few and a sum.
func TestManyUnknownKeysAreSummedUp(t *testing.T) {
	text := "title: a\n"
	for i := range 20_000 {
		text += fmt.Sprintf("k%d: a\n", i)
	}
	var diags source.List
	m := ParseYAML(source.NewFile("x.yaml", []byte(text)), &diags).Map("the file", "title")
	if m.Text("title") != "a" {
		t.Error("the key that is known is lost")
	}
	want := "x.yaml:7:1: error: from here on 19995 more keys stand here that the file does not have"
	if len(diags) != mostAlike+1 || diags[mostAlike].String() != want {
		t.Errorf("%d diagnostics: %v", len(diags), diags[:min(len(diags), 7)])
	}
}
