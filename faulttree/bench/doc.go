// Package bench turns the vehicles of a rig into circuits and measures them.
//
// A [Bench] puts a [rig.Setup] together, lets breakers and residual devices
// act, and says what a meter between two test points would see. A [State] is
// what is plugged and switched meanwhile; [Bench.StateFor] says in which one a
// quantity is read. It knows no trees and no files.
package bench
