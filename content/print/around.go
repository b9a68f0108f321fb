package print

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// danger is the box above a walk.
type danger struct {
	Limits   []string      // "≥ 30 V: Body to earth; Outlet: neutral to ground"
	Dangers  []string      // its cautions of signal DANGER
	Cautions []view.Warned // all others
}

// danger gathers the cautions of every step of the page, of its proof of the meter and of
// every method by which something on it is read, and the limits at which a reading means
// STOP.
func (p *plan) danger(on *sheetPlan) danger {
	var ids []string
	for _, n := range append(on.checks(), on.nodes...) {
		ids = content.Union(ids, n.Cautions)
		for _, s := range append(n.Columns(), n.Step) {
			for _, m := range p.lib.MethodsOf(s) {
				ids = content.Union(ids, m.Cautions)
			}
		}
	}
	var out danger
	for _, c := range view.CautionsOf(p.lib, ids).Each {
		c.Title = view.Sentence(c.Title)
		if c.Signal == faulttree.Danger {
			out.Dangers = append(out.Dangers, c.Title)
		} else {
			out.Cautions = append(out.Cautions, c)
		}
	}
	out.Limits = p.stops(on)
	return out
}

// stops are the limits at which a reading means STOP, each with what it is of: what the
// sheet asks for, and on the first one also what no sheet does, for whoever has read it.
func (p *plan) stops(on *sheetPlan) []string {
	var limits []string
	of := map[string][]string{}
	for _, id := range p.tree.Dangers() {
		q := p.lib.Forest.Quantities[id]
		reads := func(sheet *sheetPlan) bool {
			return slices.ContainsFunc(sheet.nodes, func(n *node) bool { return n.Measures(id) >= 0 })
		}
		beside := on == p.sheets[0] && !slices.ContainsFunc(p.sheets, reads)
		if at, ok := p.tree.DangerLimit(id); ok && (beside || reads(on)) {
			limit := "≥ " + at.With(q.Unit)
			limits = content.Union(limits, []string{limit})
			of[limit] = append(of[limit], q.Title)
		}
	}
	return lists.Each(limits, func(limit string) string { return limit + ": " + strings.Join(of[limit], "; ") })
}

// facts are the facts that the walk may ask for.
func (p *plan) facts() []view.FactOf {
	asked := p.lib.Forest.Unstated(p.tree.ID, nil)
	return slices.DeleteFunc(view.FactsOf(p.lib, nil), func(f view.FactOf) bool { return !slices.Contains(asked, f.ID) })
}

// kit is what the readings of the page call for.
func (p *plan) kit(on *sheetPlan) []string {
	ranges := map[faulttree.Unit]faulttree.Amount{}
	var spike, low, clamp, live, battery bool
	for _, n := range on.nodes {
		for _, v := range n.Measure {
			q := v.Quantity
			ranges[q.Unit] = max(ranges[q.Unit], q.Range)
			spike = spike || q.Red == "earth" || q.Black == "earth"
			low = low || q.Has(faulttree.LowZ)
			clamp = clamp || q.Unit == faulttree.AmpsAC || q.Unit == faulttree.AmpsDC
			live = live || q.Proves == faulttree.ProvesVoltsAC
			battery = battery || q.Proves == faulttree.ProvesVoltsDC
		}
	}
	var out []string
	for _, u := range slices.Sorted(maps.Keys(ranges)) {
		text := u.Function()
		if r := ranges[u]; r > 0 {
			text += ", range " + r.With(u) + " or more"
		}
		out = append(out, text)
	}
	for _, x := range []struct {
		is   bool
		what string
	}{
		{spike, "a metal spike for wet soil; a long insulated lead with a clip"}, {low, "a low-impedance meter"}, {clamp, "a clamp"},
		{live, "a receptacle elsewhere that is known to be live"}, {battery, "a charged battery, not the one in question"},
	} {
		if x.is {
			out = append(out, x.what)
		}
	}
	return out
}

// remain is the dangers that the findings of a walk leave possible.
type remain struct {
	Tests      []view.NotExcluded
	More, Rest string
}

// remain gathers what any finding of the page cannot exclude.
func (p *plan) remain(on *sheetPlan) remain {
	var all faulttree.Finding
	for _, n := range on.nodes {
		for _, x := range n.Finding.CannotExclude {
			i := slices.IndexFunc(all.CannotExclude, func(o faulttree.NotExcluded) bool { return o.At() == x.At() && o.Test == x.Test })
			if i < 0 {
				all.CannotExclude = append(all.CannotExclude, x)
				continue
			}
			had := &all.CannotExclude[i]
			had.Seldom, had.Computed = had.Seldom && x.Seldom, had.Computed && x.Computed
		}
	}
	var out remain
	out.Tests, out.More, out.Rest = view.ResultOf(p.lib, faulttree.Result{Finding: all}).Foremost()
	return out
}

// sources are where the limits of the page come from, each with the values that rest
// on it.
func (p *plan) sources() []string {
	values := map[string][]string{}
	for _, n := range p.nodes() {
		for _, id := range n.Sources {
			values[id] = append(values[id], "")
		}
	}
	for _, l := range p.tree.Limits {
		values[l.Source] = append(values[l.Source], l.Value.With(l.Unit))
	}
	var out []string
	for _, id := range slices.SortedFunc(maps.Keys(values), cmp.Compare[string]) {
		these := slices.DeleteFunc(slices.Compact(slices.Sorted(slices.Values(values[id]))), func(v string) bool { return v == "" })
		text := view.SourceText(p.lib, id)
		if len(these) > 0 {
			text = strings.Join(these, ", ") + ": " + text
		}
		out = append(out, text)
	}
	return out
}
