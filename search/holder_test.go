package search

import (
	"context"
	"sync"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
)

// small is the small handbook of the tests: what depends on an index, and not
// on what stands in it, is tried on that often rather than on the shipped one.
func small(t *testing.T) *content.Library {
	t.Helper()
	lib, err := load.Dir(context.Background(), "../testdata/handbook")
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestFindWhileSwapping searches from several goroutines while the index is
// swapped again and again. Run it with -race: no search may fail or find
// nothing because of a swap.
func TestFindWhileSwapping(t *testing.T) {
	lib := small(t)
	build := func() *Index {
		x, err := Build(context.Background(), lib)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	var h Holder
	if h.Ready() || h.Find(Query{Text: "tingle"}).Hits != nil {
		t.Error("an empty holder found something")
	}
	h.Swap(build())
	stop := make(chan struct{})
	var windows sync.WaitGroup
	for _, text := range []string{"tingle", "58 volts on the bumper", "groundin"} {
		windows.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				if len(h.Find(Query{Text: text}).Hits) == 0 {
					t.Errorf("%q found nothing during a swap", text)
					return
				}
			}
		})
	}
	for range 20 {
		h.Swap(build())
	}
	close(stop)
	windows.Wait()
	h.Swap(nil)
	if h.Ready() || h.Find(Query{Text: "tingle"}).Hits != nil {
		t.Error("an emptied holder still found something")
	}
}

// TestBuildStops holds that a build ends with its context.
func TestBuildStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if x, err := Build(ctx, book()); err == nil || x != nil {
		t.Errorf("Build with an ended context gave %v, %v; want context.Canceled", x, err)
	}
}
