package main

import (
	"fmt"
	"reflect"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/trial"
)

// taken writes what the walks of a trial took, a line for each role and kind of
// vehicle.
func (g page) taken(before string, all []trial.Taken) {
	for _, t := range all {
		if t.Walks == 0 {
			continue
		}
		text := fmt.Sprintf("%.2f readings: %.2f proofs, %.2f dead, %.2f live (%.2f supply, %.2f body, %.2f inside)", t.Readings, t.Proofs, t.Dead, t.Live, t.Supply, t.Body, t.Inside)
		if t.Unstated > 0 {
			text += fmt.Sprintf(", %.2f of unstated exposure", t.Unstated)
		}
		text += fmt.Sprintf("; cost %.2f", t.Cost)
		if t.DeadTested > 0 {
			text += fmt.Sprintf("; live before the first in ohms %.2f, in the %.0f %% that take one", t.LiveBeforeDead, 100*t.DeadTested)
		}
		g.hanging(fmt.Sprintf("%-23s ", before+t.Role+", "+t.Vehicles), "  ", text)
	}
}

// complaint writes what a trial found over the vehicles that have what brings a
// reader to the tree.
func (g page) complaint(c *trial.Complaint) {
	if c == nil {
		return
	}
	fmt.Fprintf(g.w, "with the complaint      %.1f %% of the vehicles; of %d of them:\n", 100*c.Share, c.Rigs)
	if c.Rigs == 0 {
		return
	}
	g.earned("  ", c.Earned)
	g.taken("  ", c.Taken)
	g.missed(c.Missed)
}

// defaultRigs writes where the rigs end as they are by default, a line for each.
func (g page) defaultRigs(r *trial.Report) {
	var rigs []string
	ends := map[string][]string{}
	roles := map[string][]string{} // by rig and ending
	for _, d := range r.DefaultRigs {
		rigs = lists.With(rigs, d.Rig)
		end := d.Finding + ", " + d.Signal
		key := d.Rig + " " + end
		if len(roles[key]) == 0 {
			ends[d.Rig] = append(ends[d.Rig], end)
		}
		roles[key] = lists.With(roles[key], d.Role)
	}
	for _, rig := range rigs {
		texts := lists.Each(ends[rig], func(end string) string { return end + " (" + strings.Join(roles[rig+" "+end], ", ") + ")" })
		g.hanging(fmt.Sprintf("%-23s ", "default "+rig), "  ", strings.Join(texts, "; "))
	}
}

// orders writes what the walks cost beside the best orders found, a line for each
// role and for how far an order goes on; one where it is alike for both roles.
func (g page) orders(orders []trial.Order) {
	until := map[string]string{"finding": "to the same finding", "task": "to the same to be done"}
	orders, alike := withoutAlike(orders)
	for i, all := range orders {
		if all.Vehicles != "all" || all.Walks == 0 {
			continue
		}
		text := fmt.Sprintf("%.2f x %s: tree %.2f, best order found %.2f", all.Ratio(), until[all.Until], all.Tree, all.Best)
		if all.Own {
			text += ", which is the tree's own"
		} else {
			text += fmt.Sprintf(" with %.2f readings, %.2f live; %.1f %% of %d walks end alike", all.Readings, all.Live, 100*all.Agrees, all.Walks)
		}
		for _, o := range orders[max(0, i-2):i] {
			if o.Walks > 0 {
				text += fmt.Sprintf("; %s %.2f x", o.Vehicles, o.Ratio())
			}
		}
		roles := all.Role
		if alike[all.Until] {
			roles = "either role"
		}
		g.hanging(fmt.Sprintf("%-23s ", "cost, "+roles), "  ", text)
		var more []string
		for _, x := range all.Spared[:min(mostSpared, len(all.Spared))] {
			more = append(more, fmt.Sprintf("%s %.2f for %.2f", x.Quantity, x.Tree, x.Best))
		}
		if len(more) > 0 {
			g.hanging("  it takes oftener: ", "    ", strings.Join(more, ", "))
		}
		g.lost(all.Lost)
	}
}

// withoutAlike leaves out what is alike for both roles the second time, and says of
// how far an order goes on whether it is.
func withoutAlike(orders []trial.Order) (out []trial.Order, alike map[string]bool) {
	of := func(role, until string) (all []trial.Order) {
		for _, o := range orders {
			if o.Role == role && o.Until == until {
				o.Role = ""
				all = append(all, o)
			}
		}
		return all
	}
	alike = map[string]bool{}
	for _, o := range orders {
		first := orders[0].Role
		if o.Role != first && reflect.DeepEqual(of(first, o.Until), of(o.Role, o.Until)) {
			alike[o.Until] = true
			continue
		}
		out = append(out, o)
	}
	return out, alike
}

// mostSpared is how many quantities are told that a tree takes oftener than the
// best order.
const mostSpared = 6

// mostTogether is how many groups are told that no reading tells apart.
const mostTogether = 8

// together writes what no reading that the tree may ask tells apart.
func (g page) together(head string, groups []trial.Together) {
	var texts []string
	for _, x := range groups[:min(mostTogether, len(groups))] {
		texts = append(texts, fmt.Sprintf("%s (%.1f %%)", strings.Join(x.Names, " / "), 100*x.Share))
	}
	if len(texts) > 0 {
		g.hanging(fmt.Sprintf("%-23s ", head), "  ", strings.Join(texts, "; "))
	}
}

// earned writes what a tree earns, and a belief where the tree earns its isolation.
func (g page) earned(before string, e trial.Earned) {
	fmt.Fprintf(g.w, "%-23s %.1f %%, %.1f ± %.1f %% of the possible; the true fault named in %.1f %%\n", before+"isolation", 100*e.Isolation, 100*e.IsolationOfPossible, 100*e.IsolationError, 100*e.Named)
	fmt.Fprintf(g.w, "%-23s %.1f %% by place, %.1f %% by place and who repairs, %.1f ± %.1f %% of the possible\n", before+"by what is to be done", 100*e.IsolationByPlace, 100*e.IsolationByTask, 100*e.TaskOfPossible, 100*e.TaskError)
	text := fmt.Sprintf("%.1f %% of the faults, %.1f %% of what is to be done; with the readings the walks took themselves %.1f %% and %.1f %%; of %d walks judged",
		100*e.Possible, 100*e.TaskPossible, 100*e.PossibleAsked, 100*e.TaskPossibleAsked, e.Judged)
	g.hanging(fmt.Sprintf("%-23s ", before+"possible"), "  ", text)
}

// parted writes where beliefs say something else than a finding.
func (g page) parted(all []trial.Parted) {
	for _, x := range all {
		what := "the readings say " + x.Says
		if x.Kind == trial.PartedDanger {
			what = "not unlikely behind it: " + x.Says
		}
		g.hanging("  parts, ", "    ", fmt.Sprintf("%.1f %% of the walks: %s (%.0f %%, and so it is in %.0f %% of them), as of %s", 100*x.Share, what, 100*x.Belief, 100*x.Right, x.Vehicle))
	}
}

// missed writes the faults about which the tree says less of what is to be done
// than its readings could.
func (g page) missed(all []trial.Missed) {
	var texts []string
	for _, x := range all[:min(mostTogether, len(all))] {
		texts = append(texts, fmt.Sprintf("%s %.0f of %.0f %% (%.1f %% of the walks)", x.Fault, 100*x.Own, 100*x.Possible, 100*x.Share))
	}
	if len(texts) > 0 {
		g.hanging(fmt.Sprintf("%-23s ", "to do, given up"), "  ", strings.Join(texts, "; "))
	}
}

// exits writes which vehicles left each step of a walk by which exit. Of a chart
// every row is told, also one that no vehicle took.
func (g page) exits(lib *content.Library, r *trial.Report) {
	before := ""
	for _, x := range r.Exits {
		s := lib.Forest.Step(faulttree.ParseRef(x.Step, ""))
		name, row := exitName(s, x.Exit)
		if x.Walks == 0 && !row {
			continue
		}
		if x.Step != before {
			before = x.Step
			g.para("", x.Step)
		}
		var who []string
		if x.Sound > 0 {
			who = append(who, fmt.Sprintf("sound %d", x.Sound))
		}
		for _, part := range x.Faults {
			who = append(who, fmt.Sprintf("%s %d", part.At(), part.Walks))
		}
		g.hanging("  "+name+" to "+x.Go+"  ", "    ", strings.Join(append([]string{view.Count(x.Walks, "walk")}, who...), ", "))
	}
	g.blank()
}

// exitName words one exit of a step, by its index; row is whether it is one of a
// chart.
func exitName(s *faulttree.Step, exit int) (name string, row bool) {
	switch e := s.Exits()[exit]; {
	case s.Chart != nil && exit < len(s.Chart.Rows):
		for _, c := range s.Chart.Rows[exit].Cells {
			if !c.Any() {
				return "row " + itoa(exit+1), true
			}
		}
		return "rest", true
	case exit < len(s.Choices):
		return s.Choices[exit].ID, false
	case e == s.OverRange:
		return "over-range", false
	case e == s.NotPossible:
		return "not-possible", false
	case e.Label != "":
		return e.Label, false
	}
	return "branch " + itoa(exit+1), false
}
