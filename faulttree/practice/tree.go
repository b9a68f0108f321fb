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

// longest bounds the steps of all ways together. A proved tree ends long before.
const longest = 3000

// guide walks a tree through a case.
type guide struct {
	c     Case
	bench *rig.Bench
	meter *meter.Meter
	legs  []string
	ends  []Way
	steps int
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
	circuit, blunders := split(c.Faults)
	if err := bench.Set(rig.Setup{Values: c.Values, Faults: circuit}); err != nil {
		return Way{}, err
	}
	g := &guide{c: c, bench: bench, meter: meter.New(meter.NewFace(model), nil), legs: c.Rig.Legs()}
	g.meter.Apply(blunders)
	w, err := faulttree.Begin(forest, faulttree.Ref{Tree: tree}, faulttree.Qualified, model)
	if err != nil {
		return Way{}, err
	}
	if err := g.follow(w, 0); err != nil {
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

func (g *guide) follow(w faulttree.Walk, readings int) error {
	for ; g.steps < longest; g.steps++ {
		if result, ended := w.Finding(); ended {
			names := slices.ContainsFunc(g.c.Truth(), func(id string) bool {
				return slices.Contains(result.Finding.Faults, id) || id == NoFault && len(result.Finding.Faults) == 0
			})
			g.ends = append(g.ends, Way{Readings: readings, Finding: result.Ref, Title: result.Title, Names: names, Found: true})
			return nil
		}
		step := w.Step()
		if step == nil {
			return nil
		}
		var answer faulttree.Answer
		switch step.Kind {
		case faulttree.KindAct:
			answer.Done = true
		case faulttree.KindObserve:
			choices := g.choices(step)
			for _, id := range choices[1:] {
				next, err := w.Answer(faulttree.Answer{Choice: id})
				if err != nil {
					return err
				}
				if err := g.follow(next, readings); err != nil {
					return err
				}
			}
			answer.Choice = choices[0]
		case faulttree.KindMeasure:
			for _, v := range step.Measure {
				r := g.reading(v.Quantity)
				if r.Quality != faulttree.NotPossible {
					readings++
				}
				answer.Readings = append(answer.Readings, r)
			}
		}
		next, err := w.Answer(answer)
		if err != nil {
			return err
		}
		w = next
	}
	return nil
}

// reading is what the meter shows of a quantity, in the state that it names.
func (g *guide) reading(q faulttree.Quantity) faulttree.Reading {
	shown, err := g.meter.Read(meter.In(g.bench, rig.Of(q, g.legs)), q)
	if err != nil {
		return faulttree.NotTaken(err.Error())
	}
	return shown.Reading
}

// choices lists what an observer of the case may choose.
func (g *guide) choices(step *faulttree.Step) []string {
	var fits, open, all []string
	for _, c := range step.Choices {
		all = append(all, c.ID)
		if len(c.When) == 0 {
			open = append(open, c.ID)
			continue
		}
		holds := true
		for _, when := range c.When {
			m, err := g.bench.MeasureIn(when.Quantity, rig.Of(when.Quantity, g.legs), rig.HighImpedance)
			x := cmplx.Abs(m.Value) * float64(faulttree.One)
			holds = holds && err == nil && m.Defined && x < math.MaxInt64/2 && when.Span.Contains(faulttree.Amount(x))
		}
		if holds {
			fits = append(fits, c.ID)
		}
	}
	switch {
	case len(fits) > 0:
		return fits
	case len(open) > 0:
		return open
	}
	return all
}
