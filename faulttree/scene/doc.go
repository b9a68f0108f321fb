// Package scene is a rig on show: what a person has chosen to look at (a fault
// and how bad it is, loads, switches, two probes and a meter) and what the
// circuit then does, as numbers, words and rows of a table. A window draws it
// and passes on what is pressed; it decides nothing about electricity.
//
// [Same] makes the scene of a vehicle as it stands. [Scene.Stand] and [Scene.Read]
// bring it into the state in which a quantity is read.
//
// A [Scene] is for one goroutine. Every change is followed by [Scene.Look],
// which solves the circuit.
package scene
