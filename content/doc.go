// Package content is the handbook as values: a [Library] of trees, cards,
// cautions, faults, sources and quantities, of the rigs that faults are tried
// on, and of scenarios.
//
// Package content/load reads a Library from files; package content/check
// proves its trees and sends drawn vehicles down them.
package content
