// Package prove says what can be shown about fault trees without running
// them: that every reading leads somewhere exactly once, that every walk ends
// in a finding, that what can hurt leads to a STOP or a DANGER finding, and
// that no all-clear is given on readings that cannot carry it.
//
// [Forest] takes the trees of a handbook and returns a [source.List]; an empty
// list is the proof. Each diagnostic carries the name of one of [Rules]. A
// step that asks too much of the proof is reported as unproved, never passed.
//
// Words: a region is the set of readings that a branch takes; a witness is one
// reading that shows a fault of the regions, picked to have few digits. A jump
// target is the step at which a reading supplied in advance meets its danger
// limit. A node is a step seen as a place in the graph of all walks.
//
// Everything is exact: amounts are whole billionths, and no float is compared.
package prove
