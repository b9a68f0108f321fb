package scene

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Book is what a scene takes from the handbook.
type Book struct {
	Faults    []*rig.Fault               // the catalogue, in the order to offer them
	Points    map[string]faulttree.Point // test points and their titles
	BodyLimit faulttree.Amount           // body to earth from here on can hurt; 0 is not known
	Limits    []Limit                    // other voltages that can hurt or burn
	Meter     faulttree.Meter            // the reader's
	Facts     []faulttree.Fact           // what can be known without a meter
}

// Scene is a rig on show. Make one with [New].
type Scene struct {
	rig     *rig.Rig
	book    Book
	vehicle *vehicle.Vehicle
	faults  []*rig.Fault // that fit
	points  []string     // test points of the rig, in the order of its columns
	base    []float64    // the rig's numbers before the dials are turned

	fault    *rig.Fault // nil is none
	variants []int      // of the fault, those that fit
	variant  int        // index in variants
	severity float64
	also     []rig.Applied // faults in force beside it, which no dial turns
	varies   uint64        // in what it differs from other vehicles of the rig
	legs     []leg

	direct     bool // show direct current
	meter      *meter.Multimeter
	red, black string
	redNext    bool // the next point that is put takes the red probe
}

// leg is the loads of a leg that a person turns up and down together.
type leg struct {
	name  string
	watts float64 // of all together; 0 is off
	most  float64
}

// New puts a rig on show, healthy, with its ordinary loads on.
func New(r *rig.Rig, book Book) (*Scene, error) {
	v, err := vehicle.New(r)
	if err != nil {
		return nil, err
	}
	s := &Scene{rig: r, book: book, vehicle: v, redNext: true, base: r.Values()}
	s.meter = meter.New(meter.NewFace(book.Meter), nil)
	s.meter.Setting.Function = meter.VoltsAC
	for _, f := range book.Faults {
		if len(Fitting(f, r)) > 0 {
			s.faults = append(s.faults, f)
		}
	}
	s.findLegs()
	s.findPoints()
	if _, direct := s.Kinds(); direct && !slices.ContainsFunc(s.legs, func(l leg) bool { return l.name != "dc" }) {
		s.direct, s.meter.Setting.Function = true, meter.VoltsDC
	}
	return s, nil
}

// Fitting lists the variants of a fault that do something to a rig.
func Fitting(f *rig.Fault, r *rig.Rig) []int {
	var out []int
	for i, v := range f.Variants {
		if v.Shows() && v.FitsIn(r) {
			out = append(out, i)
		}
	}
	return out
}

func (s *Scene) findLegs() {
	for _, name := range s.rig.Legs() {
		params := s.rig.LegWatts(name)
		if len(params) == 0 {
			continue
		}
		l := leg{name: name}
		for _, i := range params {
			l.most += max(s.rig.Params[i].To, s.rig.Params[i].Value)
		}
		if l.most == 0 { // a leg on which nothing is on in an ordinary vehicle
			l.most = spareWatts
		}
		s.legs = append(s.legs, l)
		s.turn(&s.legs[len(s.legs)-1], s.rig.Watts(s.base, name))
	}
}

// turn turns the loads of a leg up or down; at 0 W they are off.
func (s *Scene) turn(l *leg, watts float64) {
	l.watts = watts
	s.vehicle.Turn(l.name, watts > 0)
}

// spareWatts is how far the loads of a leg can be turned up that are off
// otherwise: 20 A at 240 V (common practice, no source).
const spareWatts = 4800

func (s *Scene) findPoints() {
	column := func(node string) int {
		group, _, _ := strings.Cut(node, ".")
		if i := slices.Index(s.rig.Columns, group); i >= 0 {
			return i
		}
		return len(s.rig.Columns)
	}
	for id := range s.book.Points {
		if s.rig.HasNode(id) {
			s.points = append(s.points, id)
		}
	}
	slices.SortFunc(s.points, func(a, b string) int {
		if c := column(a) - column(b); c != 0 {
			return c
		}
		return strings.Compare(a, b)
	})
}

// Rig is what is on show.
func (s *Scene) Rig() *rig.Rig { return s.rig }

// Kinds reports whether the rig has alternating and direct supplies.
func (s *Scene) Kinds() (alternating, direct bool) {
	for _, p := range s.rig.Parts {
		if p.Kind == rig.Source || p.Kind == rig.Charger {
			direct = direct || p.Direct || p.Kind == rig.Charger
			alternating = alternating || p.Kind == rig.Source && !p.Direct
		}
	}
	return alternating, direct
}

// Direct reports whether direct current is shown, not alternating.
func (s *Scene) Direct() bool { return s.direct }

// SetDirect shows the one or the other, if the rig has it.
func (s *Scene) SetDirect(on bool) {
	if alternating, direct := s.Kinds(); on && direct || !on && alternating {
		s.direct = on
	}
}

// Faults lists the faults that fit in the rig.
func (s *Scene) Faults() []*rig.Fault { return s.faults }

// Fault is the fault in force, nil if there is none.
func (s *Scene) Fault() *rig.Fault { return s.fault }

// Choose puts a fault in force at its ordinary severity, in the first place it
// fits in; "" takes the fault away. It reports whether there is such a fault.
func (s *Scene) Choose(id string) bool {
	if id == "" {
		s.fault, s.variants, s.also = nil, nil, nil
		return true
	}
	for _, f := range s.faults {
		if f.ID == id {
			s.fault, s.variants, s.variant = f, Fitting(f, s.rig), 0
			s.severity, s.also = f.Ordinary(0).Severity, nil
			return true
		}
	}
	return false
}

// Places words the ways the fault can be in this rig.
func (s *Scene) Places() []string {
	var out []string
	for _, i := range s.variants {
		v := s.fault.Variants[i]
		text := cmp.Or(v.Text, string(v.Place))
		if slices.Contains(out, text) {
			text = fmt.Sprintf("%s (%d)", text, len(out)+1)
		}
		out = append(out, text)
	}
	return out
}

// Place is the index in [Scene.Places] of the way the fault is.
func (s *Scene) Place() int { return s.variant }

// SetPlace moves the fault.
func (s *Scene) SetPlace(i int) {
	if i >= 0 && i < len(s.variants) {
		s.variant = i
	}
}

// Variant is the way the fault is, nil without a fault.
func (s *Scene) Variant() *rig.Variant {
	if s.fault == nil {
		return nil
	}
	return &s.fault.Variants[s.variants[s.variant]]
}

// Severity is the dial of the fault, if it has one that matters where the fault
// is.
func (s *Scene) Severity() (Dial, bool) {
	if s.fault == nil || s.fault.Severity == nil {
		return Dial{}, false
	}
	matters := slices.ContainsFunc(s.Variant().Edits, func(e rig.Edit) bool {
		return e.Ohms.Severity || e.Volts.Severity || e.Degrees.Severity || e.Value.Severity
	})
	p := s.fault.Severity
	return Dial{Name: "severity", Title: "How bad it is", Unit: p.Unit, From: p.From, To: p.To, Value: s.severity, Log: p.Log}, matters && p.To > p.From
}

// SetSeverity turns the dial of the fault.
func (s *Scene) SetSeverity(v float64) { s.severity = v }

// Loads are the dials of the legs, in watts; at 0 a leg's loads are off.
func (s *Scene) Loads() []Dial {
	return lists.Each(s.legs, func(l leg) Dial {
		return Dial{Name: l.name, Title: legTitle(l.name), Unit: rig.Watts, To: l.most, Value: l.watts}
	})
}

func legTitle(leg string) string {
	switch leg {
	case "l1":
		return "Loads on L1"
	case "l2":
		return "Loads on L2"
	case "l1l2":
		return "The 240 V appliance"
	case "dc":
		return "Loads on 12 V"
	}
	return "Loads on " + leg
}

// SetLoad turns the loads of a leg up or down, all of them alike.
func (s *Scene) SetLoad(name string, watts float64) {
	for i := range s.legs {
		if s.legs[i].name == name {
			s.turn(&s.legs[i], min(max(watts, 0), s.legs[i].most))
		}
	}
}

// Switch is something a person can plug, pull or throw.
type Switch struct {
	Name, Title string
	On          bool
}

// Switches lists them as they stand.
func (s *Scene) Switches() []Switch {
	var out []Switch
	for _, sw := range s.rig.Switches {
		title := cmp.Or(sw.Title, sw.Name)
		out = append(out, Switch{sw.Name, title, !s.vehicle.Off(sw.Name)})
	}
	return out
}

// Throw turns a switch on or off.
func (s *Scene) Throw(name string, on bool) { s.vehicle.Throw(name, on) }

// values are the rig's numbers at the loads chosen.
func (s *Scene) values() []float64 {
	values := slices.Clone(s.base)
	for _, l := range s.legs {
		if l.watts > 0 {
			s.rig.ShareWatts(values, l.name, l.watts)
		}
	}
	return values
}

// State is what is plugged, switched and turned on.
func (s *Scene) State() bench.State { return s.vehicle.State() }

// set gives the vehicle the numbers and the fault that are chosen.
func (s *Scene) set() error {
	setup := rig.Setup{Values: s.values(), Varieties: s.varies}
	if s.fault != nil {
		setup.Faults = []rig.Applied{{Fault: s.fault, Variant: s.variants[s.variant], Severity: s.severity}}
	}
	setup.Faults = append(setup.Faults, s.also...)
	return s.vehicle.Put(setup)
}
