package search

import (
	"context"
	"runtime"
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
	last := h.current.Load()
	h.Swap(nil)
	if h.Ready() || last.Find(Query{Text: "tingle"}).Hits != nil {
		t.Error("a closed index still found something")
	}
}

// TestCloseLeavesNothing holds that an index that was closed leaves no
// goroutine behind, however often the content is loaded anew.
func TestCloseLeavesNothing(t *testing.T) {
	lib := small(t)
	cycle := func() {
		x, err := Build(context.Background(), lib)
		if err != nil {
			t.Fatal(err)
		}
		if err := x.Close(); err != nil {
			t.Fatal(err)
		}
	}
	cycle() // starts what the engine keeps for all indexes
	before := runtime.NumGoroutine()
	for range 20 {
		cycle()
	}
	if after := runtime.NumGoroutine(); after > before+2 {
		t.Errorf("twenty indexes built and closed left %d goroutines more", after-before)
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
