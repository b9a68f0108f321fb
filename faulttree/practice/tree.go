package practice

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/vehicle"
)

// Way is how a tree goes about a case, with the meter as the case has it.
type Way struct {
	Tree     string
	Readings int           // how many it takes
	Finding  faulttree.Ref // where it ends
	Title    string
	Names    bool // the finding names what there is to find
	Found    bool // there is such a way
}

// Walk walks a tree through the case, as somebody qualified would. Where an
// observer could choose in several ways, the way that names the fault counts,
// and among such the one that takes more readings.
func (c Case) Walk(forest *faulttree.Forest, tree string, model faulttree.Meter) (Way, error) {
	if forest == nil || forest.Tree(tree) == nil {
		return Way{Tree: tree}, nil
	}
	v, err := vehicle.New(c.Rig)
	if err != nil {
		return Way{}, err
	}
	if err := v.Put(c.Setup()); err != nil {
		return Way{}, err
	}
	m := meter.New(meter.NewFace(model), nil)
	m.Apply(c.Faults)
	one := func(asked vehicle.Asked, q faulttree.Quantity) (faulttree.Reading, error) {
		shown, err := m.Read(asked, q)
		if err != nil {
			return faulttree.NotTaken(err.Error()), nil
		}
		return shown.Reading, nil
	}
	read := func(_ faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error) { return v.Typed(q, one) }
	at, err := faulttree.Begin(forest, faulttree.Ref{Tree: tree}, faulttree.Qualified, model)
	if err != nil {
		return Way{}, err
	}
	ends, err := vehicle.Walker{Read: read, Value: v.Taken, Vehicle: v}.Ends(at)
	if err != nil {
		return Way{}, err
	}
	best := Way{Tree: tree}
	for _, end := range ends {
		if e := c.way(end); !best.Found || e.Names && !best.Names || e.Names == best.Names && e.Readings > best.Readings {
			best = e
		}
	}
	return best, nil
}

// way is the way that a walk took which has ended.
func (c Case) way(end faulttree.Walk) Way {
	result, _ := end.Finding()
	names := slices.ContainsFunc(c.Truth(), func(id string) bool {
		return slices.Contains(result.Finding.Faults, id) || id == NoFault && len(result.Finding.Faults) == 0
	})
	return Way{Tree: end.Start().Tree, Readings: end.Readings(), Finding: result.Ref, Title: result.Title, Names: names, Found: true}
}
