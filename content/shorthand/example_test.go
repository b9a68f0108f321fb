package shorthand_test

import (
	"fmt"

	"faultwright/content/load"
	"faultwright/content/shorthand"
)

// A list without a place asks for it once.
func Example() {
	reader := shorthand.New(load.Shipped())
	list, err := reader.Read("L1-N 59 L2-N 177")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(list.Taken(), list.Blocks[0].Places[1].Title)
	list = reader.Resolve(list, 0, shorthand.Answer{Place: "panel", State: shorthand.PluggedIn})
	for _, row := range list.Rows {
		fmt.Println(row.Quantity, row.Reading.Low)
	}
	// Output:
	// 0 the distribution panel
	// panel.l1-n 59
	// panel.l2-n 177
}
