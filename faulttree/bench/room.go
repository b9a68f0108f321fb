package bench

import (
	"faultwright/faulttree/circuit"
	"faultwright/faulttree/slab"
)

// Room is memory for the circuits of benches that are let go of one after the other. The
// zero value is ready. It must not be used by two goroutines at once.
type Room struct {
	circuits circuit.Room
	stamps   slab.Of[stamp]
	nodes    slab.Of[circuit.Node]
	parts    slab.Of[int]
}

// AnotherIn is [Bench.Another] with its circuits in some room; the bench that was made
// there before is not used any more.
func (b *Bench) AnotherIn(room *Room) *Bench {
	room.circuits.Reuse()
	room.stamps.Reuse()
	room.nodes.Reuse()
	room.parts.Reuse()
	other := b.Another()
	other.room = room
	return other
}

// roomForOne is the room that the next circuit is built in. A bench that has let go of
// circuits does not get their part of its room back, so after many it takes no more of it.
func (b *Bench) roomForOne() *Room {
	if b.built++; b.room == nil || b.built > mostKept {
		return &Room{}
	}
	return b.room
}
