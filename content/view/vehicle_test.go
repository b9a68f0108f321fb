package view

import (
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/faulttree/logbook"
)

// Vehicles of one name are told apart by what is known of them, else by when they were
// added.
func TestVehiclesOfOneName(t *testing.T) {
	made := time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC)
	of := func(id, name, plug string) logbook.Vehicle {
		v := logbook.Vehicle{ID: id, Name: name, Made: made}
		if plug != "" {
			v.Facts = map[string]string{"service": plug}
		}
		return v
	}
	all := []logbook.Vehicle{of("a", "Heron", "50a"), of("b", "heron", "30a"), of("c", "Heron", ""), of("d", "Willow", "50a"), of("e", "Finch", "30a"), of("f", "Finch", "30a")}
	all[5].Made = made.Add(time.Minute)
	for i, want := range []string{"Heron (Service: 50 A)", "heron (Service: 30 A)", "Heron (added 3 May 2026 09:40)", "Willow",
		"Finch (Service: 30 A, added 3 May 2026 09:40)", "Finch (Service: 30 A, added 3 May 2026 09:41)"} {
		if got := Called(load.Shipped(), all[i], all); got != want {
			t.Errorf("vehicle %d is called %q, want %q", i, got, want)
		}
	}
}
