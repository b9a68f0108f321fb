package bench_test

import (
	"runtime"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// A bench in a room that others had before reads the same to the bit as one of its own,
// also after more circuits than it keeps; and the room does not grow with all that were
// ever built in it.
func TestBenchesInARoom(t *testing.T) {
	first := must.Have(bench.New(small()))(t)
	var room bench.Room
	q := volts("panel.l1-n@loaded", "panel.l1", "panel.n", faulttree.Loaded)
	var memory [2]runtime.MemStats
	runtime.ReadMemStats(&memory[0])
	for range 3 {
		in, own := first.AnotherIn(&room), first.Another()
		for i := range 3000 {
			leak := fault(rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: float64(1 + i)}})
			for _, b := range []*bench.Bench{in, own} {
				must.Do(t, b.Set(rig.Setup{Faults: []rig.Applied{leak}}))
			}
			if got, want := read(t, in, q), read(t, own, q); got != want {
				t.Fatalf("with %d Ω it reads %v V; on a bench of its own %v V", 1+i, got, want)
			}
		}
	}
	runtime.GC()
	runtime.ReadMemStats(&memory[1])
	if more := int64(memory[1].HeapAlloc) - int64(memory[0].HeapAlloc); more > 8<<20 {
		t.Errorf("%d MB are held after 9000 circuits", more>>20)
	}
	runtime.KeepAlive(&room)
}
