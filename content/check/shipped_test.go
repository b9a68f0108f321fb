package check

import (
	"context"
	"testing"

	"faultwright/content/load"
)

// The handbook inside the program has nothing wrong with it.
func TestShippedIsClean(t *testing.T) {
	for _, d := range Library(context.Background(), load.Shipped()) {
		t.Error(d)
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
