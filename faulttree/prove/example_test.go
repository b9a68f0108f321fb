package prove_test

import (
	"context"
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/prove"
)

// A step whose branches leave out a reading exactly on the limit.
func ExampleForest() {
	const volt = faulttree.One
	end := faulttree.Exit{Text: "ask", To: faulttree.Ref{Tree: "supply", Step: "ask"}, Signal: faulttree.Warning}
	take := func(from, below faulttree.Amount) faulttree.Branch {
		return faulttree.Branch{Bounds: []faulttree.Bound{{Var: 0, Span: faulttree.Span{From: from, Below: below}}}, Exit: end}
	}
	tree := &faulttree.Tree{
		ID: "supply", Start: "leg",
		Limits: map[string]faulttree.Limit{"low": {Value: 114 * volt, Unit: faulttree.VoltsAC, Source: "c84-1"}},
		Steps: []*faulttree.Step{
			{
				Tree: "supply", ID: "leg", Kind: faulttree.KindMeasure,
				Measure:   []faulttree.Variable{{Name: "v", Quantity: faulttree.Quantity{ID: "pedestal.l1-n", Unit: faulttree.VoltsAC, Range: 600 * volt}}},
				Branches:  []faulttree.Branch{take(0, 114*volt), take(114*volt+1, faulttree.Highest)},
				OverRange: end, NotPossible: end,
			},
			{
				Tree: "supply", ID: "ask", Kind: faulttree.KindFinding,
				Finding: faulttree.Finding{Signal: faulttree.Warning, Sure: "Likely.", FirstAction: "Leave the plug out.", DoNot: "Do not plug in.", RepairBy: "The site office."},
			},
		},
	}
	tree.Index()
	forest := &faulttree.Forest{Trees: map[string]*faulttree.Tree{"supply": tree}}
	for _, d := range prove.Forest(context.Background(), forest, prove.Known{}) {
		fmt.Println(d.Rule+":", d.Message)
	}
	// Output: coverage-gap: no branch takes 114 V on pedestal.l1-n
}
