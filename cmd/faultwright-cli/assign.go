package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/load"
	"faultwright/content/plainfile"
	"faultwright/faulttree/practice"
)

type assignCommand struct {
	Scenarios []string `arg:"" name:"scenario" help:"Scenarios of the handbook, or files of scenarios that end in .md."`

	Title string `placeholder:"TEXT" default:"Practice" help:"What the assignment is called."`
	Note  string `help:"A remark to the learners."`
	Level string `enum:"free,guided,worked" default:"free" help:"How much the program helps: free, guided or worked."`
	Role  string `placeholder:"ROLE" default:"qualified" help:"As whom the learners work: owner, trainee (with a qualified person beside him at everything live) or qualified."`
	Open  string `placeholder:"LIST" help:"What learners may look at meanwhile: tree, handbook, hints, with commas between."`
	Own   bool   `help:"Give every learner a vehicle of his own: the same fault, other numbers."`
	Seed  uint64 `help:"Give all learners this variant of each vehicle; 0 is as it was written."`
	Hold  bool   `help:"Hold the look back until you release it with the feedback."`
	Due   string `placeholder:"DATE" help:"The day by which it is due, such as 2026-12-04."`

	Out     string `placeholder:"FILE" default:"assignment.zip" help:"Write the assignment to this file."`
	Handout string `placeholder:"FILE" help:"Write the stories for the learners as HTML too."`
	Key     string `placeholder:"FILE" help:"Write the answer key as HTML too."`
	Force   bool   `help:"Replace files that are there."`
}

func (c assignCommand) Help() string {
	return "Puts scenarios into one file to be handed out. Scenarios are carried whole, so that a learner's handbook need not have them. " + paper.HonestLine
}

func (c assignCommand) Run(p *program, lib *content.Library) error {
	var scenarios []*content.Scenario
	for _, name := range c.Scenarios {
		s, err := p.scenario(lib, name)
		if err != nil {
			return err
		}
		scenarios = append(scenarios, s)
	}
	a, err := c.assignment(p)
	if err != nil {
		return err
	}
	made, err := class.NewAssignment(lib, a, scenarios, c.Own, c.Seed)
	if err != nil {
		return bad("%v", err)
	}
	raw, err := made.Bytes()
	if err != nil {
		return bad("%v", err)
	}
	if err := p.put(c.Out, c.Force, made.Called(p.now()), func(w io.Writer) error { _, err := w.Write(raw); return err }); err != nil {
		return err
	}
	if err := p.put(c.Handout, c.Force, "The handout", func(w io.Writer) error { return paper.Handout(w, made, scenarios) }); err != nil {
		return err
	}
	if err := p.put(c.Key, c.Force, "The answer key", func(w io.Writer) error { return paper.Key(w, lib, made, scenarios) }); err != nil {
		return err
	}
	p.page(p.err).para("", paper.HonestLine)
	return nil
}

// assignment is what the options say, without its scenarios.
func (c assignCommand) assignment(p *program) (class.Assignment, error) {
	a := class.Assignment{Title: c.Title, Note: c.Note, Made: p.now(), Due: class.Day(c.Due), Held: c.Hold}
	if c.Own && c.Seed != 0 {
		return a, bad("--own gives every learner another variant, and --seed all the same; give one of them")
	}
	if err := a.Level.UnmarshalText([]byte(c.Level)); err != nil {
		return a, bad("%v", err)
	}
	var err error
	if a.Role, a.Supervised, err = practice.ParseRole(c.Role); err != nil {
		return a, bad("%v", err)
	}
	for _, name := range strings.FieldsFunc(c.Open, func(r rune) bool { return r == ',' || r == ' ' }) {
		switch name {
		case "tree":
			a.Open.Tree = true
		case "handbook":
			a.Open.Handbook = true
		case "hints":
			a.Open.Hints = true
		default:
			return a, unknown("thing that could be open", name, []string{"tree", "handbook", "hints"})
		}
	}
	if a.Level == practice.Guided && !a.Open.Hints {
		a.Open.Hints = true // that is what the level is
	}
	return a, nil
}

// scenario is one of the handbook, or one in a file.
func (p *program) scenario(lib *content.Library, name string) (*content.Scenario, error) {
	if s := lib.Scenarios[name]; s != nil {
		return s, nil
	}
	if !strings.HasSuffix(strings.ToLower(name), ".md") {
		return nil, unknown("scenario", name, slices.Sorted(maps.Keys(lib.Scenarios)))
	}
	file, err := plainfile.Open(name)
	if err != nil {
		return nil, bad("the scenario cannot be read: %v", err)
	}
	defer file.Close()
	s, diags := load.Scenario(p.ctx, lib, name, file, nil)
	if s == nil {
		return nil, p.refused(diags)
	}
	return s, nil
}

// put writes a file that a command makes, and says where it is; no name, no file.
func (p *program) put(name string, force bool, what string, write func(io.Writer) error) error {
	if name == "" {
		return nil
	}
	if name == "-" {
		return write(p.out)
	}
	if err := written(name, force, strings.ToLower(what[:1])+what[1:], write); err != nil {
		return err
	}
	fmt.Fprintln(p.err, what, "is in", clean(name))
	return nil
}

// written writes a file, and says what of it went wrong.
func written(name string, force bool, what string, write func(io.Writer) error) error {
	switch err := writeFile(name, force, write); {
	case errors.Is(err, errThere):
		return bad("%s cannot be written: %s is there already; --force replaces it", what, name)
	case err != nil:
		return bad("%s cannot be written: %v", what, err)
	}
	return nil
}
