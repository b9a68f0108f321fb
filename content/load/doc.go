// Package load reads the files of a handbook into a [content.Library].
//
// [FS] reads any [fs.FS], [Dir] a folder that nothing can lead out of,
// [Shipped] the handbook inside the program. Loading never fails as a whole:
// what can be read is there, and everything wrong with the rest stands in
// Library.Diagnostics with its file, line and column. A rig, a scenario, and
// what a fault does to rigs are there only if nothing is wrong with them.
// [Scenario] and [Readings] read what is handed out beside a handbook.
package load
