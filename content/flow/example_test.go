package flow_test

import (
	"fmt"

	"faultwright/content/flow"
	"faultwright/content/load"
	"faultwright/faulttree"
)

func Example() {
	g, err := flow.Of(load.Shipped(), "heat", faulttree.Unknown)
	if err != nil {
		fmt.Println(err)
		return
	}
	first := g.Nodes[0]
	for _, row := range first.Rows[:2] {
		fmt.Printf("%s → %s\n", first.When(row), g.Nodes[row.To].Name())
	}
	drawing := flow.Lay(g, flow.Options{Columns: 1}).Draw(flow.NoMarks())
	fmt.Println(drawing.Height > drawing.Width)
	// Output:
	// DANGER: Smoke, flame, a glow or crackling, now → 2 STOP: it burns or is about to
	// DANGER: Hot, soft or smelling now, or brown and still plugged in → 3 STOP: leave it alone until it is off and cool
	// true
}
