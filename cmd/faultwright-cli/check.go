package main

import (
	"fmt"

	"faultwright/content/check"
	"faultwright/faulttree/source"
)

type checkCommand struct {
	Dir   string `arg:"" optional:"" help:"The folder of a handbook; without it the one in use is checked."`
	JSON  bool   `name:"json" help:"Print the diagnostics as JSON."`
	Deep  bool   `help:"Also send drawn vehicles down every tree: false all-clears, every cannot_exclude that is not what the walks show, and the findings that no walk reaches."`
	Walks string `placeholder:"FOLDER" help:"With --deep: readings files TREE-….yaml, whose findings count as reached. A file begins in the tree with whose id it has the most words in common."`
}

func (c checkCommand) Help() string {
	return "Reports every error of the documents and of the trees as file:line:column: error: message, with files relative to the folder. The exit code is 1 if there is any. With --deep it takes up to a minute for each tree, and only where there are no other errors."
}

// jsonDiagnostic is a diagnostic as programs read it.
type jsonDiagnostic struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Severity string `json:"severity"`
	Rule     string `json:"rule"`
	Message  string `json:"message"`
	Hint     string `json:"hint"`
}

// What check --deep draws for each tree: some thousand vehicles for each
// dangerous fault. The handbook's lists are held against this draw; another one
// can differ in what one vehicle in thousands shows.
const (
	deepRigs = 100000
	deepSeed = 7
)

func (c checkCommand) Run(p *program) error {
	if c.Dir != "" {
		p.content = c.Dir
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	reached, err := walkedByHand(lib, c.Walks)
	if err != nil {
		return err
	}
	diags := check.Library(p.ctx, lib)
	if c.Deep && !diags.HasErrors() {
		diags = append(diags, check.Deep(p.ctx, lib, deepRigs, deepSeed, reached)...)
		diags.Sort()
	}
	if c.JSON {
		out := []jsonDiagnostic{}
		for _, d := range diags {
			out = append(out, jsonDiagnostic{d.Pos.File, d.Pos.Line, d.Pos.Column, d.Severity.String(), d.Rule, d.Message, d.Hint})
		}
		if err := writeJSON(p.out, out); err != nil {
			return err
		}
	} else {
		errors, warnings := 0, 0
		for _, d := range diags {
			if d.Severity == source.Error {
				errors++
			} else {
				warnings++
			}
			fmt.Fprintln(p.out, clean(d.String()))
		}
		fmt.Fprintf(p.err, "%d errors, %d warnings in %d trees, %d cards, %d cautions, %d faults, %d sources\n",
			errors, warnings, len(lib.Forest.Trees), len(lib.Cards), len(lib.Cautions), len(lib.Faults), len(lib.Sources))
	}
	if diags.HasErrors() {
		return ended(exitErrors)
	}
	return nil
}
