package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/plainfile"
)

type markCommand struct {
	Folder string `arg:"" help:"The folder with the attempts that were handed in."`

	Assignment string `placeholder:"FILE" help:"The assignment; by itself the one that lies in the folder."`
	HideNames  bool   `help:"Give the learners numbers in place of their names, to show the table to the class."`
	CSV        string `name:"csv" placeholder:"FILE" help:"Write the marks for a spreadsheet to this file."`
	HTML       string `name:"html" placeholder:"FILE" help:"Write the class on one page to this file."`
	Feedback   string `placeholder:"FOLDER" help:"Write what goes back to each learner into this folder, a page for each."`
	JSON       bool   `name:"json" help:"Print everything as JSON."`
	Force      bool   `help:"Replace files that are there."`
}

func (c markCommand) Help() string {
	return "Every reading of every attempt is worked out again from the scenario that was handed out; what was edited or copied is told. Files may have any names, and what is no attempt does no harm."
}

func (c markCommand) Run(p *program, lib *content.Library) (err error) {
	var a *class.Assignment
	if c.Assignment != "" {
		if a, err = readAssignment(c.Assignment); err != nil {
			return err
		}
	}
	all, err := p.collect(lib, c.Folder, a)
	if err != nil {
		return err
	}
	if err := c.write(p, lib, all); err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(p.out, jsonClassOf(lib, all, c.HideNames))
	}
	p.printClass(lib, all, c.HideNames)
	return nil
}

// write writes the files that were asked for.
func (c markCommand) write(p *program, lib *content.Library, all *class.Class) error {
	if err := p.put(c.CSV, c.Force, "The list of marks", func(w io.Writer) error { return all.CSV(w, c.HideNames) }); err != nil {
		return err
	}
	if err := p.put(c.HTML, c.Force, "The class page", func(w io.Writer) error { return paper.Class(w, lib, all, c.HideNames) }); err != nil {
		return err
	}
	if c.Feedback == "" {
		return nil
	}
	if err := os.MkdirAll(c.Feedback, 0o755); err != nil {
		return bad("the feedback cannot be written: %v", err)
	}
	taken := map[string]bool{}
	for _, l := range all.Learners {
		name := filepath.Join(c.Feedback, paper.FeedbackName(l.Name, taken))
		if err := written(name, c.Force, "the feedback", func(w io.Writer) error { return paper.Feedback(w, lib, all, l) }); err != nil {
			return err
		}
	}
	fmt.Fprintf(p.err, "The feedback is in %s\n", clean(c.Feedback))
	return nil
}

// collect verifies and marks the attempts of a folder.
func (p *program) collect(lib *content.Library, folder string, a *class.Assignment) (*class.Class, error) {
	root, err := plainfile.Folder(folder)
	if err != nil {
		return nil, bad("the attempts cannot be read: %v", err)
	}
	defer root.Close()
	all, err := class.Collect(p.ctx, lib, plainfile.FS(root), class.Options{Assignment: a, Zone: p.now().Location(), Tell: p.progress("verify")})
	if errors.Is(err, class.ErrNoAssignment) {
		return nil, bad("%v with --assignment", err)
	}
	if err != nil {
		return nil, bad("%v", err)
	}
	if _, err := p.mark(lib, all); err != nil {
		return nil, err
	}
	return all, nil
}

// marked marks by the handbook inside the program; what was drawn for it is kept.
var marked = sync.OnceValue(func() *class.ByRubric { return class.NewMarker(shipped()) })

// mark marks the attempts of a class and returns what it marks by; nil where the
// handbook has no rubric.
func (p *program) mark(lib *content.Library, all *class.Class) (*class.ByRubric, error) {
	newMarker := marked
	if lib != shipped() {
		newMarker = func() *class.ByRubric { return class.NewMarker(lib) }
	}
	by := newMarker()
	if by == nil {
		p.note("nothing is marked: the handbook has no rubric")
		return nil, nil
	}
	if err := all.Mark(p.ctx, by, p.progress("mark")); err != nil {
		return nil, bad("%v", err)
	}
	return by, nil
}

func readAssignment(name string) (*class.Assignment, error) {
	file, err := plainfile.Open(name)
	if err != nil {
		return nil, bad("the assignment cannot be read: %v", err)
	}
	defer file.Close()
	a, err := class.ReadAssignment(file)
	if err != nil {
		return nil, bad("%s: %v", name, err)
	}
	return a, nil
}
