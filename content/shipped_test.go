package content

import (
	"testing"
)

// The handbook inside the program has nothing wrong with it.
func TestShippedIsClean(t *testing.T) {
	for _, d := range Shipped().Diagnostics {
		t.Error(d)
	}
}

func BenchmarkLoadShipped(b *testing.B) {
	for b.Loop() {
		Shipped()
	}
}
