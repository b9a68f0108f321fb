// Package frame is the window around every page: the rail or the bar, the
// search entry, the message under a page, the keys, and the way from place to
// place. It knows no page but by its entry in a table.
//
// Arriving at a place and drawing it are two things. Whatever changes a state,
// opens a file or starts long work is done on arriving ([Entry.Arrive]);
// drawing ([Entry.Build]) only reads, and may happen any number of times.
//
// Everything belongs to the window's goroutine. [Run] is the one place where
// work leaves it and comes back.
package frame
