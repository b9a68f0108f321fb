package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/faulttree/practice"
)

type handInCommand struct {
	Assignment string   `arg:"" help:"The assignment that was handed out."`
	Attempts   []string `arg:"" optional:"" name:"attempt" help:"The attempts that are yours, where everybody has the same vehicle and others practise on this computer."`

	Name  string `placeholder:"NAME" required:"" help:"Your name, as the instructor knows it. It is all that the file says of you."`
	Mine  bool   `help:"All attempts on record on this computer are yours."`
	Out   string `placeholder:"FILE" help:"Write the file to hand in here; by itself it is called by your name, as in attempt-Wren-Ash.zip."`
	Force bool   `help:"Replace the file if it is there."`
}

func (c handInCommand) Help() string {
	return "Gathers your attempts at an assignment from those on record on this computer into one file. At each scenario the first attempt with a conclusion counts. Where every learner has a vehicle of his own, your name tells which are yours."
}

func (c handInCommand) Run(p *program, lib *content.Library) error {
	a, err := readAssignment(c.Assignment)
	if err != nil {
		return err
	}
	scenarios, err := a.Scenarios(p.ctx, lib)
	if err != nil {
		return bad("%v", err)
	}
	tries, err := c.tries(p, a)
	if err != nil {
		return err
	}
	f, missing := a.HandIn(lib, c.Name, tries, p.now())
	for _, task := range missing {
		p.note(c.missingLine(scenarios[task].ID, scenarios[task].Title))
	}
	if len(f.Attempts) == 0 {
		return bad("there is no attempt of %s at this assignment on record", c.Name)
	}
	raw, err := f.Bytes()
	if err != nil {
		return bad("%v", err)
	}
	return p.put(cmp.Or(c.Out, class.FileName("attempt", c.Name)+".zip"), c.Force, "Your attempt", func(w io.Writer) error { _, err := w.Write(raw); return err })
}

// tries is the attempts on record that were named. Without names it is all of those
// that can only be this learner's: where everybody has the same vehicle, another
// one's may be on record here too.
func (c handInCommand) tries(p *program, a *class.Assignment) ([]practice.Attempt, error) {
	records, err := p.attempts()
	if err != nil {
		return nil, bad("%v", err)
	}
	defer records.Close()
	all, err := records.List()
	if err != nil {
		return nil, bad("%v", err)
	}
	ids := c.Attempts
	var possible []string
	for _, s := range all {
		task, ok := a.Task(s.Header.Case)
		switch {
		case s.Err != nil || !ok, s.Header.For != "" && s.Header.For != a.For(c.Name):
		case len(c.Attempts) == 0 && (c.Mine || a.Tasks[task].Own || s.Header.For != ""):
			ids = append(ids, s.ID)
		default:
			possible = append(possible, fmt.Sprintf("%s (%s)", s.ID, s.Header.Case))
		}
	}
	if len(ids) == 0 && len(possible) > 0 {
		slices.Sort(possible)
		return nil, bad("everybody has the same vehicles, so that these attempts on record may be somebody else's: %s; name yours, or give --mine if all are", list(possible))
	}
	var out []practice.Attempt
	for _, id := range ids {
		kept, err := records.Read(id)
		if err != nil && len(c.Attempts) > 0 {
			return nil, bad("the attempt %s cannot be read: %v", id, err)
		}
		if err != nil {
			continue
		}
		for _, d := range kept.Doubts() {
			p.note(id + ": " + d.String())
		}
		out = append(out, kept.Attempt)
	}
	if len(out) == 0 {
		return nil, errors.New("there are no attempts at this assignment on record")
	}
	return out, nil
}
