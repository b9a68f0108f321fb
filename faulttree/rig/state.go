package rig

import (
	"slices"
	"strings"

	"faultwright/faulttree"
)

// StateRule says how a vehicle stands while some quantities are read: which
// switches are off, or on, and whether its loads are connected. The handbook
// lists such rules; those that fit a quantity are in force together, and where
// two speak of one switch the later one counts.
type StateRule struct {
	Text       string                // the state in words
	When       []faulttree.Condition // all of them
	Red, Black []string              // places of the test points, pedestal of pedestal.l1; empty is any
	Of         []string              // symbols of units: V, Ω, A; empty is any
	Off, On    []string              // switches
	Loads      bool                  // the loads are connected
}

// Fits reports whether q is read by the rule.
func (r StateRule) Fits(q faulttree.Quantity) bool {
	for _, c := range r.When {
		if !q.Has(c) {
			return false
		}
	}
	return among(r.Of, q.Unit.Symbol()) && among(r.Red, Group(q.Red)) && among(r.Black, Group(q.Black))
}

// among reports whether a list that leaves something open, or names it, fits.
func among(list []string, name string) bool { return len(list) == 0 || slices.Contains(list, name) }

// Group is the part of the name of a test point or a node before the dot: its
// place.
func Group(point string) string {
	g, _, _ := strings.Cut(point, ".")
	return g
}
