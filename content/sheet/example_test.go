package sheet_test

import (
	"fmt"
	"strings"
	"time"

	"faultwright/content/load"
	"faultwright/content/sheet"
	"faultwright/faulttree"
)

// A walk that has only begun gives a sheet too: it says that nothing is known.
func Example() {
	lib := load.Shipped()
	walk, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "body-voltage"}, faulttree.Owner, faulttree.DefaultMeter())
	if err != nil {
		fmt.Println(err)
		return
	}
	page := sheet.Markdown(sheet.Input{Site: "Quillback Hollow, site 14", Walk: walk, Started: time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)}, lib)
	for line := range strings.Lines(string(page)) {
		if strings.HasPrefix(line, "## WARNING") || strings.HasPrefix(line, "**This") {
			fmt.Print(line)
		}
	}
	// Output:
	// ## WARNING: This visit is not finished: no finding yet
	// **This sheet records readings. It does not declare anything dead or free of faults.**
}
