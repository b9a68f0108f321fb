package bench

import (
	"strings"

	"faultwright/faulttree"
)

// State is what is plugged, switched and turned on while something is measured.
type State struct {
	Off   map[string]bool // switches by name: true is off, false is on; the others are in their ordinary position
	Loads map[string]bool // legs whose loads are on; nil means none
}

// stateRule says what is off, or on, while some quantities are read.
type stateRule struct {
	name    string // in words
	fits    func(q faulttree.Quantity) bool
	off, on []string // switches
}

// stateRules are in force together; where two speak of one switch the later
// one counts. A switch that none speaks of is in its ordinary position.
var stateRules = []stateRule{
	{"the plug pulled, nothing makes current aboard", has(faulttree.Unplugged),
		[]string{"plug", "adapter", "generator", "inverter", "converter", "engine"}, nil},
	{"nothing plugged in at the pedestal", func(q faulttree.Quantity) bool { return group(q.Red) == "pedestal" && q.Black != "" },
		[]string{"plug"}, nil},
	{"the adapter in the pedestal, nothing in the adapter", redAt("adapter"), []string{"adapter"}, nil},
	{"the cord's end not in the inlet", redAt("cord"), []string{"inlet"}, nil},
	{"the cord off the inlet", redAt("inlet"), []string{"inlet"}, nil},
	{"the cord off at both ends", func(q faulttree.Quantity) bool { return group(q.Red) == "plug" && group(q.Black) == "cord" },
		[]string{"inlet"}, nil},
	{"the vehicle's main breaker off", has(faulttree.MainOff), []string{"main"}, nil},
	{"the battery at rest", has(faulttree.Rest), []string{"converter", "engine"}, nil},
	{"the battery disconnected for ohms", func(q faulttree.Quantity) bool {
		return q.Unit == faulttree.Ohms && (group(q.Red) == "battery" || group(q.Red) == "tow")
	}, []string{"disconnect"}, nil},
	{"the tow vehicle's engine running", func(q faulttree.Quantity) bool { return group(q.Red) == "tow" && q.Unit != faulttree.Ohms },
		[]string{"converter"}, []string{"engine"}},
	{"12 V loads from the battery alone", func(q faulttree.Quantity) bool {
		return q.ID == "amp:battery.neg" || q.Has(faulttree.Loaded) && (group(q.Red) == "battery" || group(q.Red) == "dc")
	}, []string{"converter", "engine"}, nil},
}

func has(c faulttree.Condition) func(faulttree.Quantity) bool {
	return func(q faulttree.Quantity) bool { return q.Has(c) }
}

func redAt(place string) func(faulttree.Quantity) bool {
	return func(q faulttree.Quantity) bool { return group(q.Red) == place }
}

// StateFor says in which state a quantity is read, by stateRules: what is
// measured at the pedestal is measured with nothing plugged in, what is
// measured on pulled pins with the plug out. Loads are on where it asks for
// loads, and connected for ohms on a pulled plug; legs are those whose loads go
// on.
func StateFor(q faulttree.Quantity, legs []string) State {
	st := State{Off: map[string]bool{}}
	for _, rule := range stateRules {
		if !rule.fits(q) {
			continue
		}
		for _, s := range rule.off {
			st.Off[s] = true
		}
		for _, s := range rule.on {
			st.Off[s] = false
		}
	}
	if q.Has(faulttree.Loaded) || q.Unit == faulttree.Ohms && q.Has(faulttree.Unplugged) {
		st.Loads = map[string]bool{}
		for _, leg := range legs {
			st.Loads[leg] = true
		}
	}
	return st
}

// group is what a test point belongs to: "pedestal" of "pedestal.l1".
func group(point string) string {
	g, _, _ := strings.Cut(point, ".")
	return g
}
