package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/plainfile"
)

type replayCommand struct {
	Attempt string `arg:"" help:"The file that a learner handed in."`

	Assignment string `placeholder:"FILE" help:"The assignment; by itself the one that lies beside the attempt."`
	Scenario   string `placeholder:"ID" help:"Only the attempt at this scenario."`
}

func (c replayCommand) Help() string {
	return "Goes through an attempt act by act, every reading worked out again, with what the readings until then tell beside it."
}

func (c replayCommand) Run(p *program, lib *content.Library) (err error) {
	var a *class.Assignment
	if c.Assignment != "" {
		a, err = readAssignment(c.Assignment)
	} else {
		a, err = p.besideOf(c.Attempt)
	}
	if err != nil {
		return err
	}
	if _, ok := a.Task(c.Scenario); c.Scenario != "" && !ok {
		return unknown("scenario in the assignment", c.Scenario, scenariosOf(a))
	}
	file, err := plainfile.Open(c.Attempt)
	if err != nil {
		return bad("the attempt cannot be read: %v", err)
	}
	defer file.Close()
	f, err := class.ReadAttempts(file)
	if err != nil {
		return bad("%s: %v", c.Attempt, err)
	}
	all, err := class.Verify(p.ctx, lib, a, c.Attempt, f)
	if err != nil {
		return bad("%v", err)
	}
	l := all.Learners[0]
	for task, s := range all.Scenarios {
		if c.Scenario != "" && s.ID != c.Scenario {
			l.Tries[task] = nil
		}
	}
	by, err := p.mark(lib, all)
	if err != nil {
		return err
	}
	return p.replay(lib, all, by)
}

// besideOf is the assignment that lies in the folder of a file.
func (p *program) besideOf(name string) (*class.Assignment, error) {
	root, err := plainfile.Folder(filepath.Dir(name))
	if err != nil {
		return nil, bad("the assignment cannot be read: %v", err)
	}
	defer root.Close()
	a, err := class.FindAssignment(p.ctx, plainfile.FS(root))
	if err != nil {
		return nil, bad("%v with --assignment", err)
	}
	return a, nil
}

// replay writes the attempts of the one learner of a class.
func (p *program) replay(lib *content.Library, all *class.Class, by *class.ByRubric) error {
	g := p.page(p.out)
	l := all.Learners[0]
	g.title(l.Name + ": " + all.Assignment.Title)
	for _, text := range l.Remarks {
		g.para("", text)
	}
	for task, x := range l.Tries {
		s := all.Scenarios[task]
		if x == nil {
			continue
		}
		g.blank()
		g.para("", s.Title)
		if x.Edited != "" {
			g.para("", x.Edited)
		}
		var tells []string
		if by != nil {
			var err error
			if tells, err = by.Tell(p.ctx, s, x); err != nil {
				p.note("what the readings tell is not worked out: " + err.Error())
			}
		}
		for _, step := range class.Replay(lib, x, tells) {
			number := ""
			if step.Number > 0 {
				number = fmt.Sprintf("%d.", step.Number)
			}
			g.hanging(fmt.Sprintf("%4s %6s  ", number, paper.Clock(step.At)), strings.Repeat(" ", 13), strings.TrimSpace(step.What+"  "+step.Came))
			if step.Belief != "" {
				g.hanging(strings.Repeat(" ", 13)+"→ ", strings.Repeat(" ", 15), step.Belief)
			}
		}
		if x.Unmarked != "" {
			g.para("  ", x.Unmarked)
		}
		if m := x.Marks; m != nil {
			shape, _ := x.State()
			g.marks(shape+" ", *m)
		}
	}
	return nil
}

// marks writes how an attempt was marked: unsafe acts first, each with what caps it,
// then every part with its reason.
func (g page) marks(shape string, m class.Marks) {
	g.para("  ", fmt.Sprintf("%s%s, %d of 100", shape, m.Word, m.Total))
	for _, cap := range m.Caps {
		g.hanging("  ▲ ", "    ", cap.Text)
	}
	for _, part := range m.Parts {
		g.hanging("  - ", "    ", fmt.Sprintf("%s, %d of %d: %s", part.Title, part.Points, part.Of, part.Reason))
	}
}
