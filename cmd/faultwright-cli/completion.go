package main

import (
	_ "embed"
	"fmt"
	"maps"
	"slices"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit/store"
	window "faultwright/gui/session"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

func (c completionCommand) Help() string {
	return "bash: source <(faultwright-cli completion bash); zsh: put the output into a file _faultwright-cli on the fpath; fish: faultwright-cli completion fish | source."
}

func (c completionCommand) Run(p *program) error {
	_, err := fmt.Fprint(p.out, map[string]string{"bash": bashScript, "zsh": zshScript, "fish": fishScript}[c.Shell])
	return err
}

// namesCommand prints the names a shell completes, one a line.
type namesCommand struct {
	Kind string `arg:"" enum:"trees,visits,vehicles,meters,scenarios,all"`
}

func (c namesCommand) Run(p *program) error {
	out, err := c.names(p)
	for _, name := range out {
		fmt.Fprintln(p.out, clean(name))
	}
	return err
}

func (c namesCommand) names(p *program) ([]string, error) {
	switch c.Kind {
	case "visits":
		records, err := p.records()
		if err != nil {
			return nil, err
		}
		defer records.Close()
		all, err := records.List()
		return lists.Each(all, func(v store.Summary) string { return v.ID }), err
	case "vehicles":
		book, err := p.logbook()
		if err != nil {
			return nil, err
		}
		defer book.Close()
		all, _, err := book.List()
		return lists.Each(all, func(v logbook.Vehicle) string { return v.ID }), err
	case "meters":
		return lists.Each(p.ownMeters(), func(m window.OwnMeter) string { return m.Name }), nil
	}
	lib, err := p.library()
	switch {
	case err != nil:
		return nil, err
	case c.Kind == "trees":
		return lib.Forest.Beginnings(), nil
	case c.Kind == "scenarios":
		return slices.Sorted(maps.Keys(lib.Scenarios)), nil
	}
	return names(lib), nil
}

//go:embed completion.bash
var bashScript string

//go:embed completion.zsh
var zshScript string

//go:embed completion.fish
var fishScript string
