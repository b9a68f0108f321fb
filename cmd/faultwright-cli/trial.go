package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/check"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/trial"
)

type trialCommand struct {
	Tree    string  `arg:"" optional:"" help:"The walk to try; without it every walk that has rigs is tried."`
	Rigs    int     `default:"10000" help:"How many vehicles to draw within the scope of a walk; up to a fifth more have a fault outside it."`
	Seed    uint64  `default:"1" help:"What the draws are made from: the same seed gives the same vehicles."`
	Wrong   float64 `placeholder:"SHARE" help:"Let this share of the readings go wrong once: a missed contact, a frozen display, the contact beside. 0.01 is one in a hundred."`
	CSV     string  `name:"csv" placeholder:"FILE" help:"Write the confusion matrix as comma-separated values."`
	Picture string  `placeholder:"FILE" help:"Draw the confusion matrix, as .svg or .png. With several walks the name of each is put before the ending."`
	Exits   bool    `help:"Also say which vehicles took each branch, row and choice of the walk."`
	JSON    bool    `name:"json" help:"Print the report as JSON: an object for one walk, a list for all."`
}

func (c trialCommand) Help() string {
	return "Draws vehicles with faults, severities, loads, soil and meter errors, sends each down the walk as an owner and as a qualified person, and says where they end. The exit code is 1 if a walk ended in a false all-clear."
}

// mostRigs bounds a trial: beyond it nobody would wait.
const mostRigs = 10_000_000

func (c trialCommand) Run(p *program) error {
	if c.Rigs < 1 || c.Rigs > mostRigs {
		return bad("--rigs is from 1 to %d", mostRigs)
	}
	if !(c.Wrong >= 0 && c.Wrong <= trial.MostWrong) {
		return bad("--wrong is a share from 0 to %v", trial.MostWrong)
	}
	if !slices.Contains([]string{"", ".svg", ".png"}, strings.ToLower(filepath.Ext(c.Picture))) {
		return bad("a picture is a file that ends in .svg or .png, not %q", c.Picture)
	}
	lib, err := p.library()
	if err != nil {
		return err
	}
	trees := lib.Tried()
	if c.Tree != "" {
		if lib.Forest.Tree(c.Tree) == nil {
			return unknown("walk", c.Tree, lib.Forest.Beginnings())
		}
		trees = []string{c.Tree}
	}
	if len(trees) == 0 {
		return bad("no rig of the handbook says that a reader of some walk may stand before it")
	}
	if err := c.tryFiles(trees); err != nil {
		return bad("the matrix cannot be written: %v", err)
	}
	var reports []*trial.Report
	for _, tree := range trees {
		if errs := lib.TreeErrors(tree); len(errs) > 0 {
			return bad("the walk %s has errors; check shows them: %s", tree, errs[0])
		}
		r, err := trial.Run(p.ctx, check.TrialOf(lib), tree, trial.Options{Rigs: c.Rigs, Seed: c.Seed, Wrong: c.Wrong, Progress: p.progress(tree)})
		if err != nil {
			return bad("%v", err)
		}
		reports = append(reports, r)
	}
	if err := c.files(reports); err != nil {
		return bad("the matrix cannot be written: %v", err)
	}
	switch {
	case c.JSON && c.Tree != "":
		err = writeJSON(p.out, reports[0])
	case c.JSON:
		err = writeJSON(p.out, reports)
	default:
		p.printTrial(lib, reports, c.Exits)
	}
	if err != nil {
		return err
	}
	for _, r := range reports {
		if r.FalseAllClears > 0 {
			return ended(exitErrors)
		}
	}
	return nil
}

// files writes what was asked for beside the report.
func (c trialCommand) files(reports []*trial.Report) error {
	if c.CSV != "" {
		if err := writeFile(c.CSV, true, func(w io.Writer) error { return writeMatrix(w, reports) }); err != nil {
			return err
		}
	}
	for _, r := range reports {
		if c.Picture == "" {
			break
		}
		draw := func(w io.Writer) error { return drawMatrix(w, r, strings.ToLower(filepath.Ext(c.Picture))) }
		if err := writeFile(c.picture(r.Tree, len(reports)), true, draw); err != nil {
			return err
		}
	}
	return nil
}

// picture is the file of a tree's picture, among those of so many trees.
func (c trialCommand) picture(tree string, trees int) string {
	if trees == 1 {
		return c.Picture
	}
	ending := filepath.Ext(c.Picture)
	return strings.TrimSuffix(c.Picture, ending) + "-" + tree + ending
}

// tryFiles reports, before the run, whether the files could be written.
func (c trialCommand) tryFiles(trees []string) error {
	if c.CSV != "" {
		if err := tryFile(c.CSV); err != nil {
			return err
		}
	}
	for _, tree := range trees {
		if c.Picture == "" {
			break
		}
		if err := tryFile(c.picture(tree, len(trees))); err != nil {
			return err
		}
	}
	return nil
}

// writeMatrix writes the confusion matrix, a line for every cell that any walk
// ended in.
func writeMatrix(w io.Writer, reports []*trial.Report) error {
	out := csv.NewWriter(w)
	out.Write([]string{"tree", "role", "fault", "scope", "finding", "walks", "credit", "false_all_clears", "example_draw"})
	for _, r := range reports {
		for _, x := range r.Cells {
			scope := "inside"
			if x.Outside {
				scope = "outside"
			}
			out.Write([]string{r.Tree, x.Role, x.Fault, scope, x.Finding, strconv.Itoa(x.Walks),
				strconv.FormatFloat(x.Credit, 'f', -1, 64), strconv.Itoa(x.False), strconv.Itoa(x.Draw)})
		}
	}
	out.Flush()
	return out.Error()
}

// progress is a bar on the terminal, or nil where none is.
func (p *program) progress(tree string) func(done, total int) {
	f := terminal(p.err)
	if f == nil || p.env("TERM") == "dumb" {
		return nil
	}
	const width = 30
	last := -1
	return func(done, total int) {
		percent := 100 * done / max(total, 1)
		if percent == last {
			return
		}
		last = percent
		full := width * done / max(total, 1)
		fmt.Fprintf(f, "\r%s [%s%s] %3d %%", tree, strings.Repeat("#", full), strings.Repeat(".", width-full), percent)
		if done == total {
			fmt.Fprint(f, "\r"+strings.Repeat(" ", len(tree)+width+10)+"\r")
		}
	}
}

// printTrial writes the reports as text.
func (p *program) printTrial(lib *content.Library, reports []*trial.Report, exits bool) {
	g := p.page(p.out)
	for _, r := range reports {
		g.title(r.Tree + ": " + lib.Forest.Tree(r.Tree).Title)
		fmt.Fprintf(g.w, "%d rigs, and %d with a fault outside the scope; seed %d\n", r.Rigs, r.Outside, r.Seed)
		if r.Wrong > 0 {
			fmt.Fprintf(g.w, "wrong readings          %.1f %%\n", 100*r.Wrong)
		}
		fmt.Fprintf(g.w, "false all-clears        %d  (%d more with a body that can hurt, and the fault declared)\n", r.FalseAllClears, r.LiveDeclared)
		g.earned("", r.Earned)
		fmt.Fprintf(g.w, "measurements            %.2f in the mean; optimum found %.2f, entropy bound %.2f\n", r.MeanMeasurements, r.OptimumMeasurements, r.EntropyBound)
		g.taken("", r.Taken)
		g.orders(r.Orders)
		if r.NoFaultEnds > 0 {
			fmt.Fprintf(g.w, "healthy rigs found so   %.1f %%; called DANGER %.1f %%\n", 100*r.HealthyRate, 100*r.FalseDanger)
		} else {
			fmt.Fprintf(g.w, "healthy rigs            called DANGER %.1f %%; no finding is for them\n", 100*r.FalseDanger)
		}
		g.defaultRigs(r)
		g.complaint(r.Complaint)
		g.together("faults not told apart", r.Together)
		g.missed(r.Missed)
		g.together("tasks not told apart", r.TasksTogether)
		if len(r.Uncovered) > 0 {
			g.hanging("not covered             ", "  ", strings.Join(r.Uncovered, ", "))
		}
		g.falseAllClears(r.False)
		g.findings(r.Findings)
		g.blank()
		if exits {
			g.exits(lib, r)
		}
	}
	g.notNamed(reports)
}

// falseAllClears writes each, and which readings went wrong on the way.
func (g page) falseAllClears(all []trial.False) {
	for _, f := range all {
		g.blank()
		g.hanging("false: ", "  ", fmt.Sprintf("%s (%s): %s ends at %s, and %s. %s", f.Role, "draw "+strconv.Itoa(f.Draw), f.Vehicle, f.Finding, f.Why, f.Path))
		for _, x := range f.Wrong {
			g.hanging("  wrong: ", "    ", fmt.Sprintf("%s at %s shows %s where it is %s: %s", x.Quantity, x.Step, x.Shown, x.Right, x.How))
		}
	}
}

// findings writes of each finding the vehicles that ended there.
func (g page) findings(all []trial.FindingReport) {
	for _, f := range all {
		if f.Walks == 0 {
			continue
		}
		g.blank()
		g.hanging("", "  ", fmt.Sprintf("%s, %d walks", f.ID, f.Walks))
		group := lists.Each(f.Group, func(s trial.Share) string { return fmt.Sprintf("%s %.1f %%", s.Fault, 100*s.Share) })
		g.para("  ", strings.Join(group, ", "))
		for _, x := range f.Separable {
			g.hanging("  ", "    ", fmt.Sprintf("one more reading: %s (%s) would show %.0f %% of %s", x.Reading, x.Role, 100*x.Share, x.Fault))
		}
		g.parted(f.Parted)
	}
}

// notNamed writes what a finding should name or declare by the walks, and what it
// declares without one.
func (g page) notNamed(reports []*trial.Report) {
	for _, d := range trial.Compare(reports) {
		missing := lists.Each(d.Missing, func(m trial.Gap) string { return m.At().String() })
		if len(missing) > 0 {
			g.hanging("", "  ", d.Finding+" neither names nor declares: "+strings.Join(missing, ", "))
		}
		if len(d.Extra) > 0 {
			g.hanging("", "  ", d.Finding+" declares, and no walk shows: "+strings.Join(d.Extra, ", "))
		}
	}
}
