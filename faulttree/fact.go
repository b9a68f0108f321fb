package faulttree

import (
	"cmp"
	"maps"
	"slices"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// Fact is something known without a meter, such as which plug a vehicle has.
// It is asked once, when first needed.
type Fact struct {
	ID      string
	Title   string   // the question
	Choices []Choice // their exits are not set: the walk goes on where it stands
	Lasting bool     // the same at every visit of a vehicle
	Pos     source.Pos
}

// factTree stands in a [Ref] for the tree of a step that asks a fact; no tree
// may have this id.
const factTree = "fact"

// FactRef is the name of the step that asks a fact.
func FactRef(id string) Ref { return Ref{factTree, id} }

// Fact is the id of the fact that r asks, if it asks one.
func (r Ref) Fact() (id string, ok bool) { return r.Step, r.Tree == factTree }

// step is f as a step of a walk.
func (f *Fact) step() *Step {
	return &Step{Tree: factTree, ID: f.ID, Title: f.Title, Kind: KindFact, Choices: f.Choices, Pos: f.Pos}
}

// Has reports whether f has a choice with this id.
func (f *Fact) Has(choice string) bool {
	return slices.ContainsFunc(f.Choices, func(c Choice) bool { return c.ID == choice })
}

// Fact is the fact with this id, or nil.
func (f *Forest) Fact(id string) *Fact {
	return lists.At(f.Facts, func(fact *Fact) bool { return fact.ID == id })
}

// Lasting is what of some facts is the same at every visit of a vehicle, and in f a
// choice.
func (f *Forest) Lasting(known map[string]string) map[string]string {
	out := map[string]string{}
	for _, fact := range f.Facts {
		if c := known[fact.ID]; fact.Lasting && fact.Has(c) {
			out[fact.ID] = c
		}
	}
	return out
}

// Plug is the configuration of the vehicle's plug that known facts mean, by its
// NEMA WD 6 name; "" for none.
func (f *Forest) Plug(known map[string]string) string {
	for _, fact := range f.Facts {
		for _, c := range fact.Choices {
			if c.Plug != "" && known[fact.ID] == c.ID {
				return c.Plug
			}
		}
	}
	return ""
}

// FactsOfPlug is what is known of a vehicle whose plug has this configuration.
func (f *Forest) FactsOfPlug(plug string) map[string]string {
	out := map[string]string{}
	for _, fact := range f.Facts {
		for _, c := range fact.Choices {
			if plug != "" && c.Plug == plug {
				out[fact.ID] = c.ID
			}
		}
	}
	return out
}

// Needs says what must be so for a point to be there, or a quantity to be
// measured: by the id of a fact, the choices of which one must hold. Nothing
// is needed where it is empty.
type Needs map[string][]string

// And is what n and other need together.
func (n Needs) And(other Needs) Needs {
	if len(other) == 0 {
		return n
	}
	out := maps.Clone(n)
	if out == nil {
		out = Needs{}
	}
	for fact, choices := range other {
		if have, ok := out[fact]; ok {
			choices = slices.DeleteFunc(slices.Clone(have), func(c string) bool { return !slices.Contains(choices, c) })
		}
		out[fact] = choices
	}
	return out
}

// Known tells what is known of a fact: one of its choices, or "".
type Known func(fact string) string

// Unknown is what is known of every fact where nothing is.
func Unknown(string) string { return "" }

// Unmet reports whether what is known rules n out.
func (n Needs) Unmet(known Known) bool {
	for fact, choices := range n {
		if c := known(fact); c != "" && !slices.Contains(choices, c) {
			return true
		}
	}
	return false
}

// unknown is the first fact, by id, that n needs and nobody knows; "" where
// all is known, or enough to rule n out.
func (n Needs) unknown(known Known) string {
	if n.Unmet(known) {
		return ""
	}
	fact, _ := lists.Find(slices.Sorted(maps.Keys(n)), func(fact string) bool { return known(fact) == "" })
	return fact
}

// NeedsFacts lists the facts that the quantities of s need, in order of their
// ids.
func (s *Step) NeedsFacts() []string {
	var out []string
	for _, v := range s.Measure {
		for fact := range v.Quantity.Needs {
			out = lists.With(out, fact)
		}
	}
	slices.Sort(out)
	return out
}

// unknown is the first fact that s needs before it can be asked, "" if none.
func (s *Step) unknown(known Known) string {
	if s.Kind != KindMeasure && s.Kind != KindChart {
		return ""
	}
	for _, v := range s.Measure {
		if fact := v.Quantity.Needs.unknown(known); fact != "" {
			return fact
		}
	}
	return ""
}

// Under is s as it is asked where these facts are known: what they rule out is
// not measured. What a branch asks of it counts as held; a row of a chart that
// asks something of it is left out. It is s itself where nothing is ruled out.
func (s *Step) Under(known Known) *Step {
	if s.Kind != KindMeasure && s.Kind != KindChart {
		return s
	}
	at := make([]int, len(s.Measure)+len(s.Derive)) // where each variable stands now, -1 where it is gone
	out := *s
	out.Measure, out.Derive, out.Branches = nil, nil, nil
	for i, v := range s.Measure {
		if at[i] = -1; !v.Quantity.Needs.Unmet(known) {
			at[i] = len(out.Measure)
			out.Measure = append(out.Measure, v)
		}
	}
	if len(out.Measure) == len(s.Measure) {
		return s
	}
	if s.Kind == KindChart && s.Chart != nil {
		return s.underChart(at, out.Measure)
	}
	for i, d := range s.Derive {
		terms := slices.Clone(d.Terms)
		for k := range terms {
			terms[k].Var = at[terms[k].Var]
		}
		if at[len(s.Measure)+i] = -1; !slices.ContainsFunc(terms, func(t Term) bool { return t.Var < 0 }) {
			at[len(s.Measure)+i] = len(out.Measure) + len(out.Derive)
			d.Terms = terms
			out.Derive = append(out.Derive, d)
		}
	}
	for _, b := range s.Branches {
		var bounds []Bound
		for _, bound := range b.Bounds {
			if bound.Var = at[bound.Var]; bound.Var >= 0 {
				bounds = append(bounds, bound)
			}
		}
		b.Bounds = bounds
		out.Branches = append(out.Branches, b)
	}
	return &out
}

// Unstated lists the facts that a walk from the start of a tree may come to ask
// and that the vehicle before it does not state, by their ids. What the tree
// fixes itself outranks the vehicle.
func (f *Forest) Unstated(tree string, vehicle map[string]string) []string {
	t := f.Tree(tree)
	if t == nil {
		return nil
	}
	known := func(fact string) string { return cmp.Or(t.Facts[fact], vehicle[fact]) }
	unstated := map[string]bool{}
	todo := []Ref{{tree, t.Start}}
	for seen := map[Ref]bool{}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		s := f.Step(at)
		if s == nil || seen[s.Ref()] {
			continue
		}
		seen[s.Ref()] = true
		for _, v := range s.Measure {
			for fact := range v.Quantity.Needs {
				if known(fact) == "" && !v.Quantity.Needs.Unmet(known) {
					unstated[fact] = true
				}
			}
		}
		exits := s.Under(known).Exits()
		if s.Reads() && len(s.Under(known).Measure) == 0 {
			exits = []Exit{s.NotApplicable}
		}
		for _, e := range exits {
			todo = append(todo, e.To)
		}
	}
	return slices.Sorted(maps.Keys(unstated))
}

// Fact is what the walk knows of a fact: what its tree says, or what was
// answered; "" where nobody knows.
func (w Walk) Fact(id string) string {
	if w.forest == nil {
		return ""
	}
	if t := w.forest.Tree(w.start.Tree); t != nil && t.Facts[id] != "" {
		return t.Facts[id]
	}
	for _, e := range w.trail {
		if e.Step == FactRef(id) {
			return e.Answer.Choice
		}
	}
	return ""
}

// Facts is every fact that the walk knows, by id.
func (w Walk) Facts() map[string]string {
	out := map[string]string{}
	if w.forest == nil {
		return out
	}
	for i := range w.forest.Facts {
		if id := w.forest.Facts[i].ID; w.Fact(id) != "" {
			out[id] = w.Fact(id)
		}
	}
	return out
}

// Asked is a step as this walk asks it, by the facts it knows, and as it was
// answered where that is more; nil where the handbook has none of this name. A
// step of which nothing would be left is given whole: a reading of it was taken
// nevertheless.
func (w Walk) Asked(r Ref) *Step {
	if w.forest == nil {
		return nil
	}
	s := w.forest.Step(r)
	if s == nil {
		return nil
	}
	u := s.Under(w.Fact)
	whole := func(e Entry) bool { return e.Step == s.Ref() && len(e.Answer.Readings) == len(s.Measure) }
	if len(u.Measure) == 0 || u != s && slices.ContainsFunc(w.trail, whole) {
		return s
	}
	return u
}

// Wants names what the walk waits for: a quantity, tree#step of what is done or
// chosen, fact:NAME of a fact, and "" where it has ended.
func (w Walk) Wants() string {
	s := w.Step()
	switch {
	case s == nil || w.Ended():
		return ""
	case s.Kind == KindFact:
		return factTree + ":" + s.ID
	case s.Kind == KindMeasure:
		return s.Measure[0].Quantity.ID
	}
	return s.Ref().String()
}
