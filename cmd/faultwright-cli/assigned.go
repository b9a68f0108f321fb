package main

import (
	"fmt"

	"faultwright/content/class"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
)

// assigned is how an attempt at an assignment begins: level, role and vehicle are
// those that the instructor chose.
func (c scenarioPlay) assigned(v *playing) (practice.Header, error) {
	var h practice.Header
	if c.Name == "" {
		return h, bad("an assignment is played under a name; give yours with --name")
	}
	if c.Seed != 0 || c.Role != "auto" || c.Level != "free" {
		return h, bad("the assignment says variant, role and level; leave off --seed, --role and --level")
	}
	a, err := readAssignment(c.Assignment)
	if err != nil {
		return h, err
	}
	if v.lib, err = v.p.library(); err != nil {
		return h, err
	}
	scenarios, err := a.Scenarios(v.p.ctx, v.lib)
	if err != nil {
		return h, bad("%v", err)
	}
	task, ok := a.Task(c.Scenario)
	if !ok {
		return h, unknown("scenario in the assignment", c.Scenario, scenariosOf(a))
	}
	m, err := v.p.meter(c.Meter)
	if err != nil {
		return h, err
	}
	if h, err = a.Begin(v.p.ctx, v.p.reasoning(v.lib, m), task, c.Name, m, v.p.now()); err != nil {
		return h, bad("%v", err)
	}
	v.s, v.assigned, v.held, v.closed, v.help.hints = scenes.VariantOf(scenarios[task], h.Seed), true, a.Held, !a.Open.Handbook, a.Open.Hints
	return h, nil
}

// scenariosOf is the ids of the scenarios of an assignment.
func scenariosOf(a *class.Assignment) []string {
	return lists.Each(a.Tasks, func(t class.Task) string { return t.Scenario })
}

// missingLine says which scenario has no conclusion, and how it is played.
func (c handInCommand) missingLine(scenario, title string) string {
	return fmt.Sprintf("there is no conclusion at “%s” yet; play it with: faultwright-cli scenario play %s --assignment %s --name %q", title, scenario, c.Assignment, c.Name)
}
