// Package practice lets a learner find a hidden fault with a virtual meter.
//
// A [Case] is a vehicle with something wrong, or with nothing wrong. A
// [Learner] stands before a case, meter in hand, and does every [Act]; what
// touches or changes the vehicle is asked before it is booked. An [Attempt] is
// the acts with what came of each, the hints and predictions on the way, the
// [Conclusion], and the acts after the repair; it is a value that can be kept and
// sent. [Case.Verify] does it over again and tells the first thing that does not
// follow. A [Recorder] has each act on record, as a line of a journal, before it
// is told.
//
// What the readings of an attempt tell, its marks, and the acts that would have been
// dangerous, are package mark's. Nothing here touches the disk or draws.
package practice
