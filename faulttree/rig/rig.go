package rig

import (
	"cmp"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// ParamUnit is what a parameter is given in: always the base unit of its kind.
type ParamUnit uint8

const (
	Volts ParamUnit = iota + 1
	Degrees
	Ohms
	Henries
	Farads
	FaradsPerMetre
	Metres
	Gauge // American wire gauge; 1/0 is 0, 2/0 is -1
	Watts
	Amperes
	Hertz
	Celsius
	Ratio // a power factor, a share
)

// Symbol is the unit as it is printed: "V", "Ω", "pF/m" is "F/m".
func (u ParamUnit) Symbol() string {
	return [...]string{"", "V", "°", "Ω", "H", "F", "F/m", "m", "AWG", "W", "A", "Hz", "°C", ""}[u]
}

// Param is one number of a rig. Value is the ordinary one; a drawn rig takes
// one from From to To, evenly or evenly in the logarithm.
type Param struct {
	Name     string // "cord.length", "hertz"
	Unit     ParamUnit
	Value    float64
	From, To float64 // both equal Value for a number that is not drawn
	Log      bool
	Pos      source.Pos
}

// Kind is what a part is.
type Kind uint8

const (
	Source      Kind = iota + 1 // Volts at Degrees behind Ohms and Henries, plus at A; Direct for a battery
	Conductor                   // Gauge and Length of copper
	Joint                       // Ohms: a contact, lug or bond; 0 is an exact short
	Resistance                  // Ohms: leakage, soil, an electrode
	Capacitance                 // Farads, or PerMetre times Length
	Inductance                  // Henries
	Load                        // Watts at AtVolts and PowerFactor, on a leg
	Breaker                     // Ohms; opens beyond Trip amperes, or Residual amperes over all wires of its device
	Charger                     // direct current: holds Volts behind Ohms up to Limit amperes
)

func (k Kind) String() string {
	return [...]string{"", "source", "conductor", "joint", "resistance", "capacitance", "inductance", "load", "breaker", "charger"}[k]
}

// Attribute names one number of a part.
type Attribute uint8

const (
	AttrVolts Attribute = iota
	AttrDegrees
	AttrOhms
	AttrHenries
	AttrFarads
	AttrPerMetre
	AttrGauge
	AttrLength
	AttrWatts
	AttrAtVolts
	AttrPowerFactor
	AttrTrip
	AttrResidual
	AttrLimit
	attributes
)

func (a Attribute) String() string {
	return [...]string{"volts", "degrees", "ohms", "henries", "farads", "coupling", "gauge", "length", "watts", "at", "power-factor", "trip", "residual", "limit"}[a]
}

// None stands for an attribute that a part does not have.
const None = -1

// Part is one branch of a rig between two nodes. The parts of a run, such as
// the wires of a cord, share their run's parameters.
type Part struct {
	Name   string // "cord.n"; a run of one wire has no dot
	Run    string // "cord"
	Wire   string // "n", or ""
	Title  string // "the cord's neutral conductor"
	Kind   Kind
	A, B   string // nodes; "0" is remote earth
	Params [attributes]int
	Switch string // conducts only while this switch is on; "" always
	Leg    string // of a load: l1, l2, l1l2, dc
	Always bool   // of a load: on whatever the loads do
	Direct bool   // of a source: direct current
	Pos    source.Pos
}

// Switch is something a person can plug, pull or throw.
type Switch struct {
	Name  string
	Title string
	Off   bool // its ordinary position
	// Covers is the places, what stands before the dot in the ids of contacts, that
	// no probe reaches while it is on: those of a plug and of what it is in.
	Covers []string
	// Bare is the points there that a probe reaches all the same: the pedestal's own
	// metal beside the plug.
	Bare []string
	Pos  source.Pos
}

// Variety is a way in which some vehicles of a rig differ from the others: a
// transfer switch that lets go of all poles without shore power. It is no fault.
type Variety struct {
	Name, Title string
	Share       float64  // of the drawn vehicles; each variety by itself
	Open        []string // parts or runs that do not conduct
	Without     []string // while one of these switches is off
	Pos         source.Pos
}

// Heat is from how many watts on a hand finds something hot; 0 is not known.
type Heat struct {
	Contact float64 // in a bad contact
	Metre   float64 // in each metre of a conductor
}

// Rig is a supply, a cord and a vehicle. Make one, then call [Rig.Check]
// before anything else: the other methods rely on it.
type Rig struct {
	ID, Title string
	Plain     string            // what it is before anything is measured, "A 50 A coach"; "" where the title tells no more
	Text      string            // one paragraph for the reader
	Trees     []string          // the trees whose reader may stand before such a rig
	Facts     map[string]string // what its reader knows without a meter: by the id of a fact, the choice that holds
	Columns   []string          // node groups from the supply to the vehicle, for drawing
	Hertz     int               // index of a parameter
	Celsius   int               // index of a parameter: temperature of conductors
	Params    []Param
	Parts     []Part
	Switches  []Switch
	Inside    []string // places and switches that are got at inside the vehicle
	Heat      Heat
	Varieties []Variety   // at most 64
	States    []StateRule // how it stands while something is read
	Shows     []string    // ids of what a reader finds in it although nothing is broken: a site of 208 V
	Share     float64     // how often it is met beside a rig whose share is 1; 0 is 1
	Pos       source.Pos
}

// Broken leaves of some faults those that are not merely what the rig shows although
// nothing is broken, unless that is among what is wrong with its vehicle: to name a site of
// 208 V beside a fault is neither asked nor wrong, and to hold it likely no suspect more.
func (r *Rig) Broken(faults, wrong []faulttree.FaultAt) []faulttree.FaultAt {
	return lists.Where(faults, func(at faulttree.FaultAt) bool {
		return !slices.Contains(r.Shows, at.Fault) || slices.ContainsFunc(wrong, func(w faulttree.FaultAt) bool { return w.Fault == at.Fault })
	})
}

// Before is what a learner is told that stands there: the title, without what only
// readings tell.
func (r *Rig) Before() string { return cmp.Or(r.Plain, r.Title) }

// NewPart is a part without attributes.
func NewPart(name string, kind Kind, a, b string) Part {
	p := Part{Name: name, Run: name, Kind: kind, A: a, B: b}
	for i := range p.Params {
		p.Params[i] = None
	}
	return p
}

// Part is the part of this name.
func (r *Rig) Part(name string) (Part, bool) {
	return lists.Find(r.Parts, func(p Part) bool { return p.Name == name })
}

// TrippedText is a sentence about protective devices that have opened, by the names of
// their parts or runs; "" without any.
func (r *Rig) TrippedText(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "Tripped: " + strings.Join(lists.Each(names, r.DeviceTitle), "; ") + "."
}

// DeviceTitle is the title of a part or a run, of this without the wire of its first
// pole; without any title, the name.
func (r *Rig) DeviceTitle(name string) string {
	p, _ := lists.Find(r.Parts, func(p Part) bool { return p.Name == name || p.Run == name })
	title := p.Title
	if cut := strings.LastIndex(title, ", "); p.Name != name && p.Wire != "" && cut > 0 {
		title = title[:cut]
	}
	return cmp.Or(title, name)
}

// Param is the index of the parameter of this name, or [None]: "hertz",
// "celsius", "cord.length", or a part's name alone for its main number.
func (r *Rig) Param(name string) int {
	if i := slices.IndexFunc(r.Params, func(p Param) bool { return p.Name == name }); i >= 0 {
		return i
	}
	for i := range r.Parts {
		p := &r.Parts[i]
		if p.Name == name || p.Run == name {
			return p.Params[p.mainAttribute()]
		}
		for a := range attributes {
			if end := "." + a.String(); name == p.Name+end || name == p.Run+end {
				return p.Params[a]
			}
		}
	}
	return None
}

// HasNode reports whether a part ends at this node.
func (r *Rig) HasNode(name string) bool {
	return slices.ContainsFunc(r.Parts, func(p Part) bool { return p.A == name || p.B == name })
}

// Legs lists the legs that have a load, in the order of the parts.
func (r *Rig) Legs() []string {
	var legs []string
	for i := range r.Parts {
		if leg := r.Parts[i].Leg; leg != "" && !slices.Contains(legs, leg) {
			legs = append(legs, leg)
		}
	}
	return legs
}

// Values are the ordinary values of all parameters, a new slice.
func (r *Rig) Values() []float64 {
	values := make([]float64, len(r.Params))
	for i, p := range r.Params {
		values[i] = p.Value
	}
	return values
}
