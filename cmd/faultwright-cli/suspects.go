package main

import (
	"context"
	"errors"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
)

type suspectsCommand struct {
	Told      []string          `arg:"" optional:"" name:"reading" help:"QUANTITY=READING, or words of a list such as L1-N 121.3; - reads a list from standard input."`
	Fact      map[string]string `placeholder:"NAME=CHOICE" help:"What is known without a meter, such as service=30a; may be given several times."`
	Readings  string            `placeholder:"FILE" help:"Take what is told from this YAML or JSON file; - is standard input."`
	Seen      map[string]string `placeholder:"OBSERVATION=CHOICE" help:"What was seen, smelled or felt, such as smell=plug; may be given several times."`
	Tried     map[string]string `placeholder:"INTERVENTION=gone|still" help:"What was tried, and whether the complaint was gone after it; may be given several times."`
	Complaint string            `placeholder:"WALK" help:"The walk whose complaint brought you, such as trips: what makes it is likelier, and what was tried is judged by it."`
	At        string            `placeholder:"PLACE" help:"Where the readings of a list were taken that say no place, such as pedestal."`
	State     string            `placeholder:"STATE" help:"How the vehicle stood for them: nothing-plugged-in, plugged-in, loads-on, plug-pulled, main-off or at-rest."`
	Unit      string            `placeholder:"UNIT" help:"What was measured where they do not say it: V, ohms or A."`
	Role      string            `enum:"owner,qualified" default:"owner" help:"Who reads next: owner, or qualified to work inside energised enclosures."`
	Meter     string            `placeholder:"METER" help:"The meter that is read with: one of yours, by the name that the window's settings keep it under, or a file with lines of its booklet. Without it an ordinary one."`
	Tool      []string          `placeholder:"TOOL" help:"What is at hand beside a multimeter: clamp, dc-clamp or low-impedance; may be given several times."`
	JSON      bool              `name:"json" help:"Print what fits as JSON."`
}

func (c suspectsCommand) Help() string {
	return "Which faults fit an account of a vehicle, in any order: the complaint, readings, what was seen, what was tried. Which dangers are still open, and what would tell most next. A reading with a question mark behind it is doubtful. " +
		"A file is of the form that walk takes. A reading there may have marks, as in {reading: 118 V, doubtful: true, told: true, round: 1}: not sure; told by somebody else; after how many repairs, of which the last round counts. complaint: trips, seen: {smell: plug} and tried: {another-cord: gone} say there what the options say here. " +
		"show NAME lists the choices of an observation. In the JSON stop is there where a reading has reached a danger limit: do what it says first. The exit code is 2 if something of the account cannot be read."
}

func (c suspectsCommand) Run(p *program, lib *content.Library) error {
	m, err := p.meter(c.Meter)
	if err != nil {
		return err
	}
	account, err := c.account(p, lib, m)
	alarms := view.AlarmsOf(lib, account, m)
	out := fitting{account: account, alarms: alarms, rows: view.RowsOf(lib, account, m)}
	g := p.page(p.out)
	if !c.JSON { // before the vehicles are worked out
		g.alarms(alarms)
	}
	tools, unheard := suspect.ToolsOf(c.Tool)
	if err == nil && unheard != "" {
		err = unknown("tool", unheard, suspect.ToolIDs())
	}
	if m.LowImpedance {
		tools |= suspect.LowImpedance
	}
	role, _ := faulttree.ParseRole(c.Role)
	if err == nil {
		err = out.workOut(p.ctx, p.reasoning(lib, m), role, tools)
	}
	if err != nil {
		if c.JSON { // there is no JSON to say it
			p.page(p.err).alarms(alarms)
		}
		return err
	}
	if c.JSON {
		for _, row := range out.rows {
			if row.WhyNot != "" {
				p.note(row.Text())
			}
		}
		if out.words.NotWeighed != "" {
			p.note(out.words.NotWeighed)
		}
		return writeJSON(p.out, jsonOf(out, m))
	}
	g.fitting(lib, out)
	return nil
}

// fitting is what fits an account.
type fitting struct {
	account view.Account
	rows    []view.AccountRow
	alarms  []view.Alarm
	belief  *suspect.Belief
	implied []drawn.Implied
	words   view.Suspects
	next    []view.Next
}

// workOut finds what fits, and what a reader of a role who has some tools should
// find out next.
func (f *fitting) workOut(ctx context.Context, r *scenes.Reasoning, role faulttree.Role, tools suspect.Tools) error {
	var err error
	if f.belief, err = r.Belief(ctx, f.account); err == nil {
		f.implied, f.words = r.Implied(f.account), r.Worded(f.account, f.belief)
		f.next, err = r.Next(ctx, f.account, f.belief, role, tools)
	}
	if errors.Is(err, drawn.ErrNoRig) {
		return bad("%s A fact is left open by leaving off its --fact, or its line in facts: of the file.", r.NoVehicle(f.account))
	}
	return err
}

// alarms writes what is to be done at once.
func (g page) alarms(all []view.Alarm) {
	for _, a := range all {
		g.stop(a.Title)
		for _, text := range a.Texts {
			g.para("", text)
		}
		for _, do := range a.Do {
			g.hanging("- ", "  ", do)
		}
		g.labelled("That walk", "faultwright-cli walk "+a.Walk.ID)
		g.blank()
	}
}

// mostNext is how many things worth finding out next are shown.
const mostNext = 3

// fitting writes what fits, what is still open and what to find out next.
func (g page) fitting(lib *content.Library, f fitting) {
	if c := view.ComplaintOf(lib, f.account); c.Known != "" {
		g.hanging("", "    ", c.Name+": "+c.Known)
	}
	for _, row := range f.rows {
		g.hanging("", "    ", row.Text())
	}
	if len(f.rows) > 0 {
		g.blank()
	}
	v := f.words
	for _, said := range v.Taken() {
		g.para("", said)
		g.blank()
	}
	if v.None != nil && v.None.Leads {
		g.hanging("", "    ", v.None.Title+", "+v.None.Share)
		g.para("    ", v.None.Text)
	}
	for _, s := range v.Likely {
		g.suspect(s)
	}
	if v.None != nil && !v.None.Leads {
		g.hanging("", "    ", v.None.Title+", "+v.None.Share)
	}
	g.brief(suspect.NotTested, v.Untested)
	g.brief(suspect.Unlikely, v.Unlikely)
	g.blank()
	g.para("", view.OpenHeading)
	for _, n := range v.Open {
		g.hanging("- ", "  ", n.Text())
	}
	if v.MoreOpen != "" {
		g.hanging("- ", "  ", v.MoreOpen+": "+v.RestOpen)
	}
	g.blank()
	g.next(view.FirstNext(f.next, mostNext))
	if ways := view.Ways(lib, f.account, v); len(ways) > 0 {
		g.para("", "Walk the tree with these readings")
		for _, w := range ways {
			g.hanging("- ", "  ", w.Title+": faultwright-cli walk "+w.ID)
		}
		g.blank()
	}
	g.para("", view.SharesRestOn+" "+view.ClearsNone)
}

// mostBrief is how many suspects are named of those that are unlikely or not tested;
// the dangers among them stand below all the same.
const mostBrief = 5

// brief names suspects of which nothing more is said, each title once.
func (g page) brief(word suspect.Likely, all []view.Suspect) {
	var titles []string
	for _, s := range all {
		if title := s.Headline(); !slices.Contains(titles, title) {
			titles = append(titles, title)
		}
	}
	if len(titles) == 0 {
		return
	}
	text := word.String() + ": " + strings.Join(titles[:min(mostBrief, len(titles))], "; ")
	if more := len(titles) - mostBrief; more > 0 {
		text += "; and " + itoa(more) + " more, which --json lists"
	}
	g.hanging("", "    ", text)
}

// suspect writes one suspect, and what is to be done about it.
func (g page) suspect(s view.Suspect) {
	g.hanging("", "    ", s.Text())
	if len(s.Do) > 0 {
		g.signal(s.Signal, strings.Join(s.Do, " "))
	}
	if s.RepairBy != "" {
		g.para("    ", view.RepairHeading+": "+s.RepairBy)
	}
	if s.Worst != "" {
		g.para("    ", s.Worst)
	}
}

// next writes what would tell most, and how it is told.
func (g page) next(all []view.Next) {
	if len(all) == 0 {
		return
	}
	g.para("", "What would tell most next")
	for _, n := range all {
		how := n.Of.ID() + "="
		switch {
		case n.Of.Observation != nil:
			how = "--seen " + how + strings.Join(n.Of.Observation.ChoiceIDs(), "|")
		case n.Of.Intervention != nil:
			how = "--tried " + how + strings.Join(cameOf, "|")
		}
		title := n.Title
		if n.Live {
			title += " (live)"
		}
		g.hanging("- ", "  ", title+" ["+how+"]")
		g.para("  ", strings.TrimSpace(n.Before+" "+n.Why))
	}
	g.blank()
}
