// Package view says what a page tells its reader, as values made from a walk
// and the handbook: a step, a finding, a trail, a document. Window, terminal
// and sheet only draw them. Nothing here knows a limit or a verdict of its own;
// every one comes from the tree by way of the engine.
package view
