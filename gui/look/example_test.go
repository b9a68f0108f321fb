package look_test

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/gui/look"
)

// A ruler is a value before it is a picture, and can be read out.
func ExampleNewRulerValue() {
	volts := func(n int64) faulttree.Amount { return faulttree.Amount(n) * faulttree.One }
	segments := []faulttree.Segment{
		{Span: faulttree.Span{From: 0, Below: volts(5)}, Label: "nothing yet"},
		{Span: faulttree.Span{From: volts(5), Below: volts(30)}, Label: "look further", Signal: faulttree.Warning},
		{Span: faulttree.Span{From: volts(30), Below: faulttree.Highest}, Label: "stop", Signal: faulttree.Danger},
	}
	v := look.NewRulerValue(segments, faulttree.VoltsAC, &look.RulerReading{
		Low: volts(29), High: volts(29), Span: faulttree.Only(volts(28), volts(30)), Text: "29 V ±1", Judged: true, Taken: 2,
	})
	fmt.Println(v.Words())
	// Output:
	// below 5 V: nothing yet; 5 V to below 30 V: look further (WARNING); 30 V and more: stop (DANGER). 29 V ±1 reaches over a limit: 5 V to below 30 V or 30 V and more; stop (DANGER) is taken.
}
