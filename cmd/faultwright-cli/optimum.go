package main

import (
	"fmt"
	"strings"

	"faultwright/content/check"
	"faultwright/faulttree/trial"
)

type optimumCommand struct {
	Tree string `arg:"" help:"The walk."`
	Rigs int    `default:"10000" help:"How many vehicles to draw within its scope."`
	Seed uint64 `default:"1" help:"What the draws are made from: the same seed gives the same vehicles."`
	JSON bool   `name:"json" help:"Print what was found as JSON."`
}

func (c optimumCommand) Help() string {
	return "For authors: what a walk costs, what the best order of asking costs that looking ahead finds for the same readings under the same gates, and the steps at which most is lost. A cleverer search may find a cheaper order."
}

func (c optimumCommand) Run(p *program) error {
	if c.Rigs < 1 || c.Rigs > mostRigs {
		return bad("--rigs is from 1 to %d", mostRigs)
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	if lib.Forest.Tree(c.Tree) == nil {
		return unknown("walk", c.Tree, lib.Forest.Beginnings())
	}
	if errs := lib.TreeErrors(c.Tree); len(errs) > 0 {
		return bad("the walk %s has errors; check shows them: %s", c.Tree, errs[0])
	}
	o, err := trial.FindOptimum(p.ctx, check.TrialOf(lib), c.Tree, trial.Options{Rigs: c.Rigs, Seed: c.Seed, Progress: p.progress(c.Tree)})
	if err != nil {
		return bad("%v", err)
	}
	if c.JSON {
		return writeJSON(p.out, o)
	}
	g := p.page(p.out)
	g.title(o.Tree + ": " + lib.Forest.Tree(o.Tree).Title)
	fmt.Fprintf(g.w, "%d rigs; seed %d\n", o.Rigs, o.Seed)
	g.orders(o.Orders)
	return nil
}

// mostLost is how many steps are told at which a tree loses.
const mostLost = 8

// lost writes the steps at which a tree takes what the best order does without.
func (g page) lost(all []trial.Lost) {
	for _, x := range all[:min(mostLost, len(all))] {
		g.hanging("  lost ", "    ", fmt.Sprintf("%.2f at %s, in %.0f %% of the walks: %s", x.Cost, x.Step, 100*x.Walks, strings.Join(x.Quantities, ", ")))
	}
}
