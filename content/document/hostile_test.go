package document

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree/source"
)

// Text made to keep a parser busy ends soon: within the bounds it is read,
// beyond them refused. Without the bounds most of these take minutes.
func TestHostileTextEndsSoon(t *testing.T) {
	const size = 1 << 20
	patterns := map[string]string{
		"quotes": ">", "brackets": "[", "images": "![", "emphasis": "*a **b ", "links": "[a](", "lines": "a\n",
		"paragraphs": "a\n\n", "items": "- a\n", "tags": "<a ", "comments": "<!--", "fences": "```\n\n", "tables": "|a|\n|-|\n\n",
	}
	for _, name := range slices.Sorted(maps.Keys(patterns)) {
		unit := patterns[name]
		whole := strings.Repeat(unit, size/len(unit))
		for _, piece := range []int{len(whole), 20_000, 1_000} {
			text := strings.Repeat(whole[:piece]+"\n\n", size/(piece+2)+1)[:size]
			var diags source.List
			begin := time.Now()
			Plain(Markdown(source.NewFile("x.md", []byte(text)), 0, &diags))
			if took := time.Since(begin); took > 20*time.Second {
				t.Errorf("%s in pieces of %d: %v", name, piece, took)
			}
			if (len(diags) == 0 && name != "fences") || len(diags) > mostReports {
				t.Errorf("%s in pieces of %d: %d diagnostics; expected one to %d", name, piece, len(diags), mostReports)
			}
		}
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
		"anchors":    {strings.Repeat("- &a b\n", 50_000), RuleYAMLFeature},
	} {
		var diags source.List
		begin := time.Now()
		ParseYAML(source.NewFile("x.yaml", []byte(test.text)), &diags).Items("the file")
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
