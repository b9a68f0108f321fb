package search

import (
	"context"
	"sync"
	"testing"

	"faultwright/content"
)

// TestFindWhileSwapping searches from several goroutines while the index is
// swapped again and again. Run it with -race: no search may fail or find
// nothing because of a swap.
func TestFindWhileSwapping(t *testing.T) {
	lib := content.Shipped()
	build := func() *Index {
		x, err := Build(context.Background(), lib)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	var h Holder
	if h.Ready() || h.Find(Query{Text: "tingle"}) != nil {
		t.Error("an empty holder found something")
	}
	h.Swap(build())
	stop := make(chan struct{})
	var windows sync.WaitGroup
	for _, text := range []string{"tingle", "58 volts on the bumper", "open neu"} {
		windows.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				if len(h.Find(Query{Text: text})) == 0 {
					t.Errorf("%q found nothing during a swap", text)
					return
				}
			}
		})
	}
	for range 4 {
		h.Swap(build())
	}
	close(stop)
	windows.Wait()
	last := h.current.Load()
	h.Swap(nil)
	if h.Ready() || last.Find(Query{Text: "tingle"}) != nil {
		t.Error("a closed index still found something")
	}
}

// TestBuildStops holds that a build ends with its context.
func TestBuildStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if x, err := Build(ctx, content.Shipped()); err == nil || x != nil {
		t.Errorf("Build with an ended context gave %v, %v; want context.Canceled", x, err)
	}
}
