package prove

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// mostCombinations is for how many combinations of facts a step is proved.
const mostCombinations = 1000

// underFacts proves n once for each set of quantities that the facts can leave
// of it, and says beside each diagnostic which facts do.
func (p *prover) underFacts(n *node, proof func(*node)) {
	if len(n.step.NeedsFacts()) == 0 {
		proof(n)
		return
	}
	seen := map[string]bool{}
	complete := p.combinations(n, n.step.NeedsFacts(), func(facts map[string]string) {
		under := *n
		under.step = n.step.Under(func(fact string) string { return facts[fact] })
		left := ""
		for _, v := range under.step.Measure {
			left += v.Name + " "
		}
		if seen[left] {
			return
		}
		seen[left] = true
		before := len(p.list)
		switch {
		case left != "":
			proof(&under)
		case !n.step.NotApplicable.Set():
			p.report(n.pos(faulttree.Exit{}), ruleNotApplicable, "step %s has nothing to measure and no not-applicable", n.step.ID)
		}
		if under.step != n.step {
			for i := range p.list[before:] {
				p.list[before+i].Message += " (where " + factWords(facts) + ")"
			}
		}
	})
	if !complete {
		p.report(n.pos(faulttree.Exit{}), ruleTooComplex, "step %s needs facts of more than %d combinations", n.step.ID, mostCombinations)
	}
}

// combinations goes through what the facts named can be together in the tree of
// n; false if there are too many.
func (p *prover) combinations(n *node, names []string, each func(map[string]string)) bool {
	all := [][]string{nil}
	for _, name := range names {
		var choices []string
		for _, f := range p.forest.Facts {
			for _, c := range f.Choices {
				if fixed := n.tree.Facts[name]; f.ID == name && (fixed == "" || fixed == c.ID) {
					choices = append(choices, c.ID)
				}
			}
		}
		if len(choices) == 0 {
			choices = []string{""} // no such fact: its list is reported where it is read
		}
		var next [][]string
		for _, chosen := range all {
			for _, c := range choices {
				next = append(next, append(chosen[:len(chosen):len(chosen)], c))
			}
		}
		if all = next; len(all) > mostCombinations {
			return false
		}
	}
	for _, chosen := range all {
		facts := map[string]string{}
		for i, name := range names {
			facts[name] = chosen[i]
		}
		each(facts)
	}
	return true
}

// factWords says which facts hold: "service is 30a".
func factWords(facts map[string]string) string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(facts)) {
		out = append(out, fmt.Sprintf("%s is %s", name, facts[name]))
	}
	return strings.Join(out, ", ")
}

// fixedFacts proves that no tree is entered from another which says for whom it
// is: the walk would know otherwise.
func (p *prover) fixedFacts() {
	for i := range p.nodes {
		n := &p.nodes[i]
		for _, e := range n.edges {
			if e.to < 0 || p.nodes[e.to].tree == n.tree || len(p.nodes[e.to].tree.Facts) == 0 {
				continue
			}
			p.report(n.pos(e.Exit), ruleFixedFacts, "%s of step %s leads into the tree %s, which is only for %s",
				exitName(n.step, e), n.step.ID, e.To.Tree, factWords(p.nodes[e.to].tree.Facts)).
				Hint = "lead to the step that it leads to itself"
		}
	}
}
