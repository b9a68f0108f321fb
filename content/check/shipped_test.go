package check

import (
	"context"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// The handbook inside the program has nothing wrong with it.
func TestShippedIsClean(t *testing.T) {
	for _, d := range Library(context.Background(), load.Shipped()) {
		t.Error(d)
	}
}

// Every dangerous fault says by which test it would be excluded, in every place it
// can sit, and every tree that rigs cover has its list of what remains.
func TestShippedSaysHowToExcludeDangers(t *testing.T) {
	lib := load.Shipped()
	for id, f := range lib.Faults {
		for _, place := range f.Places {
			if f.Hazard == faulttree.Danger && f.TestAt(place) == nil {
				t.Errorf("the document of %s names no test for the place %s", id, place)
			}
		}
	}
	for _, id := range Covered(lib) {
		if lib.Files[load.RemainingFile(id)] == nil {
			t.Errorf("there is no %s", load.RemainingFile(id))
		}
	}
}

func BenchmarkLoadShipped(b *testing.B) {
	for b.Loop() {
		load.Shipped()
	}
}

func BenchmarkLoadAndProveShipped(b *testing.B) {
	for b.Loop() {
		Library(context.Background(), load.Shipped())
	}
}
