package faulttree_test

import (
	"fmt"

	"faultwright/faulttree"
)

// A reading near a danger limit counts as over it.
func ExampleStep_Judge() {
	body := faulttree.Quantity{ID: "body-earth", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 1000 * faulttree.One}
	touch := 30 * faulttree.One
	step := faulttree.Step{
		Tree: "body-voltage", ID: "body-earth", Kind: faulttree.KindMeasure,
		Measure: []faulttree.Variable{{Name: "v", Quantity: body}},
		Branches: []faulttree.Branch{
			{Bounds: []faulttree.Bound{{Span: faulttree.Span{From: faulttree.Lowest, Below: touch}}}, Exit: faulttree.Exit{Text: "look-further", Signal: faulttree.Warning}},
			{Bounds: []faulttree.Bound{{Span: faulttree.Span{From: touch, Below: faulttree.Highest}}}, Exit: faulttree.Exit{Text: "stop", Signal: faulttree.Danger}},
		},
	}
	limit := func(string) (faulttree.Amount, bool) { return touch, true }
	for _, typed := range []string{"12.4", "29.5 V", "58"} {
		r, err := faulttree.ParseReading(typed, body)
		if err != nil {
			fmt.Println(err)
			return
		}
		out, err := step.Judge([]faulttree.Reading{r}, faulttree.DefaultMeter(), limit)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(r.Show(body.Unit), "leads to", out.Text, "certain:", out.Certain)
	}
	// Output:
	// 12.4 V leads to look-further certain: true
	// 29.5 V leads to stop certain: false
	// 58 V leads to stop certain: true
}
