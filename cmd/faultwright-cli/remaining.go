package main

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/check"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/trial"
)

type remainingCommand struct {
	Trees []string `arg:"" optional:"" name:"tree" help:"The walks whose findings are looked at; without any, every walk that has rigs."`
	Write bool     `help:"Write the lists into the folder remaining of the handbook that --content names, and say what changed at the all-clears."`
	Rigs  int      `default:"20000" help:"How many vehicles to draw for each walk that leads there."`
	Seed  uint64   `default:"7" help:"What the draws are made from: the same seed gives the same lists."`
}

func (c remainingCommand) Help() string {
	return "Draws vehicles as a trial does and lists, for each finding, the dangerous faults and places with which a walk ended there and which the finding does not name. " +
		"check --deep compares the lists with what it draws. It takes some seconds for each walk that leads to one of these."
}

func (c remainingCommand) Run(p *program) error {
	if c.Rigs < 1 || c.Rigs > mostRigs {
		return bad("--rigs is from 1 to %d", mostRigs)
	}
	if c.Write && p.content == "" {
		return bad("--write needs --content: the folder of the handbook to write to")
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	trees, err := c.trees(lib)
	if err != nil {
		return err
	}
	var to *handbookFolder
	if c.Write { // before the work, so that none is done in vain
		if to, err = openHandbook(p.content, load.RemainingFolder); err != nil {
			return bad("the lists cannot be written: %v", err)
		}
		defer to.Close()
	}
	all, err := check.Remaining(p.ctx, lib, trees, trial.Options{Rigs: c.Rigs, Seed: c.Seed, Progress: p.progress("drawing")})
	if err != nil {
		return bad("%v", err)
	}
	files := map[string][]byte{}
	for _, tree := range trees {
		files[load.RemainingFile(tree)] = load.FormatRemaining(tree, all[tree])
	}
	if to == nil {
		for _, tree := range trees {
			p.out.Write(files[load.RemainingFile(tree)])
		}
		return nil
	}
	if err := to.write(files); err != nil {
		return bad("the lists cannot be written: %v", err)
	}
	for _, tree := range trees {
		c.changed(p, lib, tree, all[tree])
	}
	return nil
}

// trees are those asked for. A list that is out of date hinders none of it.
func (c remainingCommand) trees(lib *content.Library) ([]string, error) {
	covered := check.Covered(lib)
	trees := covered
	if len(c.Trees) > 0 {
		trees = nil
	}
	for _, id := range c.Trees {
		t := lib.Forest.Tree(id)
		switch {
		case t == nil:
			return nil, unknown("walk", id, lib.Forest.Beginnings())
		case !slices.Contains(covered, t.Own()):
			return nil, bad("no rig says that a reader of the walk %s may stand before it; what remains there stands in the tree, under cannot_exclude", id)
		case !slices.Contains(trees, t.Own()):
			trees = append(trees, t.Own())
		}
	}
	if len(trees) == 0 {
		return nil, bad("no rig of the handbook says that a reader of some walk may stand before it")
	}
	for _, id := range covered {
		if errs := load.BesideRemaining(lib, id); len(errs) > 0 {
			return nil, bad("the walk %s has errors; check shows them: %s", id, errs[0])
		}
	}
	return trees, nil
}

// changed says what was written, and what came and went at the all-clears.
func (c remainingCommand) changed(p *program, lib *content.Library, tree string, now map[string][]faulttree.NotExcluded) {
	g := p.page(p.out)
	g.para("", fmt.Sprintf("%s: what remains at %s", load.RemainingFile(tree), view.Count(len(now), "finding")))
	for _, s := range lib.Forest.Trees[tree].Steps {
		if len(s.Finding.Clears) == 0 {
			continue
		}
		var words []string
		for _, n := range now[s.ID] {
			if !s.Finding.Declares(n.At()) {
				words = append(words, "now "+n.At().String())
			}
		}
		for _, n := range s.Finding.CannotExclude {
			still := slices.ContainsFunc(now[s.ID], func(o faulttree.NotExcluded) bool { return o.At() == n.At() })
			if n.Computed && !still {
				words = append(words, "no more "+n.At().String())
			}
		}
		if len(words) > 0 {
			g.hanging("  ", "    ", "the all-clear "+s.ID+": "+strings.Join(words, ", "))
		}
	}
}
