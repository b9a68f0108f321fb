// Package drawn is vehicles drawn by chance: numbers of a rig out of their
// ranges, faults of the catalogue in the ways they are made, and what every
// quantity reads in each.
package drawn
