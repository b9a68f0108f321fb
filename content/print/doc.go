// Package print writes pages of the handbook to be printed and pinned up: a walk on
// one or two pages with its limits, charts and findings, a card, a caution, a chart
// alone, the whole handbook, and the blank form on which the readings of a walk are
// written. Each is one file of HTML without scripts and without anything from
// elsewhere, for A4 and Letter.
//
// Paper outlives the program: every page says of which handbook it is and when it was
// printed. A page says everything without colour: signal words stand in frames that
// differ by their lines. Nothing on it clears anything.
package print
