// Package flow shows a tree whole, as boxes and the ways between them.
//
// [Of] reads a tree as a [Graph]: its steps, with a row for every exit and its
// limit in words, the findings, and the doors to other trees. [Lay] gives each a
// place, [Layout.Draw] makes a figure of that, [DOT] and [Mermaid] write the graph for
// programs that lay it out themselves.
//
// The drawing reads downwards. A step is a box with a row for each exit. Right of it
// stands a plate for everything that its rows lead to, so that where a row leads can be
// read beside it; a finding stands beside every step that leads to it. What goes on at a
// step of the tree is drawn as a line besides, left of the box. Lines to one step join,
// and carry its number.
package flow
