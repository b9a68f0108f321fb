package prove

import (
	"context"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// secondLeg adds a step that measures what only a 50 A plug has.
func secondLeg(t *faulttree.Tree, otherwise faulttree.Exit) {
	q := pedestalL2N
	q.Needs = faulttree.Needs{"service": {"50a"}}
	ask(t, to("leg", none))
	s := measure("leg", q, to("unproved", warning), to("unproved", warning), branch(span(0, 0), to("unproved", warning)))
	s.NotApplicable = otherwise
	add(t, s)
}

// A walk that enters a tree from elsewhere may know another fact than the one
// the tree is for.
func TestATreeWithFactsIsNotEntered(t *testing.T) {
	for _, fixed := range []map[string]string{nil, {"service": "30a"}} {
		tree := sound()
		tree.Facts = fixed
		other := act("go", faulttree.Exit{Text: "body#felt", To: faulttree.Ref{Tree: "body", Step: "felt"}})
		other.Tree = "other"
		said := ""
		for _, d := range Forest(context.Background(), forest(tree, &faulttree.Tree{ID: "other", Start: "go", Steps: []*faulttree.Step{other}}), known()) {
			if d.Rule == ruleFixedFacts {
				said = d.Message
			}
		}
		if want := "the act of step go leads into the tree body, which is only for service is 30a"; fixed == nil && said != "" || fixed != nil && !strings.Contains(said, want) {
			t.Errorf("with %v: %q, want %q", fixed, said, want)
		}
	}
}
