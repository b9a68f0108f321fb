// Package logbook is the reader's own vehicles: what somebody calls them, what is
// known of them without a meter, and what was noted. A visit names its vehicle in its
// header ([faultwright/faulttree/visit.Header]); a vehicle lists no visits.
//
// A vehicle is one document, kept whole; package store keeps it on disk. Its Revision
// counts how often it was kept, so that of two windows which change one vehicle the
// later is told.
package logbook
