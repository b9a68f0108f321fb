// Package content is the handbook: the files of a content folder read into a
// [Library] of trees, cards, cautions, faults, sources and quantities.
//
// [Load] reads any [fs.FS], [LoadDir] a folder that nothing can lead out of,
// [Shipped] the handbook inside the program. Loading never fails as a whole:
// what can be read is there, and everything wrong with the rest stands in
// Library.Diagnostics with its file, line and column. [Library.Check] adds the
// proofs of package prove.
package content
