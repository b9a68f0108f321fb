// Package vehicle is one vehicle of a rig as somebody stands before it: its
// numbers and faults on a bench, how its switches stand, which loads are on.
// The circuit view, a learner's practice and a trial all measure it here, and
// walk trees through it here.
//
// A [Vehicle] is measured as it stands, or as a quantity asks: a reading "at
// the pedestal, nothing plugged in" is taken with the plug out, whatever the
// switches say. It is for one goroutine. A [Walker] lets it answer the steps of
// a tree.
package vehicle
