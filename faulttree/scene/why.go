package scene

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Situation is what a page spoke of when it offers to show a fault. What it did
// not speak of stays empty.
type Situation struct {
	Fault   string             // id
	Places  []faulttree.Place  // where it may be
	Rig     string             // id of the vehicle's own rig
	Plug    int                // amperes of the vehicle's plug: 50, 30, 15
	Adapter bool               // it stands on an adapter
	Volts   float64            // between the supply's two legs: 240, 208
	Loads   map[string]float64 // watts by leg; nil is not known, a leg left out is off
	Taken   []Taken            // readings
}

// Shown is a scene made for a page, and what it is in words.
type Shown struct {
	Scene   *Scene
	Text    string   // what is on show, a sentence
	Differs []string // what is not as the page had it, a sentence each
}

// Why puts a fault on show as a page spoke of it: in the vehicle, the place and
// with the loads that are known, or the nearest that a rig has, and otherwise
// as comes nearest to what was read. A vehicle is nearer by its own rig, then by
// its plug, its adapter and its supply, then if the fault can be in a place
// spoken of, then by the readings; of equals the one with the first id is taken.
// Scene is nil if the fault fits in none of the rigs.
func Why(rigs []*rig.Rig, book Book, to Situation) (Shown, error) {
	rigs = slices.Clone(rigs)
	slices.SortFunc(rigs, func(a, b *rig.Rig) int { return cmp.Compare(a.ID, b.ID) })
	var best Shown
	nearest := candidate{residual: math.Inf(1)}
	for _, r := range rigs {
		s, err := New(r, book)
		if err != nil {
			return Shown{}, err
		}
		if !s.Choose(to.Fault) {
			continue
		}
		c, err := s.adaptTo(to)
		if err != nil {
			return Shown{}, err
		}
		if best.Scene == nil || c.nearer(nearest) {
			nearest, best = c, Shown{Scene: s, Text: s.text(), Differs: s.differs(to, c)}
		}
	}
	return best, nil
}

// candidate is how far a scene is from a situation.
type candidate struct {
	otherRig, otherPlug, otherAdapter, otherSupply, otherPlace bool
	supply                                                     float64 // volts between the legs, 0 with one leg
	residual                                                   float64
}

// nearer reports whether c is nearer to a situation than d: the first thing in
// which they differ decides.
func (c candidate) nearer(d candidate) bool {
	mine := []bool{c.otherRig, c.otherPlug, c.otherAdapter, c.otherSupply, c.otherPlace}
	for i, yours := range []bool{d.otherRig, d.otherPlug, d.otherAdapter, d.otherSupply, d.otherPlace} {
		if mine[i] != yours {
			return yours
		}
	}
	return c.residual < d.residual-1e-9
}

// adaptTo turns the scene to a situation as nearly as it can.
func (s *Scene) adaptTo(to Situation) (candidate, error) {
	supply, err := s.supplyVolts()
	if err != nil {
		return candidate{}, err
	}
	plug, adapter := plugOf(s.rig)
	c := candidate{supply: supply,
		otherRig:     to.Rig != "" && to.Rig != s.rig.ID,
		otherPlug:    to.Plug != 0 && to.Plug != plug,
		otherAdapter: to.Plug != 0 && to.Adapter != adapter,
		otherSupply:  to.Volts != 0 && supply != 0 && math.Abs(to.Volts-supply) > 0.05*to.Volts,
	}
	places := s.placesIn(to.Places)
	if len(places) == 0 {
		places, c.otherPlace = s.placesIn(faulttree.Places()), true
	}
	if to.Loads != nil {
		for i := range s.legs {
			l := &s.legs[i]
			l.most = max(l.most, to.Loads[l.name])
			s.turn(l, to.Loads[l.name])
		}
	}
	c.residual, err = s.fit(to.Taken, places, to.Loads == nil)
	return c, err
}

// placesIn are the indices of [Scene.Places] that lie in one of these places;
// all of them if none is named.
func (s *Scene) placesIn(places []faulttree.Place) []int {
	var out []int
	for i, v := range s.variants {
		if len(places) == 0 || slices.Contains(places, s.fault.Variants[v].Place) {
			out = append(out, i)
		}
	}
	return out
}

// plugOf is the amperes of a vehicle's plug by its pins, 0 for none, and
// whether it stands on an adapter.
func plugOf(r *rig.Rig) (amperes int, adapter bool) {
	switch {
	case r.HasNode("plug.l2"):
		amperes = 50
	case r.HasNode("plug.l1"):
		amperes = 30
	}
	return amperes, slices.Contains(r.Columns, "adapter")
}

// supplyVolts is what the two legs of the supply have between them in a sound
// vehicle, 0 where it has one leg.
func (s *Scene) supplyVolts() (float64, error) {
	fault := s.fault
	s.fault = nil
	defer func() { s.fault = fault }()
	if err := s.set(); err != nil {
		return 0, err
	}
	for _, group := range []string{"pedestal", "generator", "panel"} {
		q := faulttree.Quantity{Unit: faulttree.VoltsAC, Red: group + ".l1", Black: group + ".l2"}
		if !s.rig.HasNode(q.Red) || !s.rig.HasNode(q.Black) {
			continue
		}
		volts, _, err := s.asked().Value(q)
		return volts, err
	}
	return 0, nil
}

// text says what is on show.
func (s *Scene) text() string {
	where := s.Places()[s.variant]
	text := s.rig.Title + ": " + s.fault.Title + ", " + where + "."
	var loads []string
	for _, d := range s.Loads() {
		loads = append(loads, d.Text()+" on "+strings.TrimPrefix(d.Title, "Loads on "))
	}
	if len(loads) > 0 {
		text += " Loads: " + strings.Join(loads, ", ") + "."
	}
	return text
}

// differs says in what a scene is not as a page had it.
func (s *Scene) differs(to Situation, c candidate) []string {
	var out []string
	if c.otherRig {
		out = append(out, "The page's vehicle cannot have this fault here; this is another.")
	}
	if plug, _ := plugOf(s.rig); c.otherPlug && plug == 0 {
		out = append(out, fmt.Sprintf("The page's vehicle has a %d A plug, this one is not plugged in anywhere.", to.Plug))
	} else if c.otherPlug {
		out = append(out, fmt.Sprintf("The page's vehicle has a %d A plug, this one has %d A.", to.Plug, plug))
	}
	switch {
	case c.otherAdapter && to.Adapter:
		out = append(out, "The page's vehicle stands on an adapter, this one does not.")
	case c.otherAdapter:
		out = append(out, "The page's vehicle stands on no adapter, this one does.")
	}
	if c.otherSupply {
		out = append(out, fmt.Sprintf("The page's supply has %.0f V between its legs, this one %.0f V.", to.Volts, c.supply))
	}
	if c.otherPlace {
		out = append(out, "The page placed the fault "+placeWords(to.Places)+", where this vehicle cannot have it; it is shown "+s.Places()[s.variant]+".")
	}
	for _, name := range slices.Sorted(maps.Keys(to.Loads)) {
		if to.Loads[name] > 0 && !slices.ContainsFunc(s.legs, func(l leg) bool { return l.name == name }) {
			out = append(out, "The page's vehicle has "+"l"+strings.TrimPrefix(legTitle(name), "L")+", this one has none there.")
		}
	}
	if to.Loads == nil && len(to.Taken) > 0 {
		out = append(out, "Which loads were on is not known: they are turned to where the model comes nearest to the readings.")
	}
	if c.residual > largeResidual {
		out = append(out, "Some readings stay apart from those that were taken.")
	}
	return out
}

// largeResidual is the residual beyond which the reader is told that the model does
// not meet the readings: about a twentieth of each.
const largeResidual = 0.5

// placeWords words places: "in the cord or in the vehicle".
func placeWords(places []faulttree.Place) string {
	words := map[faulttree.Place]string{faulttree.Supply: "in the supply", faulttree.Cord: "in the cord",
		faulttree.Vehicle: "in the vehicle", faulttree.DC: "on the 12 V side", faulttree.MeterOwn: "in the meter"}
	var out []string
	for _, p := range places {
		out = append(out, words[p])
	}
	return strings.Join(out, " or ")
}

// Same puts a vehicle on show exactly as it stands: its numbers, its switches,
// its loads and its faults, of which the first that can be drawn is the one
// whose severity can be turned.
func Same(r *rig.Rig, book Book, setup rig.Setup, as rig.State) (Shown, error) {
	s, err := New(r, book)
	if err != nil {
		return Shown{}, err
	}
	if err := s.Put(setup); err != nil {
		return Shown{}, err
	}
	for i := range s.legs {
		if l := &s.legs[i]; !as.Loads[l.name] {
			s.turn(l, 0)
		}
	}
	for name, off := range as.Off {
		s.Throw(name, !off)
	}
	shown := Shown{Scene: s, Text: r.Title + "."}
	if s.fault != nil {
		shown.Text = s.text()
	}
	for _, a := range s.also {
		shown.Text += " With it: " + a.Fault.Title + "."
	}
	return shown, nil
}
