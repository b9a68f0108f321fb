// Package rig is a supply, a cord and a vehicle as data, and faults as edits of
// them.
//
// A [Rig] is parts between named nodes, switches a person can throw, and
// parameters with the ranges they are drawn from. A [Fault] is edits to named
// parts, a [Setup] one vehicle of a rig with its numbers and faults. Nothing
// here is solved: package bench turns a setup into a circuit and measures it.
// Package rig knows no trees and no files; the loader of the handbook makes its
// values.
package rig
