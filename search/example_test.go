package search_test

import (
	"context"
	"fmt"

	"faultwright/content/load"
	"faultwright/search"
)

// A reading leads to the step that measures it, with the reading filled in.
func Example() {
	index, err := search.Build(context.Background(), load.Shipped())
	if err != nil {
		fmt.Println(err)
		return
	}
	hits := index.Find(search.Query{Text: "58 volts on the bumper"}).Hits
	fmt.Println(hits[0].ID, hits[0].Quantity, hits[0].Reading)
	hits = index.Find(search.Query{Text: "tingel", Kind: search.KindTree}).Hits
	fmt.Println(hits[0].ID)
	// Output:
	// body-voltage#body-earth body-earth 58 V
	// body-voltage
}
