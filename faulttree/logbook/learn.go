package logbook

import (
	"maps"
	"slices"

	"faultwright/faulttree"
)

// Lasting is what of a vehicle is taken for a visit of it, and not asked: facts that are
// the same at every visit, as they are noted or follow from what is aboard.
func (v Vehicle) Lasting(f *faulttree.Forest) map[string]string {
	out := f.Lasting(v.Facts)
	for _, fact := range f.Facts {
		i := slices.IndexFunc(fact.Choices, func(c faulttree.Choice) bool { return c.Aboard != "" && v.Has(c.Aboard) })
		if fact.Lasting && out[fact.ID] == "" && i >= 0 {
			out[fact.ID] = fact.Choices[i].ID
		}
	}
	return out
}

// Learned is what a visit tells of its vehicle.
type Learned struct {
	Vehicle Vehicle  // with what was not known of it
	News    bool     // something was not
	Differ  []string // facts that are noted otherwise, by id, sorted
}

// Learn puts beside what is noted of a vehicle what became known at a visit that began in a
// tree: facts that last, and what is aboard. What is noted stays. A fact that names of the
// tree are for is the receptacle's, and need not be the vehicle's.
func (v Vehicle) Learn(f *faulttree.Forest, tree string, known map[string]string) Learned {
	out := Learned{Vehicle: v}
	noted, facts := v.Lasting(f), maps.Clone(v.Facts)
	if facts == nil {
		facts = map[string]string{}
	}
	lasting := f.Lasting(known)
	for _, id := range slices.Sorted(maps.Keys(lasting)) {
		switch choice := lasting[id]; {
		case f.NamedFor(tree, id):
		case noted[id] == "":
			facts[id], out.News = choice, true
		case noted[id] != choice:
			out.Differ = append(out.Differ, id)
		}
	}
	out.Vehicle.Facts = facts
	for _, fact := range f.Facts {
		for _, c := range fact.Choices {
			if c.Aboard != "" && c.ID == known[fact.ID] && !out.Vehicle.Has(c.Aboard) {
				out.Vehicle.Aboard, out.News = slices.Concat(out.Vehicle.Aboard, []string{c.Aboard}), true
			}
		}
	}
	return out
}
