package print

import (
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// proof is how the meter is proved, in short: paper outlives the program that would lead
// through it.
type proof struct {
	By   []string // by which readings: "R1", or "R1 (DC volts)" where there are several
	Else []check  // what to look at if they show nothing
}

// check is one look at the meter alone.
type check struct {
	Title string
	Prose []document.Block
}

// proof gathers how the readings of a sheet prove the meter in volts, and what else its
// steps tell of the meter.
func (p *plan) proof(on *sheetPlan) proof {
	var by []faulttree.Quantity
	met := map[string]bool{}
	for _, n := range on.nodes {
		for _, v := range n.Measure {
			q := v.Quantity
			if (q.Proves == faulttree.ProvesVoltsAC || q.Proves == faulttree.ProvesVoltsDC) && !met[q.ID] {
				met[q.ID] = true
				by = append(by, q)
			}
		}
	}
	var out proof
	for _, q := range by {
		code := p.codes[q.ID]
		if len(by) > 1 {
			code += " (" + q.Unit.Function() + ")"
		}
		out.By = append(out.By, code)
	}
	told := map[string]bool{} // a walk that proves the meter at two of its steps has the same looks twice
	for _, n := range on.checks() {
		prose := p.lib.Prose[n.Ref()]
		if text := n.Title + document.Plain(prose); !told[text] {
			told[text] = true
			out.Else = append(out.Else, check{n.Title, prose})
		}
	}
	return out
}

// checks are the looks at the meter alone that a sheet tells in short.
func (on *sheetPlan) checks() []*node {
	return lists.Where(on.folded, func(n *node) bool { return n.Kind != faulttree.KindFinding })
}
