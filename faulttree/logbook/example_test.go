package logbook_test

import (
	"fmt"
	"time"

	"faultwright/faulttree/logbook"
)

// Two entries for one vehicle become one, and visits of either are its own.
func Example() {
	made := time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC)
	willow := logbook.Vehicle{ID: logbook.NewID(made, 1), Name: "Willow", Made: made}
	trailer := logbook.Vehicle{ID: logbook.NewID(made, 2), Name: "the old trailer", Facts: map[string]string{"service": "30a"}, Made: made}
	one, err := willow.Merged(trailer)
	fmt.Println(one.Name, one.Facts["service"], one.Is(trailer.ID), err)
	fmt.Println(one.Note)
	// Output:
	// Willow 30a true <nil>
	// Merged: the old trailer.
}
