package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"faultwright/content/check"
	"faultwright/content/load"
	"faultwright/content/plainfile"
	"faultwright/content/view"
	"faultwright/faulttree/source"
)

type checkCommand struct {
	Path  string `arg:"" optional:"" help:"The folder of a handbook, one file of it, a scenario, or a file of readings; without it the handbook in use is checked."`
	JSON  bool   `name:"json" help:"Print the diagnostics as JSON."`
	Deep  bool   `help:"Also send drawn vehicles down every tree: false all-clears, every cannot_exclude that is not what the walks show, and the findings that no walk reaches."`
	Walks string `placeholder:"FOLDER" help:"With --deep: readings files TREE-….yaml, whose findings count as reached. A file begins in the tree with whose id it has the most words in common."`
}

func (c checkCommand) Help() string {
	return "Reports every error of the documents and of the trees as file:line:column: error: message, with files relative to the folder. The exit code is 1 if there is any. " +
		"One file of a handbook is checked with the rest of its folder, and what is wrong with that file is said; a scenario by itself and a file of readings, .yaml or .json, are checked against the handbook in use. " +
		"With --deep it takes up to a minute for each tree, and only where there are no other errors."
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

// What check --deep draws for each tree: some hundred vehicles for each dangerous
// fault. The handbook's lists of what remains are made from this draw; another one
// can differ in what one vehicle in hundreds shows.
const (
	deepRigs = 20000
	deepSeed = 7
)

func (c checkCommand) Run(p *program) error {
	diags, what, err := c.check(p)
	if err != nil {
		return err
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
		var count [source.Notice + 1]int
		for _, d := range diags {
			count[d.Severity]++
			fmt.Fprintln(p.out, clean(d.String()))
		}
		notices := ""
		if n := count[source.Notice]; n > 0 {
			notices = ", " + view.Count(n, "notice")
		}
		fmt.Fprintf(p.err, "%s, %s%s in %s\n", view.Count(count[source.Error], "error"), view.Count(count[source.Warning], "warning"), notices, clean(what))
	}
	if diags.HasErrors() {
		return ended(exitErrors)
	}
	return nil
}

// check is what is wrong, and the words for what was checked.
func (c checkCommand) check(p *program) (source.List, string, error) {
	if c.Path == "" {
		return c.handbook(p)
	}
	path := c.Path
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, "", bad("there is nothing to check: %v", err)
	case info.IsDir():
		p.content = path
		return c.handbook(p)
	case !info.Mode().IsRegular():
		return nil, "", bad("%s is neither a folder nor a plain file", path)
	case c.Deep:
		return nil, "", bad("--deep is for a whole handbook, not for the file %s", path)
	}
	if root, name, ok := partOf(path); ok {
		p.content = root
		all, _, err := c.handbook(p)
		return slices.DeleteFunc(all, func(d source.Diagnostic) bool { return d.Pos.File != name }), name, err
	}
	return c.alone(p, path)
}

// handbook checks all of the handbook in use.
func (c checkCommand) handbook(p *program) (source.List, string, error) {
	lib, err := p.library()
	if err != nil {
		return nil, "", err
	}
	reached, err := walkedByHand(lib, c.Walks)
	if err != nil {
		return nil, "", err
	}
	diags := check.Library(p.ctx, lib)
	if c.Deep && !diags.HasErrors() {
		diags = append(diags, check.Deep(p.ctx, lib, deepRigs, deepSeed, reached)...)
		diags.Sort()
	}
	holds := []string{
		view.Count(len(lib.Forest.Trees), "tree"), view.Count(len(lib.Cards), "card"), view.Count(len(lib.Cautions), "caution"),
		view.Count(len(lib.Faults), "fault"), view.Count(len(lib.Sources), "source"), view.Count(len(lib.Rigs), "rig"),
		view.Count(len(lib.Scenarios), "scenario"),
	}
	return diags, strings.Join(holds, ", "), nil
}

// partOf is the handbook that a file lies in, and the file's name there.
func partOf(path string) (root, name string, ok bool) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", "", false
	}
	for _, root := range []string{filepath.Dir(full), filepath.Dir(filepath.Dir(full))} {
		if info, err := os.Stat(filepath.Join(root, "quantities.yaml")); err == nil && info.Mode().IsRegular() {
			name, err := filepath.Rel(root, full)
			return root, filepath.ToSlash(name), err == nil
		}
	}
	return "", "", false
}

// alone checks a file that belongs to no handbook.
func (c checkCommand) alone(p *program, path string) (source.List, string, error) {
	lib, err := p.library()
	if err != nil {
		return nil, "", err
	}
	file, err := openPlain(path)
	if err != nil {
		return nil, "", bad("%v", err)
	}
	defer file.Close()
	switch strings.ToLower(filepath.Ext(path)) {
	case ".yaml", ".yml", ".json":
		_, diags := load.Account(file, path, lib.Forest) // all that a file of readings may tell
		return diags, path, nil
	case ".md":
		_, diags := load.Scenario(p.ctx, lib, path, file, nil)
		return diags, path, nil
	}
	return nil, "", bad("%s is no file of a handbook, no scenario (.md) and no file of readings (.yaml, .json)", path)
}

// openPlain opens a plain file for reading and words what went wrong.
func openPlain(path string) (*os.File, error) {
	file, err := plainfile.Open(path)
	if at := (*fs.PathError)(nil); errors.As(err, &at) {
		err = at.Err
	}
	if err != nil {
		return nil, fmt.Errorf("%s cannot be opened: %w", path, err)
	}
	return file, nil
}
