// Package why says why a reading is what it is, out of the solved circuit: what it
// would be in a sound vehicle, what a fault makes of it, which part of the fault
// makes the difference, and which current goes where.
//
// Every number in a sentence is one of the solution, and where a sentence says that
// some currents go on as others, they are all that matter at those nodes, so that
// they balance there. Where the solution supports no sentence there is none.
//
// Words: an atom is the least change that a fault consists of, one part opened or
// two nodes joined; an area is nodes that wires tie together; its ways are what
// carries current into it and out of it.
package why
