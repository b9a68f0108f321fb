package load

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// ruleTexts says what each rule demands, as the comment beside its name does.
func ruleTexts(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{rig.RuleRig: "A rig makes sense."}
	for _, name := range []string{"rules.go", "../document/rules.go"} {
		f := must.Have(parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments))(t)
		ast.Inspect(f, func(n ast.Node) bool {
			rule, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			if name, ok := rule.Values[0].(*ast.BasicLit); ok { // else it stands in the other file
				word, _ := strconv.Unquote(name.Value)
				out[word] = strings.TrimSpace(rule.Comment.Text())
			}
			return true
		})
	}
	return out
}

// Whoever reads a rule's name finds what it demands beside it.
func TestEveryRuleSaysWhatItDemands(t *testing.T) {
	for rule, text := range ruleTexts(t) {
		if !strings.HasSuffix(text, ".") {
			t.Errorf("the rule %s demands %q; expected a sentence", rule, text)
		}
	}
}
