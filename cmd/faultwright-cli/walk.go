package main

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"faultwright/content"
	"faultwright/content/check"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/source"
	"faultwright/faulttree/visit"
)

type walkCommand struct {
	Tree     string            `arg:"" optional:"" help:"Which walk, such as body-voltage."`
	Role     string            `enum:"owner,qualified" default:"owner" help:"Who reads: owner, or qualified to work inside energised enclosures."`
	From     string            `placeholder:"STEP" help:"Begin at this step instead of the first."`
	Readings string            `placeholder:"FILE" help:"Take the readings from this YAML or JSON file instead of asking; - is standard input."`
	Fact     map[string]string `placeholder:"NAME=CHOICE" help:"What is known without a meter, such as service=30a; may be given several times."`
	JSON     bool              `name:"json" help:"Print the walk as JSON."`
	Resume   string            `placeholder:"VISIT" help:"Go on with a visit on record."`
	Retest   bool              `help:"With --resume: begin the test after repair."`
	NoRecord bool              `help:"Ask without keeping a record of the visit."`
	Site     string            `help:"Where: for the sheet."`
	Vehicle  string            `help:"Which vehicle: for the sheet."`
	Own      string            `placeholder:"VEHICLE" help:"It is one of your own vehicles, by its name or id: what is known of it and stays the same is not asked."`
	Note     string            `help:"A remark for the sheet."`
	Meter    string            `placeholder:"METER" help:"The meter that is read with: one of yours, by the name that the window's settings keep it under, or a file with lines of its booklet. Without it an ordinary one."`
}

func (c walkCommand) Help() string {
	return "Without --readings each step is asked in the terminal and every answer is put on record before the next step is shown. " +
		"With --readings acts count as done, a question takes its answer from walk#step, a quantity with a list takes its readings in order, facts come from --fact or from facts: in the file, and what is not said ends the walk with exit code 3."
}

func (c walkCommand) Run(p *program) error {
	switch {
	case c.Resume != "" && (c.Tree != "" || c.From != "" || c.Readings != "" || len(c.Fact) > 0 || c.NoRecord || c.Own != "" || c.Meter != ""):
		return bad("--resume goes on with a visit as it was begun; leave off the walk, --from, --fact, --readings, --own, --meter and --no-record")
	case c.Retest && c.Resume == "":
		return bad("--retest needs --resume and the visit whose repair is to be tested")
	case c.Resume == "" && c.Tree == "":
		return bad("which walk? Try: faultwright-cli walk body-voltage, or show walks for the list")
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	if c.Resume != "" {
		return c.resume(p, lib)
	}
	start, err := startOf(lib, c.Tree, c.From)
	if err != nil {
		return err
	}
	if err := p.walkable(lib, start); err != nil {
		return err
	}
	role, _ := faulttree.ParseRole(c.Role)
	mine, err := c.takeOwn(p, lib.Forest, start.Tree)
	if err != nil {
		return err
	}
	if err := c.checkFacts(lib.Forest, start.Tree); err != nil {
		return err
	}
	m, err := c.meter(p, mine)
	if err != nil {
		return err
	}
	if c.Readings != "" {
		return c.batch(p, lib, start, role, m)
	}
	return c.begin(p, lib, visit.Header{
		Start: start, Role: role, Meter: m, Started: p.now(), Content: lib.Fingerprint(),
		Details: visit.Details{Site: c.Site, Vehicle: cmp.Or(c.Vehicle, mine.Name), Note: c.Note}, Vehicle: mine.ID,
	})
}

// takeOwn is the reader's own vehicle that was named, if any, and takes of its facts what
// lasts and was not given otherwise.
func (c *walkCommand) takeOwn(p *program, f *faulttree.Forest, tree string) (v logbook.Vehicle, err error) {
	if c.Own == "" {
		return v, nil
	}
	book, err := p.logbook()
	if err != nil {
		return v, err
	}
	defer book.Close()
	if v, err = own(book, c.Own); err != nil {
		return v, err
	}
	facts := v.Lasting(f)
	maps.DeleteFunc(facts, func(id, choice string) bool {
		fixed := f.Tree(tree).Facts[id]
		if fixed != "" && fixed != choice {
			p.note("The walk " + tree + " is for " + id + " " + fixed + "; of " + v.Name + " is noted " + choice + ". Make sure that it is the right one.")
		}
		return f.NamedFor(tree, id)
	})
	maps.Copy(facts, c.Fact)
	c.Fact = facts
	return v, nil
}

// meter is the meter that was named, or else that of the reader's own vehicle, where it is
// one of his.
func (c *walkCommand) meter(p *program, mine logbook.Vehicle) (faulttree.Meter, error) {
	if c.Meter != "" || mine.Meter == "" {
		return p.meter(c.Meter)
	}
	for _, own := range p.ownMeters() {
		if own.Name == mine.Meter {
			p.note("read with the meter of " + mine.Name + ", " + own.Name)
			return own.Meter, nil
		}
	}
	return p.meter("")
}

// checkFacts says what is wrong with the facts given to a walk of a tree.
func (c walkCommand) checkFacts(f *faulttree.Forest, tree string) error {
	if err := checkFacts(f, c.Fact); err != nil {
		return err
	}
	for _, id := range slices.Sorted(maps.Keys(c.Fact)) {
		if fixed := f.Tree(tree).Facts[id]; fixed != "" && fixed != c.Fact[id] {
			return bad("the walk %s is for %s %s, not %s", tree, id, fixed, c.Fact[id])
		}
	}
	return nil
}

// batch walks with the readings of a file.
func (c walkCommand) batch(p *program, lib *content.Library, start faulttree.Ref, role faulttree.Role, m faulttree.Meter) error {
	in, done, err := p.readingsFile(c.Readings)
	if err != nil {
		return err
	}
	defer done()
	supplied, diags := load.Readings(in, fileName(c.Readings), lib.Forest)
	if err := p.refused(diags); err != nil {
		return err
	}
	walk, err := faulttree.Begin(lib.Forest, start, role, m)
	if err != nil {
		return bad("%v", err)
	}
	for id, choice := range c.Fact {
		if supplied.Facts == nil {
			supplied.Facts = map[string]string{}
		}
		supplied.Facts[id] = choice
	}
	walk, next, err := walk.Supply(supplied)
	if err != nil {
		return bad("%v", err)
	}
	if c.JSON {
		if err := writeJSON(p.out, walkOf(c.Tree, walk, next, p.parting(lib, walk))); err != nil {
			return err
		}
	} else {
		p.writeWalk(lib, walk, next)
	}
	if next != "" {
		return ended(exitRanOut)
	}
	return nil
}

// writeWalk writes a finished or stopped walk for reading: what can hurt first,
// then the way, then the finding or what is wanted.
func (p *program) writeWalk(lib *content.Library, w faulttree.Walk, next string) {
	g := p.page(p.out)
	if ref, stopped := w.Stop(); stopped {
		g.stop(lib.Forest.Step(ref).Title)
		g.blank()
	}
	g.given(lib, w)
	g.trail(lib, w)
	if len(w.Trail()) > 0 {
		g.blank()
	}
	if v, ok := view.FindingOf(lib, w); ok {
		g.followed(v, p.parting(lib, w))
		return
	}
	if q, ok := lib.Forest.Quantities[next]; ok {
		g.labelled("Wanted next", next+", "+q.Title+", in "+q.Unit.String())
	} else if s := w.Step(); s != nil {
		g.labelled("Wanted next", next+", "+s.Title)
		for _, c := range s.Choices {
			g.hanging("  "+c.ID+": ", "    ", c.Text)
		}
	}
}

// parting is where the finding of a walk and what fits its readings part. Where that
// cannot be worked out it is noted, and the finding stands by itself.
func (p *program) parting(lib *content.Library, w faulttree.Walk) view.Parting {
	result, ended := w.Finding()
	if !ended {
		return view.Parting{}
	}
	fits, err := p.reasoning(lib, w.Meter()).Fits(p.ctx, w, 0)
	if err != nil {
		p.note("what fits the readings is not beside the finding: " + err.Error())
	}
	if fits == nil {
		return view.Parting{}
	}
	return view.PartingOf(lib, result, *fits)
}

// followed writes a finding, and above it where it and what fits its readings part:
// the safer is followed.
func (g page) followed(v view.Finding, parting view.Parting) {
	if parting.Text != "" {
		g.signal(parting.Signal(), parting.Text)
		g.blank()
	}
	g.finding(v.After(parting))
}

// branchesIntact are the rules whose breach leaves every branch of a tree as it
// was written: a text, a reference or a source is at fault.
var branchesIntact = []string{
	load.RuleUnknownCard, load.RuleUnknownCaution, load.RuleUnknownFault, load.RuleUnknownSource, load.RuleUnknownRelated,
	load.RuleBrokenLink, load.RuleUnknownFigure, load.RuleUnsourcedBound, load.RuleUnsourcedNumber, load.RuleTextOutsideSteps,
}

// walkable refuses to walk where a document the walk could come through could
// not be read as it is meant: a branch may be missing from it. Of every other
// error there it warns, the proofs' included, for a handbook that is not the
// shipped one.
func (p *program) walkable(lib *content.Library, start faulttree.Ref) error {
	var errs source.List
	for _, d := range lib.Diagnostics {
		within := lib.Concerns(start.Tree, d.Pos.File) || !d.Pos.IsValid()
		if d.Severity == source.Error && within && !slices.Contains(branchesIntact, d.Rule) {
			errs = append(errs, d)
		}
	}
	if len(errs) > 0 {
		return failure{exitBadInput, fmt.Errorf("this walk has errors and is not taken until they are mended:\n%w", errs.Err())}
	}
	if p.content == "" {
		return nil
	}
	found := 0
	for _, d := range check.Library(p.ctx, lib) {
		if d.Severity == source.Error && lib.Concerns(start.Tree, d.Pos.File) {
			found++
		}
	}
	if found > 0 {
		p.page(p.err).signal(faulttree.Warning, fmt.Sprintf("This handbook has %s in what is walked here. Do not rely on it before check is clean: faultwright-cli check %s", view.Count(found, "error"), p.content))
	}
	return nil
}
