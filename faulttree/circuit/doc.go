// Package circuit solves linear networks in the steady state: nodal analysis
// with complex phasors at any frequency, 0 Hz included.
//
// A [Net] is a list of named elements between named nodes. [Compile] stamps it
// into a matrix and factors that once; a [Solver] then gives voltages, what a
// meter would show, and, by a rank-one update, what one changed branch would
// make of both, without solving again. Nothing here knows of vehicles.
//
// The matrix is sparse: its unknowns are put in order once, by minimum degree,
// and each solution is corrected by its residual at the nodes. Admittances
// that lie up to some 10^15 apart are solved to a part in 10^9 of the highest
// voltage, milliohms beside gigaohms among them; past that a net is refused
// with [ErrConditioned], never answered wrongly. A resistance of nothing is
// best given as 0, an exact short.
//
// Phasors are root mean square, angles in radians, currents positive from the
// first to the second node of an element.
package circuit
