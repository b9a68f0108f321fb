package store_test

import (
	"errors"
	"fmt"
	"os"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// A visit that one window has open can be looked at, not opened, by another.
func Example() {
	dir, err := os.MkdirTemp("", "visits")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	s, _ := store.Open(dir)
	defer s.Close()

	file, _ := s.Create(visit.Header{
		ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: "body-voltage", Step: "first-minute"},
		Meter: faulttree.DefaultMeter(), Started: time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC),
	})
	defer file.Close()

	_, err = s.Open("2026-05-03-k7fqm")
	fmt.Println(errors.Is(err, store.ErrElsewhere))
	v, err := s.Read("2026-05-03-k7fqm")
	fmt.Println(v.Header.Start, err)
	// Output:
	// true
	// body-voltage#first-minute <nil>
}
