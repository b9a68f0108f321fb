package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"sync"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// shipped is the handbook inside the program, read once.
var shipped = sync.OnceValue(load.Shipped)

// reasoned reasons with it; vehicles are drawn once.
var reasoned = sync.OnceValue(func() *scenes.Reasoning {
	return scenes.NewReasoning(shipped(), faulttree.DefaultMeter(), nil)
})

// reasoning says what fits readings of a meter by the handbook in use.
func (p *program) reasoning(lib *content.Library, m faulttree.Meter) *scenes.Reasoning {
	if lib == shipped() && m.Nameless() == faulttree.DefaultMeter().Nameless() {
		return reasoned()
	}
	return scenes.NewReasoning(lib, m, nil)
}

// library loads the handbook in use.
func (p *program) library() (*content.Library, error) {
	if p.content == "" {
		return shipped(), nil
	}
	lib, err := load.Dir(p.ctx, p.content)
	if err != nil {
		return nil, failure{exitBadInput, err}
	}
	return lib, nil
}

// startOf is the step a walk of tree begins at: from, which may name a step
// of this or another tree, or the tree's own start.
func startOf(lib *content.Library, tree, from string) (faulttree.Ref, error) {
	t := lib.Forest.Tree(tree)
	if t == nil {
		return faulttree.Ref{}, unknown("walk", tree, lib.Forest.Beginnings())
	}
	if from == "" {
		return faulttree.Ref{Tree: tree, Step: t.Start}, nil
	}
	ref := faulttree.ParseRef(from, tree)
	s := lib.Forest.Step(ref)
	if s == nil {
		var steps []string
		for _, s := range t.Steps {
			steps = append(steps, s.ID, s.Ref().String())
		}
		return ref, unknown("step", from, steps)
	}
	if s.Tree == t.Own() {
		return faulttree.Ref{Tree: tree, Step: s.ID}, nil // which may be a name that knows facts
	}
	return s.Ref(), nil
}

// unknown is the error for a name that is not there, with the nearest one
// that is.
func unknown(what, name string, candidates []string) error {
	return lacking("there is no "+what, "there are", name, candidates)
}

// lacking is the error for a name that is not among some, with the nearest one that is,
// or all where they are few.
func lacking(none, those, name string, candidates []string) error {
	if hint := source.DidYouMean(name, candidates); hint != "" {
		return bad("%s %q; %s", none, name, hint)
	}
	if len(candidates) > 0 && len(candidates) <= 12 {
		return bad("%s %q; %s %s", none, name, those, list(candidates))
	}
	return bad("%s %q", none, name)
}

// standardInput is how an option names it in place of a file.
const standardInput = "-"

// readingsFile opens a file of readings, or standard input, until it is done with.
func (p *program) readingsFile(name string) (in io.Reader, done func(), err error) {
	if name == standardInput {
		return p.in, func() {}, nil
	}
	file, err := openPlain(name)
	if err != nil {
		return nil, nil, bad("the readings in %v; with - they are read from standard input", err)
	}
	return file, func() { file.Close() }, nil
}

// fileName is what a file of readings is called in what is said of it.
func fileName(name string) string {
	if name == standardInput {
		return "standard input"
	}
	return name
}

// refused ends the program over what is wrong in a file, if anything.
func (p *program) refused(diags source.List) error {
	if len(diags) == 0 {
		return nil
	}
	for _, d := range diags {
		fmt.Fprintln(p.err, clean(d.String()))
	}
	return ended(exitBadInput)
}

// note says something beside the output.
func (p *program) note(text string) { fmt.Fprintln(p.err, "faultwright-cli:", clean(text)) }

// checkFacts says what is wrong with facts that are given.
func checkFacts(f *faulttree.Forest, given map[string]string) error {
	for _, id := range slices.Sorted(maps.Keys(given)) {
		fact := f.Fact(id)
		if fact == nil {
			ids := lists.Each(f.Facts, func(f faulttree.Fact) string { return f.ID })
			return unknown("fact", id, ids)
		}
		if !fact.Has(given[id]) {
			return bad("the fact %s cannot be %q; expected one of %s", id, given[id], list(faulttree.ChoiceIDs(fact.Choices)))
		}
	}
	return nil
}
