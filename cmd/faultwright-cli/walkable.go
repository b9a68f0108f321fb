package main

import (
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/content/check"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// branchesIntact are the rules whose breach leaves every branch of a tree as it
// was written: a text, a reference or a source is at fault.
var branchesIntact = []string{
	load.RuleUnknownCard, load.RuleUnknownCaution, load.RuleUnknownFault, load.RuleUnknownSource, load.RuleUnknownRelated,
	load.RuleBrokenLink, load.RuleUnknownFigure, load.RuleUnsourcedBound, load.RuleUnsourcedNumber, load.RuleTextOutsideSteps,
}

// walkable refuses to walk where a document the walk could come through could
// not be read as it is meant: a branch may be missing from it. Of every other
// error there it warns, the proofs' included, for a handbook that is not the
// shipped one.
func (p *program) walkable(lib *content.Library, start faulttree.Ref) error {
	var errs source.List
	for _, d := range lib.Diagnostics {
		within := lib.Concerns(start.Tree, d.Pos.File) || !d.Pos.IsValid()
		if d.Severity == source.Error && within && !slices.Contains(branchesIntact, d.Rule) {
			errs = append(errs, d)
		}
	}
	if len(errs) > 0 {
		return failure{exitBadInput, fmt.Errorf("this walk has errors and is not taken until they are mended:\n%w", errs.Err())}
	}
	if p.content == "" {
		return nil
	}
	found := 0
	for _, d := range check.Library(p.ctx, lib) {
		if d.Severity == source.Error && lib.Concerns(start.Tree, d.Pos.File) {
			found++
		}
	}
	if found > 0 {
		p.page(p.err).signal(faulttree.Warning, fmt.Sprintf("This handbook has %s in what is walked here. Do not rely on it before check is clean: faultwright-cli check %s", view.Count(found, "error"), p.content))
	}
	return nil
}
