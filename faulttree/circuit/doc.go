// Package circuit solves linear networks in the steady state: nodal analysis
// with complex phasors at any frequency, 0 Hz included.
//
// A [Net] is a list of named elements between named nodes. [Compile] stamps it
// into a matrix and factors that once; a [Solver] then gives voltages, what a
// meter would show, and, by a rank-one update, what one changed branch would
// make of both, without solving again. Nothing here knows of vehicles.
//
// Phasors are root mean square, angles in radians, currents positive from the
// first to the second node of an element.
package circuit
