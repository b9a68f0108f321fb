// Package journal keeps what happens, one line each, so that a sudden stop or a
// damaged disk costs no more than the line it struck.
//
// A line is a record's JSON with its checksum ([Seal]). [Read] finds records by
// their own beginning and checksum, whatever became of the bytes around them,
// and tells of what it could not read ([Damage]). What the records mean is the
// business of a [Format]: visits and attempts at practice each have one.
//
// The package touches no disk and has no clock; journal/files keeps the lines.
package journal
