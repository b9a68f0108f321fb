package prove

import (
	"fmt"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// usedHere is said of the place where a tree uses the fragment at fault.
const usedHere = "the fragment is used here"

// relate says of the diagnostics from number i on that they hold where a
// fragment is used.
func (p *prover) relate(i int, uses []source.Pos) {
	for ; i < len(p.list); i++ {
		for _, at := range uses {
			p.list[i].Related = append(p.list[i].Related, source.Related{Pos: at, Message: usedHere})
		}
	}
}

// relateWays does the same for what was found by following ways: a place in a
// fragment that is not related yet stands for all its uses.
func (p *prover) relateWays() {
	uses := map[string][]source.Pos{} // by the fragment's file
	for _, n := range p.nodes {
		if len(n.step.Uses) > 0 {
			uses[n.step.Pos.File] = append(uses[n.step.Pos.File], n.step.Uses[0])
		}
	}
	for i := range p.list {
		d := &p.list[i]
		seen := map[source.Pos]bool{}
		for _, r := range d.Related {
			seen[r.Pos] = true
		}
		if len(seen) > 0 {
			continue
		}
		for _, at := range uses[d.Pos.File] {
			if !seen[at] {
				seen[at] = true
				d.Related = append(d.Related, source.Related{Pos: at, Message: usedHere})
			}
		}
	}
}

// hintUses names the first use in the hint, which every reader sees.
func hintUses(list source.List) {
	for i := range list {
		d := &list[i]
		n := lists.Count(d.Related, func(r source.Related) bool { return r.Message == usedHere })
		if n == 0 {
			continue
		}
		text := "the fragment is used at " + d.Related[len(d.Related)-n].Pos.String()
		if n > 1 {
			text += fmt.Sprintf(" and %d more", n-1)
		}
		if d.Hint != "" {
			text = d.Hint + "; " + text
		}
		d.Hint = text
	}
}
