// Package meter is a virtual multimeter on a [bench.Bench]. It turns what two
// probes see into what a display shows: function, range and counts, accuracy,
// over-range, hold, and the ways a meter is used wrongly or fails.
//
// A [Face] is the ranges of one model; it makes figures and holds no state. A
// [Meter] is a face in somebody's hand, with a [Setting], two leads, a fuse
// and the display it may have held. Every reading obeys the same rules as one
// that a person types, for [faulttree.ParseReading] makes it.
package meter
