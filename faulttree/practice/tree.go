package practice

import (
	"math"
	"math/cmplx"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
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

// longest bounds the answers of all ways together. A proved tree ends long
// before.
const longest = 3000

// caseWalker walks a tree through a case.
type caseWalker struct {
	c     Case
	bench *rig.Bench
	meter *meter.Multimeter
	legs  []string
	ends  []Way
	open  map[string]bool // what stands open in the case
}

// Walk walks a tree through the case, as somebody qualified would. Where an
// observer could choose in several ways, the way that names the fault counts,
// and among such the one that takes more readings.
func (c Case) Walk(forest *faulttree.Forest, tree string, model faulttree.Meter) (Way, error) {
	if forest == nil || forest.Trees[tree] == nil {
		return Way{Tree: tree}, nil
	}
	bench, err := rig.NewBench(c.Rig)
	if err != nil {
		return Way{}, err
	}
	circuit, mistakes := split(c.Faults)
	if err := bench.Set(rig.Setup{Values: c.Values, Faults: circuit}); err != nil {
		return Way{}, err
	}
	g := &caseWalker{c: c, bench: bench, meter: meter.New(meter.NewFace(model), nil), legs: c.Rig.Legs()}
	if g.open, err = bench.Opened(); err != nil {
		return Way{}, err
	}
	g.meter.Apply(mistakes)
	w, err := faulttree.Begin(forest, faulttree.Ref{Tree: tree}, faulttree.Qualified, model)
	if err != nil {
		return Way{}, err
	}
	if err := w.Fork(longest, g.answers, g.end); err != nil {
		return Way{}, err
	}
	best := Way{Tree: tree}
	for _, e := range g.ends {
		if !best.Found || e.Names && !best.Names || e.Names == best.Names && e.Readings > best.Readings {
			best = e
			best.Tree = tree
		}
	}
	return best, nil
}

// end notes where a walk ended.
func (g *caseWalker) end(w faulttree.Walk) error {
	result, _ := w.Finding()
	names := slices.ContainsFunc(g.c.Truth(), func(id string) bool {
		return slices.Contains(result.Finding.Faults, id) || id == NoFault && len(result.Finding.Faults) == 0
	})
	g.ends = append(g.ends, Way{Readings: w.Readings(), Finding: result.Ref, Title: result.Title, Names: names, Found: true})
	return nil
}

// answers is what the case answers to the step a walk stands on.
func (g *caseWalker) answers(w faulttree.Walk) ([]faulttree.Answer, error) {
	switch step := w.Step(); step.Kind {
	case faulttree.KindObserve:
		return step.Fitting(g.holds, g.stands), nil
	case faulttree.KindMeasure:
		var a faulttree.Answer
		for _, v := range step.Measure {
			a.Readings = append(a.Readings, g.reading(v.Quantity))
		}
		return []faulttree.Answer{a}, nil
	}
	return []faulttree.Answer{{Done: true}}, nil
}

// reading is what the meter shows of a quantity, in the state that it names.
func (g *caseWalker) reading(q faulttree.Quantity) faulttree.Reading {
	shown, err := g.meter.Read(meter.In(g.bench, rig.StateFor(q, g.legs)), q)
	if err != nil {
		return faulttree.NotTaken(err.Error())
	}
	return shown.Reading
}

// holds reports whether a condition on a choice holds by the solved value.
func (g *caseWalker) holds(when faulttree.When) bool {
	m, err := g.bench.MeasureIn(when.Quantity, rig.StateFor(when.Quantity, g.legs), rig.HighImpedance)
	x := cmplx.Abs(m.Value) * float64(faulttree.One)
	return err == nil && m.Defined && x < math.MaxInt64/2 && when.Span.Contains(faulttree.Amount(x))
}

// stands reports whether a device stands open in the vehicle as it failed.
func (g *caseWalker) stands(device string) bool { return g.open[device] }
