// Package faulttree is the engine: trees of measurements, the readings a
// person takes, and the walk that leads from the first reading to a finding.
//
// A [Forest] holds [Tree] values; a tree is made of [Step] values; a step
// measures, observes, asks for an act, or is a finding. What the meter showed
// becomes a [Reading]; [Step.Judge] turns readings into an [Outcome]; a [Walk]
// is the value that remembers them. A [Chart] is a table of readings of which a
// walk asks no more than it needs; a [Fact] is what is known without a meter and
// rules readings out. Everything here is a value: no files, no
// clock, no Markdown, no screen.
//
// "Fault tree" is the trade's guided isolation by measured values, not the
// Boolean tree of IEC 61025.
package faulttree
