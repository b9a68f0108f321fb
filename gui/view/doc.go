// Package view computes what the window says: values made from a walk and the
// handbook, without a window in sight. A page of package gui copies them into
// widgets. Nothing here knows a limit or a verdict of its own; every one comes
// from the tree by way of the engine.
package view
