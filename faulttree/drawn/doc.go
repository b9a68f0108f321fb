// Package drawn is vehicles drawn by chance, and what every quantity reads in
// each: the numbers of a rig out of their ranges, faults of the catalogue in the
// ways they are made. A [Population] is what package suspect weighs evidence
// over.
//
// Words: a way is one variant of a fault; a stratum is the vehicles of a rig in
// which the same is wrong in the same way, so that they are tied together alike;
// a column is what one quantity reads in all of them.
package drawn
