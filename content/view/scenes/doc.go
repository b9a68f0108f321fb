// Package scenes says what the pages of the circuit and of practice tell their
// reader, as package view does for a walk: it makes the scene and the case out
// of the handbook, and words what a learner did. It stands apart because these
// pages solve circuits, which nobody needs who reads a page or prints a sheet.
package scenes
