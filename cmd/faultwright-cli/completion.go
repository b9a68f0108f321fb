package main

import (
	_ "embed"
	"fmt"
	"maps"
	"slices"

	"faultwright/content"
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
	Kind string `arg:"" enum:"trees,visits,scenarios,all"`
}

func (c namesCommand) Run(p *program) error {
	var out []string
	if c.Kind == "visits" {
		records, err := p.records()
		if err != nil {
			return err
		}
		defer records.Close()
		all, err := records.List()
		if err != nil {
			return err
		}
		for _, v := range all {
			out = append(out, v.ID)
		}
	} else {
		lib, err := p.library()
		if err != nil {
			return err
		}
		out = completable(lib, c.Kind)
	}
	for _, name := range out {
		fmt.Fprintln(p.out, clean(name))
	}
	return nil
}

func completable(lib *content.Library, kind string) []string {
	switch kind {
	case "trees":
		return lib.Forest.Beginnings()
	case "scenarios":
		return slices.Sorted(maps.Keys(lib.Scenarios))
	}
	return names(lib)
}

//go:embed completion.bash
var bashScript string

//go:embed completion.zsh
var zshScript string

//go:embed completion.fish
var fishScript string
