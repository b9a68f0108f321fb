package place_test

import (
	"fmt"

	"faultwright/content/view"
	"faultwright/gui/place"
)

// From a step to a card and back: the step is as it was left.
func ExampleHistory() {
	var h place.History
	h.Go(place.Walk("2026-05-03-k7fqm", 2))
	h.Scrolled(120)
	h.Go(place.Document(view.KindCard, "ten-megohms"))
	fmt.Println(h.Here().Page)
	h.Back()
	fmt.Println(h.Here().Page, h.Here().Step, h.Here().Offset)
	// Output:
	// document
	// walk 2 120
}
