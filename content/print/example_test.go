package print_test

import (
	"fmt"
	"strings"
	"time"

	"faultwright/content/load"
	"faultwright/content/print"
)

// A card as a page of Letter paper.
func ExampleBytes() {
	o := print.Options{Paper: print.Letter, Printed: time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC)}
	text, err := print.Bytes(load.Shipped(), "ghost-voltage", o)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(print.FileName("ghost-voltage", o), strings.Contains(string(text), "<h1>Ghost voltage</h1>"))
	// Output: ghost-voltage-letter true
}
