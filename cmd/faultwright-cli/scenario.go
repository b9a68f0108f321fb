package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/suspect"
)

// scenarioCommand is what there is to do with vehicles to practise on.
type scenarioCommand struct {
	List  scenarioList  `cmd:"" help:"List the scenarios."`
	Show  scenarioShow  `cmd:"" help:"Show what a learner is told; with --instructor also what is hidden."`
	Check scenarioCheck `cmd:"" help:"Say whether scenarios can be solved, and whether their words give them away."`
	Order scenarioOrder `cmd:"" help:"Work out what the best order of readings costs, beside which marks are given."`
	Save  scenarioSave  `cmd:"" help:"Write a scenario, or a variant of it, as a file."`
	Play  scenarioPlay  `cmd:"" help:"Find out in the terminal what is wrong with a vehicle."`
}

type scenarioList struct {
	Instructor bool `help:"Tell also of what kind each is, and what is learnt from it."`
	JSON       bool `name:"json" help:"Print the list as JSON, with all that --instructor tells."`
}

// jsonScenario is a scenario as programs read it.
type jsonScenario struct {
	ID     string                 `json:"id"`
	Title  string                 `json:"title"`
	Rig    string                 `json:"rig"`
	Tree   string                 `json:"tree"`
	Role   string                 `json:"role"`
	Kinds  []content.ScenarioKind `json:"kinds"`
	Hazard string                 `json:"hazard"`
	Lesson string                 `json:"lesson"`
}

func (c scenarioList) Run(p *program, lib *content.Library) error {
	all := view.Scenarios(lib)
	if c.JSON {
		out := make([]jsonScenario, 0, len(all))
		for _, s := range all {
			out = append(out, jsonScenario{s.ID, s.Title, s.Rig.ID, s.Tree, s.Role.String(), s.Kinds, s.Hazard.String(), s.Lesson})
		}
		return writeJSON(p.out, out)
	}
	g := p.page(p.out)
	rig := ""
	for _, s := range all {
		if s.Rig.Before() != rig {
			rig = s.Rig.Before()
			g.para("", rig)
		}
		g.hanging("  "+s.ID+"  ", "      ", s.Title)
		if c.Instructor {
			g.hanging("      ", "      ", view.KindsOf(s)+"; "+s.Hazard.String()+"; for "+roleText(s.Role)+". "+s.Lesson)
		}
	}
	return nil
}

func roleText(r faulttree.Role) string {
	if r == faulttree.Owner {
		return "an owner"
	}
	return "somebody qualified"
}

type scenarioShow struct {
	Scenario   string `arg:"" help:"The scenario, as list has it, or a file that ends in .md."`
	Seed       uint64 `help:"Show the variant of this seed; 0 is the scenario as it is written."`
	Instructor bool   `help:"Tell also what is hidden, what is learnt from it, what varies, and the answer."`
}

func (c scenarioShow) Run(p *program) error {
	_, s, err := p.variant(c.Scenario, c.Seed)
	if err != nil {
		return err
	}
	g := p.page(p.out)
	g.scenario(s)
	if c.Instructor {
		g.hidden(s)
	}
	return nil
}

// variant is a scenario with the numbers of a seed.
func (p *program) variant(name string, seed uint64) (*content.Library, *content.Scenario, error) {
	lib, err := p.library()
	if err != nil {
		return nil, nil, err
	}
	s, err := p.scenario(lib, name)
	if err != nil {
		return nil, nil, err
	}
	return lib, scenes.VariantOf(s, seed), nil
}

// hidden writes what an instructor knows of a scenario.
func (g page) hidden(s *content.Scenario) {
	g.blank()
	g.labelled("For", roleText(s.Role))
	g.labelled("Kind", view.KindsOf(s))
	g.labelled("Hazard", s.Hazard.String())
	g.labelled("To be learnt", s.Lesson)
	for _, a := range s.Faults {
		v := a.Fault.Variants[a.Variant]
		text := a.Fault.Title
		if v.Text != "" {
			text += ", " + v.Text
		}
		if a.Fault.Severity != nil {
			text += ", " + a.Fault.Severity.Unit.Format(a.Severity)
		}
		g.labelled("Hidden", text)
	}
	for _, m := range s.Meter {
		g.labelled("Hidden in the meter", m.String())
	}
	for _, i := range slices.Sorted(maps.Keys(s.Values)) {
		g.hanging("  "+s.Rig.Params[i].Name+"  ", "      ", s.Rig.Params[i].Unit.Format(s.Values[i]))
	}
	g.labelled("Answer", s.Answer)
}

type scenarioSave struct {
	Scenario string `arg:"" help:"The scenario, as list has it, or a file that ends in .md."`
	Seed     uint64 `help:"Write the variant of this seed; 0 is the scenario as it is written."`
	Out      string `placeholder:"FILE" default:"-" help:"Write it to this file instead of standard output."`
	Force    bool   `help:"Replace the file if it is there."`
}

func (c scenarioSave) Run(p *program) error {
	lib, s, err := p.variant(c.Scenario, c.Seed)
	if err != nil {
		return err
	}
	if c.Seed != 0 {
		s.ID += "-" + strconv.FormatUint(c.Seed, 10)
	}
	return p.put(c.Out, c.Force, "The scenario", func(w io.Writer) error {
		_, err := io.WriteString(w, load.ScenarioText(lib, s))
		return err
	})
}

type scenarioCheck struct {
	Scenarios []string `arg:"" optional:"" name:"scenario" help:"Scenarios, as list has them, or files that end in .md; by itself all of the handbook."`
	Variants  int      `help:"Solve also so many variants of each."`
	JSON      bool     `name:"json" help:"Print what was found as JSON."`
}

func (c scenarioCheck) Help() string {
	return "Weighs all that a scenario permits to read and to try, by its switches and its role, and says whether what is to be done about the truth holds nine tenths of the belief. Says too where the answer speaks of another fault, and where the story gives the fault away. Exits 1 if something is to be mended."
}

// jsonChecked is what was found of a scenario, as programs read it.
type jsonChecked struct {
	Scenario    string   `json:"scenario"`
	Share       float64  `json:"share"`
	Evidence    int      `json:"evidence"`
	Held        bool     `json:"held"`
	Else        []string `json:"else"`
	Open        []string `json:"open"`
	Unsolved    string   `json:"unsolved"`
	Contradicts []string `json:"contradicts"`
	GivesAway   []string `json:"gives_away"`
	Meter       string   `json:"meter,omitempty"`
	Variants    int      `json:"variants"` // that were solved
	Draws       int      `json:"draws"`    // that it took
}

func (c scenarioCheck) Run(p *program, lib *content.Library) error {
	all := view.Scenarios(lib)
	if len(c.Scenarios) > 0 {
		all = nil
	}
	for _, name := range c.Scenarios {
		s, err := p.scenario(lib, name)
		if err != nil {
			return err
		}
		all = append(all, s)
	}
	r := p.reasoning(lib, faulttree.DefaultMeter())
	found, fine := []jsonChecked{}, true
	g := p.page(p.out)
	for _, s := range all {
		checked, err := r.Check(p.ctx, s)
		if err != nil {
			return bad("%s: %v", s.ID, err)
		}
		one := foundOf(s, checked)
		for seed := 1; seed <= c.Variants; seed++ {
			v, err := r.Variant(p.ctx, s, uint64(seed))
			if err != nil {
				one.Unsolved = strings.TrimSpace(one.Unsolved + " " + view.Sentence(err.Error()))
				break
			}
			one.Variants, one.Draws = one.Variants+1, one.Draws+v.Draws
		}
		fine = fine && one.Unsolved == "" && checked.Fine()
		found = append(found, one)
		if !c.JSON {
			g.checked(s, one, checked.Solved)
		}
	}
	if c.JSON {
		if err := writeJSON(p.out, found); err != nil {
			return err
		}
	}
	if !fine {
		return ended(exitErrors)
	}
	return nil
}

func foundOf(s *content.Scenario, c scenes.Checked) jsonChecked {
	texts := func(all []string) []string { return append([]string{}, all...) }
	out := jsonChecked{Scenario: s.ID, Share: c.Solved.Share, Evidence: c.Solved.Readings, Held: c.Solved.Held(), Else: texts(c.Solved.Else), Open: []string{},
		Unsolved: c.Unsolved, Contradicts: texts(c.Contradicts), GivesAway: texts(c.GivesAway), Meter: c.Meter}
	for _, o := range c.Solved.Open {
		out.Open = append(out.Open, faulttree.FaultAt{Fault: o.Fault, Place: o.Place}.String())
	}
	return out
}

// checked writes what was found of a scenario.
func (g page) checked(s *content.Scenario, f jsonChecked, v scenes.Solved) {
	g.para("", s.ID+": "+s.Title)
	held := fmt.Sprintf("What is permitted, %s, gives %s to what is hidden.", view.Count(f.Evidence, "piece")+" of evidence", view.ShareText(f.Share))
	if s.Is(content.NoFaultHidden) || s.Is(content.MeterMistake) && len(s.Faults) == 0 {
		held += " Nothing clears a vehicle in order."
	}
	g.para("  ", held)
	if len(f.Else) > 0 {
		g.hanging("  What else fits: ", "    ", strings.Join(f.Else, "; "))
	}
	if n := len(v.Open); n > 0 {
		g.hanging("  ", "    ", fmt.Sprintf("Dangers that nothing permitted rules out: %d%s.", n, openText(v.Open)))
	}
	g.labelled("  Meter", f.Meter)
	if f.Draws > 0 {
		g.para("  ", fmt.Sprintf("%s could be solved, of %s.", view.Count(f.Variants, "variant"), view.Count(f.Draws, "draw")))
	}
	for _, text := range append(append([]string{}, f.Contradicts...), f.GivesAway...) {
		g.hanging("  ", "    ", text)
	}
	if f.Unsolved != "" {
		g.hanging("  NOT SOLVED: ", "    ", f.Unsolved)
	}
}

// openText lists the likeliest of some open dangers.
func openText(open []suspect.Open) string {
	const most = 3
	var titles []string
	for _, o := range open {
		titles = lists.With(titles, o.Title)
	}
	return ", the likeliest: " + strings.Join(titles[:min(most, len(titles))], "; ")
}
