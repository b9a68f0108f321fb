package scene

import (
	"math/cmplx"
	"slices"
	"strings"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// View is what the circuit does at the present choices.
type View struct {
	Volts   map[string]complex128 // by node, to remote earth; what floats is absent
	Amps    map[string]complex128 // by part, from A to B; in a join that a fault makes by [rig.FaultPart]
	Tripped []string              // protective devices that have opened, by name
	Values  []float64             // of the rig's parameters
	State   bench.State

	Key     []Row           // the voltages that matter most: legs where the loads are, body to earth
	Points  []Row           // every test point to [Scene.Reference]
	Parts   []Row           // every current
	Opened  string          // a sentence on what has tripped, "" for nothing
	Warning string          // a sentence for each voltage that can hurt, the highest first; "" for none
	Danger  map[string]bool // nodes whose voltage can hurt
	Display Display         // the meter
}

// Row is one line of a table: what, and how much.
type Row struct {
	Name, Text string
	Danger     bool // this voltage can hurt
}

// noValue stands for a voltage that nothing decides.
const noValue = "—"

// Look solves the circuit at the present choices.
func (s *Scene) Look() (View, error) {
	if err := s.set(); err != nil {
		return View{}, err
	}
	pic, err := s.vehicle.Solve(s.direct)
	if err != nil {
		return View{}, err
	}
	v := View{Volts: pic.Volts, Amps: pic.Amps, Tripped: pic.Tripped, Values: s.values(), State: s.State(), Danger: map[string]bool{}}
	s.faultCurrent(&v)
	if !s.direct {
		var why []string
		v.Danger, why = s.book.Dangers(pic.Volts)
		v.Warning = strings.Join(why, " ")
	}
	s.addKeyRows(&v)
	for _, id := range s.points {
		if id != "earth" {
			v.Points = append(v.Points, Row{Name: s.PointTitle(id), Text: s.voltageText(v, id, s.earth())})
		}
	}
	for _, p := range s.rig.Parts {
		if a, known := v.Amps[p.Name]; known && p.Kind != rig.Capacitance && p.Kind != rig.Resistance {
			v.Parts = append(v.Parts, Row{Name: partTitle(p), Text: rig.Amperes.Format(cmplx.Abs(a))})
		}
	}
	v.Opened = s.rig.TrippedText(v.Tripped)
	v.Display = s.show()
	return v, nil
}

func partTitle(p rig.Part) string {
	if p.Title != "" {
		return p.Title
	}
	return strings.ReplaceAll(p.Name, ".", " ")
}

// faultCurrent adds the current in the join that a fault has made.
func (s *Scene) faultCurrent(v *View) {
	variant := s.Variant()
	if variant == nil {
		return
	}
	for i, e := range variant.Edits {
		if e.Kind != rig.Connect {
			continue
		}
		a, okA := v.Volts[e.Nodes[0]]
		b, okB := v.Volts[e.Nodes[1]]
		on := (e.Leg == "" || v.State.Loads[e.Leg]) && (e.Switch == "" || !v.State.Off[e.Switch])
		if ohms := e.Ohms.Of(s.severity); okA && okB && on && ohms > 0 {
			v.Amps[rig.FaultPart(i)] = (a - b) / complex(ohms, 0)
		}
	}
}

// earth is the node that stands for earth: the spike, if the rig has one.
func (s *Scene) earth() string {
	if s.rig.HasNode("earth") {
		return "earth"
	}
	return "0"
}

// Reference words what the voltages of all test points are measured to: a rig
// that stands on its tyres, without supply, has only its body.
func (s *Scene) Reference() string {
	if s.direct && s.earth() == "0" {
		return "the body"
	}
	return "earth"
}

// voltageText words a voltage between two nodes.
func (s *Scene) voltageText(v View, a, b string) string {
	x, okX := v.Volts[a]
	y, okY := v.Volts[b]
	if b == "0" {
		okY = true
	}
	if !okX || !okY {
		return noValue
	}
	return rig.FormatVolts(x-y, s.direct)
}

// addKeyRows are the voltages between the wires where the loads are, and that
// of the body.
func (s *Scene) addKeyRows(v *View) {
	group := s.loadGroup()
	for _, pair := range [][2]string{{"l1", "n"}, {"l2", "n"}, {"l1", "l2"}, {"n", "g"}, {"pos", "neg"}} {
		a, b := group+"."+pair[0], group+"."+pair[1]
		if (pair[0] == "pos") == s.direct && s.rig.HasNode(a) && s.rig.HasNode(b) {
			v.Key = append(v.Key, Row{Name: wireWord(pair[0]) + " to " + wireWord(pair[1]) + ", " + group, Text: s.voltageText(*v, a, b), Danger: s.hurts(*v, a, b)})
		}
	}
	if !s.rig.HasNode("body") || s.Direct() {
		return
	}
	v.Key = append(v.Key, Row{Name: "body to earth", Text: s.voltageText(*v, "body", s.earth()), Danger: v.Danger["body"]})
}

// hurts reports whether the voltage between two nodes reaches a limit.
func (s *Scene) hurts(v View, a, b string) bool {
	return slices.ContainsFunc(s.book.limits(), func(l Limit) bool {
		return l.between(a, b) && cmplx.Abs(v.Volts[a]-v.Volts[b]) >= l.From.Float()
	})
}

func wireWord(wire string) string {
	switch wire {
	case "n":
		return "neutral"
	case "g":
		return "ground"
	case "pos":
		return "plus"
	case "neg":
		return "minus"
	case "cover":
		return wire
	}
	return strings.ToUpper(wire)
}

// loadGroup is where most loads hang.
func (s *Scene) loadGroup() string {
	count := map[string]int{}
	best := ""
	for _, p := range s.rig.Parts {
		if p.Kind == rig.Load && !p.Always {
			g, _, _ := strings.Cut(p.A, ".")
			if count[g]++; count[g] > count[best] {
				best = g
			}
		}
	}
	return best
}
