// Package class is what goes on between an instructor and the learners of a class:
// the assignment that is handed out, the file of attempts that each learner hands
// in, and a folder of these, verified and tabled.
//
// Both files are a ZIP with JSON in it, read as what comes from outside: bounded,
// and refused with one sentence each. An attempt is never believed. Every reading
// in it is worked out again from the scenario that was handed out, and the first
// that does not follow is told.
//
// Scenarios are carried inside an assignment whole, answers and all: whoever unpacks
// the file can read what is hidden. Nothing here claims otherwise.
package class
