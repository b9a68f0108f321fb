// Package gui is the window: a shell that shows one page at a time, and the
// pages. What a page says is computed by package content/view from the walk and
// the handbook; this package copies it into widgets, takes keys and taps, and
// puts every answer on disk before the next step is shown. It holds no limit,
// no electrical value and no verdict.
//
// A page is a value in a table ([pages]); where the reader is and was is a
// list of [Location] values ([History]); long work goes through one [Runner].
package gui
