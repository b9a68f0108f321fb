package faulttree

import (
	"cmp"
	"slices"
	"strings"

	"faultwright/faulttree/source"
)

// FaultAt is a fault in a place, written "open-ground@cord"; without a place it
// is the fault wherever it may sit.
type FaultAt struct {
	Fault string
	Place Place
}

// ParseFaultAt reads the form that String writes. It knows neither faults nor
// places.
func ParseFaultAt(text string) FaultAt {
	fault, place, _ := strings.Cut(text, "@")
	return FaultAt{fault, Place(place)}
}

func (f FaultAt) String() string {
	if f.Place == "" {
		return f.Fault
	}
	return f.Fault + "@" + string(f.Place)
}

// Covers reports whether whoever speaks of f speaks of o.
func (f FaultAt) Covers(o FaultAt) bool {
	return f.Fault == o.Fault && (f.Place == "" || f.Place == o.Place)
}

// Compare orders by fault, then by place.
func (f FaultAt) Compare(o FaultAt) int {
	return cmp.Or(strings.Compare(f.Fault, o.Fault), strings.Compare(string(f.Place), string(o.Place)))
}

// NotExcluded is a dangerous fault that a finding leaves possible, with the
// test that would exclude it.
type NotExcluded struct {
	Fault    string
	Place    Place  // where it may sit; "" for wherever it can
	Test     string // what would exclude it, and who does that; one sentence
	Seldom   bool   // few vehicles with it end at the finding
	Computed bool   // drawn vehicles show it; else the author says it
	Pos      source.Pos
}

// At is the fault and where it may sit.
func (n NotExcluded) At() FaultAt { return FaultAt{n.Fault, n.Place} }

// Declares reports whether a finding says that it cannot exclude a fault in a
// place.
func (f *Finding) Declares(at FaultAt) bool {
	return slices.ContainsFunc(f.CannotExclude, func(n NotExcluded) bool { return n.At().Covers(at) })
}
