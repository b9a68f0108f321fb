package main

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

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
