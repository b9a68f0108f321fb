// Package mark marks an attempt at a practice case by a rubric, each mark with
// the act and the reading it rests on.
//
// Words: a [Cap] is an unsafe act, at each time it was done, and bounds the
// total; a [Part] is what was done well, in points; evidence is what the
// learner's readings say, as package suspect takes it. What the readings tell is
// judged by [Beliefs], over vehicles drawn for the facts of the case, never by
// what is hidden. [Best] is the order of readings that a careful reader of the
// same role would take.
//
// Marks are values: the same attempt gives the same marks bit for bit.
package mark
