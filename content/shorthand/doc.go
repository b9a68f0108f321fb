// Package shorthand reads a technician's list of readings, as typed or pasted:
// "at the pedestal, nothing plugged in: L1-N 121.3, N-G 0.4".
//
// [Reader.Read] makes a [List] of a text: its rows in order, each a reading of
// a quantity, a reading of which something is still to be asked, one that
// cannot be a quantity and why, or plain text. Nothing that was typed is lost,
// and no figure is made up: what a figure is, [faulttree.ParseReading] says.
//
// Its words: a label is the words that a figure belongs to; a header says the
// place and the state for the rows below it; a block is a header with its
// rows. Place, state and unit that nobody said are asked once a block, and
// [Reader.Resolve] takes the answer. The words for contacts, places and states
// are those of package contact, which the search reads too.
package shorthand
