package prove

import (
	"maps"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// weighings proves that a weigh step looks at nothing that no way to it has
// measured, and that no tree begins with one. A quantity that only some ways
// measure is allowed: on the others the walk leaves by not-possible.
func (p *prover) weighings() {
	for _, t := range p.trees {
		i, ok := p.index[faulttree.Ref{Tree: t.ID, Step: t.Start}]
		if ok && p.nodes[i].step.Kind == faulttree.KindWeigh {
			p.report(firstValid(p.nodes[i].step.Pos, t.Pos), ruleWeighStart, "tree %s begins at %s, which weighs readings taken before it", t.ID, t.Start)
		}
	}
	before := make([][]int, len(p.nodes))
	for i := range p.nodes {
		for _, e := range p.nodes[i].edges {
			if e.to >= 0 {
				before[e.to] = append(before[e.to], i)
			}
		}
	}
	for i := range p.nodes {
		n := &p.nodes[i]
		if n.step.Kind != faulttree.KindWeigh || p.looks < 0 {
			continue
		}
		read := p.measuredBefore(i, before)
		for _, v := range n.step.Measure {
			if v.Quantity.ID == "" || read[v.Quantity.ID] {
				continue
			}
			d := p.report(firstValid(v.Pos, n.step.Pos), ruleWeighUnread, "step %s weighs %s, which no way to it measures", n.step.ID, v.Quantity.ID)
			d.Hint = measuredInstead(v.Quantity.ID, slices.Sorted(maps.Keys(read)))
		}
	}
}

// mostNamed is how many quantities a hint lists.
const mostNamed = 6

// measuredInstead names what could be weighed: what has a name like that of
// quantity, else all there is.
func measuredInstead(quantity string, measured []string) string {
	near := source.DidYouMean(quantity, measured)
	switch {
	case near != "":
		return near
	case len(measured) == 0:
		return "nothing is measured before it"
	case len(measured) > mostNamed:
		measured = append(measured[:mostNamed:mostNamed], "…")
	}
	return "measured before it: " + strings.Join(measured, ", ")
}

// measuredBefore is every quantity that a step on any way to node i measures.
func (p *prover) measuredBefore(i int, before [][]int) map[string]bool {
	read, seen := map[string]bool{}, make([]bool, len(p.nodes))
	queue := slices.Clone(before[i])
	for len(queue) > 0 {
		k := queue[0]
		queue = queue[1:]
		if seen[k] {
			continue
		}
		seen[k] = true
		p.looks -= len(before[k])
		if s := p.nodes[k].step; s.Reads() {
			for _, v := range s.Measure {
				read[v.Quantity.ID] = true
			}
		}
		queue = append(queue, before[k]...)
	}
	return read
}
