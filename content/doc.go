// Package content is the handbook: the files of a content folder read into a
// [Library] of trees, cards, cautions, faults, sources and quantities, of the
// rigs that faults are tried on, and of scenarios.
//
// [Load] reads any [fs.FS], [LoadDir] a folder that nothing can lead out of,
// [Shipped] the handbook inside the program. Loading never fails as a whole:
// what can be read is there, and everything wrong with the rest stands in
// Library.Diagnostics with its file, line and column. A rig, a scenario, and
// what a fault does to rigs are there only if nothing is wrong with them.
// [Library.Check] adds the proofs of package prove. [ReadScenario] reads a
// scenario that was handed out as a file.
package content
