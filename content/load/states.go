package load

import (
	"maps"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// mostStates bounds the rules of how a vehicle stands while something is read.
const mostStates = 100

var symbols = []string{"V", "Ω", "A"}

// readStates reads how the rigs stand while quantities are read.
func (m *measurables) readStates(p *part, v document.Value) {
	places := m.places()
	for _, item := range atMost(mostStates, v, "states") {
		f := item.Map("a state", "state", "when", "of", "red", "black", "off", "on", "loads")
		r := rig.StateRule{Text: f.NeedText("state"), Loads: flag(f, "loads")}
		for _, c := range oneOrMore(f.Get("when")) {
			r.When = append(r.When, oneOf(c, "a condition", faulttree.Conditions()))
		}
		for _, u := range oneOrMore(f.Get("of")) {
			r.Of = append(r.Of, oneOf(u, "a unit", symbols))
		}
		for _, point := range oneOrMore(f.Get("red")) {
			r.Red = append(r.Red, oneOf(point, "a place", places))
		}
		for _, point := range oneOrMore(f.Get("black")) {
			r.Black = append(r.Black, oneOf(point, "a place", places))
		}
		r.Off, r.On = p.inRigs(oneOrMore(f.Get("off")), useSwitch, "a switch", "off"), p.inRigs(oneOrMore(f.Get("on")), useSwitch, "a switch", "on")
		if item.IsMap() && len(r.Off)+len(r.On) == 0 && !r.Loads {
			item.Report(document.RuleMissingKey, "", "the state switches nothing; expected off, on or loads")
		}
		m.states = append(m.states, r)
	}
}

// readFed reads what the supply of the vehicle makes where nothing is live near the reader,
// and marks the quantities: all volts and amperes at some places, unless a switch is off in
// the state in which they are read.
func (m *measurables) readFed(p *part, v document.Value) {
	if v.IsZero() {
		return
	}
	f := v.Map("fed", "by", "places")
	by := p.inRigs([]document.Value{f.Need("by")}, useSwitch, "a switch", "by")
	var places []string
	for _, place := range oneOrMore(f.Need("places")) {
		places = append(places, oneOf(place, "a place", m.places()))
	}
	for id, q := range m.quantities {
		at := slices.Contains(places, placeIn(q.Red)) || slices.Contains(places, placeIn(q.Black))
		q.Fed = at && q.Unit != faulttree.Ohms && !slices.ContainsFunc(m.states, func(r rig.StateRule) bool {
			return r.Fits(q) && slices.ContainsFunc(by, func(s string) bool { return slices.Contains(r.Off, s) })
		})
		m.quantities[id] = q
	}
}

// places lists what stands before the dot in the ids of the points.
func (m *measurables) places() []string {
	known := map[string]bool{}
	for id := range m.points {
		known[placeIn(id)] = true
	}
	return slices.Sorted(maps.Keys(known))
}

// placeIn is what stands before the dot in the id of a point.
func placeIn(point string) string {
	place, _, _ := strings.Cut(point, ".")
	return place
}

// apart reads which places are off the vehicle: nobody touches it to read there.
func (m *measurables) apart(v document.Value) {
	m.offVehicle = map[string]bool{}
	for _, item := range oneOrMore(v) {
		place := oneOf(item, "a place", m.places())
		m.offVehicle[place] = place != ""
		for _, id := range slices.Sorted(maps.Keys(m.points)) {
			if on := m.points[id].Place; placeIn(id) == place && on != "" && on != faulttree.Supply && on != faulttree.Cord {
				item.Report(RuleBadQuantity, "", "off-vehicle names %s, but the test point %s has the place %s; expected places of the supply and the cord", place, id, on)
				m.offVehicle[place] = false
				break
			}
		}
	}
}

// oneOrMore is the entries of a list, or a single value.
func oneOrMore(v document.Value) []document.Value {
	if v.IsZero() || v.IsList() {
		return v.Items("a list")
	}
	return []document.Value{v}
}
