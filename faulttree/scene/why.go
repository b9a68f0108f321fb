package scene

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// Situation is what a page spoke of when it offers to show a fault. What it did
// not speak of stays empty.
type Situation struct {
	Fault  string             // id
	Places []faulttree.Place  // where it may be
	Rig    string             // id of the vehicle's own rig
	Facts  map[string]string  // what is known without a meter: by id, the choice that holds
	Volts  float64            // between the supply's two legs: 240, 208
	Loads  map[string]float64 // watts by leg; nil is not known, a leg left out is off
	Taken  []Taken            // readings
}

// Explanation is a scene made for a page, and what it is in words.
type Explanation struct {
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
func Why(rigs []*rig.Rig, book Book, to Situation) (Explanation, error) {
	rigs = slices.Clone(rigs)
	slices.SortFunc(rigs, func(a, b *rig.Rig) int { return cmp.Compare(a.ID, b.ID) })
	var nearest []candidate // alike in all but the readings
	for _, r := range rigs {
		s, err := New(r, book)
		if err != nil {
			return Explanation{}, err
		}
		if !s.Choose(to.Fault) {
			continue
		}
		c, err := s.compareTo(to)
		if err != nil {
			return Explanation{}, err
		}
		order := -1
		if len(nearest) > 0 {
			order = slices.Compare(c.distance(), nearest[0].distance())
		}
		switch {
		case order < 0:
			nearest = []candidate{c}
		case order == 0:
			nearest = append(nearest, c)
		}
	}
	var best candidate
	for _, c := range nearest {
		if err := c.fit(to); err != nil {
			return Explanation{}, err
		}
		if best.scene == nil || c.residual < best.residual-1e-9 {
			best = c
		}
	}
	if best.scene == nil {
		return Explanation{}, nil
	}
	return Explanation{Scene: best.scene, Text: best.scene.text(), Differs: best.differs(to)}, nil
}

// candidate is a scene that could stand for a situation.
type candidate struct {
	scene *Scene
	// In what it is other than a page had it, the gravest first; 0 where it is not.
	otherRig    float64
	otherFacts  []float64 // by the list of facts, how far the choices stand apart
	otherSupply float64
	otherPlace  float64

	supply   float64 // volts between the legs, 0 with one leg
	places   []int   // of the fault, that are considered
	residual float64 // of the readings, once fitted
}

// distance is how far the candidate is from what the page had, the gravest first.
func (c candidate) distance() []float64 {
	return slices.Concat([]float64{c.otherRig}, c.otherFacts, []float64{c.otherSupply, c.otherPlace})
}

// compareTo says how far the scene is from a situation, the readings apart.
func (s *Scene) compareTo(to Situation) (candidate, error) {
	supply, err := s.supplyVolts()
	if err != nil {
		return candidate{}, err
	}
	c := candidate{scene: s, supply: supply, places: s.placesIn(to.Places)}
	if to.Rig != "" && to.Rig != s.rig.ID {
		c.otherRig = 1
	}
	for _, f := range s.book.Facts {
		c.otherFacts = append(c.otherFacts, apart(f, to.Facts[f.ID], s.rig.Facts[f.ID]))
	}
	if to.Volts != 0 && supply != 0 && math.Abs(to.Volts-supply) > 0.05*to.Volts {
		c.otherSupply = 1
	}
	if len(c.places) == 0 {
		c.places, c.otherPlace = s.placesIn(nil), 1
	}
	return c, nil
}

// apart is how far two choices of a fact stand apart in its list, 0 where one of
// them is not known.
func apart(f faulttree.Fact, one, other string) float64 {
	at := func(id string) int {
		return slices.IndexFunc(f.Choices, func(c faulttree.Choice) bool { return c.ID == id })
	}
	if at(one) < 0 || at(other) < 0 {
		return 0
	}
	return math.Abs(float64(at(one) - at(other)))
}

// fit turns the candidate's scene to what was read, with the loads that are
// known.
func (c *candidate) fit(to Situation) (err error) {
	if to.Loads != nil {
		for i := range c.scene.legs {
			l := &c.scene.legs[i]
			l.most = max(l.most, to.Loads[l.name])
			c.scene.turn(l, to.Loads[l.name])
		}
	}
	c.residual, err = c.scene.fit(to.Taken, c.places, to.Loads == nil)
	return err
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

// differs says in what a candidate is not as a page had it.
func (c candidate) differs(to Situation) []string {
	s := c.scene
	var out []string
	if c.otherRig != 0 {
		out = append(out, "The page's vehicle cannot have this fault here; this is another.")
	}
	for i, f := range s.book.Facts {
		if c.otherFacts[i] != 0 {
			out = append(out, fmt.Sprintf("%s %s for the page's vehicle, %s for this one.", f.Title, choiceWords(f, to.Facts[f.ID]), choiceWords(f, s.rig.Facts[f.ID])))
		}
	}
	if c.otherSupply != 0 {
		out = append(out, fmt.Sprintf("The page's supply has %.0f V between its legs, this one %.0f V.", to.Volts, c.supply))
	}
	if c.otherPlace != 0 {
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

// choiceWords is the beginning of a choice's words, before what explains it.
func choiceWords(f faulttree.Fact, id string) string {
	for _, c := range f.Choices {
		if c.ID == id {
			short, _, _ := strings.Cut(c.Text, ":")
			short, _, _ = strings.Cut(short, ",")
			return short
		}
	}
	return id
}

// largeResidual is the residual beyond which the reader is told that the model
// does not meet the readings: about a twentieth of each.
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
func Same(r *rig.Rig, book Book, setup rig.Setup, as bench.State) (Explanation, error) {
	s, err := New(r, book)
	if err != nil {
		return Explanation{}, err
	}
	if err := s.Put(setup); err != nil {
		return Explanation{}, err
	}
	for i := range s.legs {
		if l := &s.legs[i]; !as.Loads[l.name] {
			s.turn(l, 0)
		}
	}
	for name, off := range as.Off {
		s.Throw(name, !off)
	}
	shown := Explanation{Scene: s, Text: r.Title + "."}
	if s.fault != nil {
		shown.Text = s.text()
	}
	for _, a := range s.also {
		shown.Text += " With it: " + a.Fault.Title + "."
	}
	return shown, nil
}
