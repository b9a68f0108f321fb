// Package paper writes the printed pages of a class as HTML: the handout for the
// learners, the answer key for the instructor, the class on one page, and what goes
// back to each learner. Each is one file without scripts and without anything from
// elsewhere; it prints on A4 and Letter, and says everything without colour.
package paper
