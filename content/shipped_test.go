package content

import (
	"context"
	"testing"
)

// The handbook inside the program has nothing wrong with it.
func TestShippedIsClean(t *testing.T) {
	for _, d := range Shipped().Check(context.Background()) {
		t.Error(d)
	}
}

func BenchmarkLoadShipped(b *testing.B) {
	for b.Loop() {
		Shipped()
	}
}

func BenchmarkLoadAndProveShipped(b *testing.B) {
	for b.Loop() {
		Shipped().Check(context.Background())
	}
}
