package faulttree

import (
	"slices"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// Observation is a question that is answered without a meter, by what somebody
// saw, smelled or felt: how the lamps burn, what tripped.
type Observation struct {
	ID      string
	Title   string   // the question
	Needs   Needs    // it is not asked where the facts rule it out
	Parts   []string // it tells nothing of vehicles whose rigs lack one of these
	Choices []Sight  // two or more
	Sources []string
	Pos     source.Pos
}

// Sight is one choice of an [Observation], and with which vehicles it is made.
type Sight struct {
	ID      string
	Text    string
	Any     []Choice           // conditions of which one holds where this is seen; nil: no condition, any vehicle
	Often   float64            // how often it is seen beside the other choices, where all of them are possible; above 0
	Favours map[string]float64 // by the id of a fault, how many times as often with it; above 0
}

// Sight is the choice with this id, or nil.
func (o *Observation) Sight(id string) *Sight {
	return lists.At(o.Choices, func(s *Sight) bool { return s.ID == id })
}

// Conditions lists every condition of the choices of o.
func (o *Observation) Conditions() []Choice {
	var all []Choice
	for _, s := range o.Choices {
		all = append(all, s.Any...)
	}
	return all
}

// Chances is how likely each choice is to be made by somebody who stands before
// a vehicle with these faults (their ids) and makes no mistake: the choices of
// which no condition holds not at all, the others by how often they are seen and
// what the faults favour. They add up to 1; nil where no choice is possible, so
// that the observation tells nothing.
func (o *Observation) Chances(at Observed, faults []string) []float64 {
	return o.ChancesOf(o.Conditions(), at, faults)
}

// ChancesOf is [Observation.Chances] for who asks of many vehicles, and has the conditions at
// hand.
func (o *Observation) ChancesOf(all []Choice, at Observed, faults []string) []float64 {
	sum := 0.0
	chances := make([]float64, len(o.Choices))
	for i, s := range o.Choices {
		if len(s.Any) > 0 && !slices.ContainsFunc(s.Any, func(c Choice) bool { return fits(all, c, at) }) {
			continue
		}
		chances[i] = s.Often
		for _, fault := range faults {
			if factor, ok := s.Favours[fault]; ok {
				chances[i] *= factor
			}
		}
		sum += chances[i]
	}
	if sum == 0 {
		return nil
	}
	for i := range chances {
		chances[i] /= sum
	}
	return chances
}

// seldomChosen is how often somebody overlooks what a choice with conditions says of
// a vehicle, and makes one that has none. Common practice, no source.
const seldomChosen = 0.02

// Observation is an observe step as an observation, by the name of the step: each
// choice with conditions is made where they hold, any other where none does, and
// seldom elsewhere.
func (s *Step) Observation() Observation {
	o := Observation{ID: s.Ref().String(), Title: s.Title, Pos: s.Pos}
	for _, c := range s.Choices {
		sight := Sight{ID: c.ID, Text: c.Text, Often: seldomChosen}
		if len(c.When) > 0 || c.Sees || c.Feels {
			sight.Any, sight.Often = []Choice{c}, 1
		}
		o.Choices = append(o.Choices, sight)
	}
	return o
}

// Intervention is something that was tried, after which a complaint is gone or
// still there: another cord, the main breaker off. What it does to a vehicle is
// stated by the parts and switches of the rigs, so that a vehicle with a fault
// can be worked out as it stands then.
type Intervention struct {
	ID     string
	Title  string // what is tried: "Another cord"
	Before string // what must be done, or be so, before it is tried; in sentences
	Needs  Needs  // it cannot be tried where the facts rule it out

	Renews   []string          // parts, runs, nodes and groups of nodes of the rigs: what faults do there is undone
	Off, On  []string          // switches as they stand then, whatever a quantity asks
	Unloaded bool              // no loads are on, whatever a quantity asks
	Facts    map[string]string // facts that hold instead: the vehicle is one of the rig that states them

	Exposure Exposure // what is live near whoever tries it
	Effort   int      // from 1
	For      Role     // who may try it
	// Offer lists the trees to whose reader it may be proposed. To all others it
	// is evidence only where they tried it on their own.
	Offer []string
	Pos   source.Pos
}

// Offered reports whether the intervention may be proposed to a reader who came
// with the complaint of a tree (by its id) and knows these facts.
func (i *Intervention) Offered(tree string, role Role, known Known) bool {
	return slices.Contains(i.Offer, tree) && role >= i.For && !i.Needs.Unmet(known)
}

// Observation is the one with this id, or nil.
func (f *Forest) Observation(id string) *Observation {
	return lists.At(f.Observations, func(o *Observation) bool { return o.ID == id })
}

// Intervention is the one with this id, or nil.
func (f *Forest) Intervention(id string) *Intervention {
	return lists.At(f.Interventions, func(i *Intervention) bool { return i.ID == id })
}

// ChoiceIDs lists the ids of the choices of o.
func (o *Observation) ChoiceIDs() []string {
	return idsOf(o.Choices, func(s Sight) string { return s.ID })
}

// ObservationIDs lists the ids of all observations.
func (f *Forest) ObservationIDs() []string {
	return idsOf(f.Observations, func(o Observation) string { return o.ID })
}

// InterventionIDs lists the ids of all interventions.
func (f *Forest) InterventionIDs() []string {
	return idsOf(f.Interventions, func(i Intervention) string { return i.ID })
}

// Complaints lists the trees that say what brings a reader to them, so that it can
// be judged whether something that was tried helped.
func (f *Forest) Complaints() []string {
	return lists.Where(f.IDs(), func(id string) bool { return len(f.Trees[id].Complaint) > 0 })
}

func idsOf[T any](list []T, id func(T) string) []string {
	out := make([]string, len(list))
	for i, one := range list {
		out[i] = id(one)
	}
	return out
}
