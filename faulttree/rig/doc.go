// Package rig turns a supply, a cord and a vehicle into a circuit, and faults
// into edits of it.
//
// A [Rig] is data: parts between named nodes, switches a person can throw, and
// parameters with the ranges they are drawn from. A [Fault] is data too: edits
// to named parts. A [Bench] puts both together, lets breakers and residual
// devices act, and says what a meter between two test points would see. It
// knows no trees and no files; the loader of the handbook makes its values.
package rig
