package load

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// setUp reads what a scenario says of its rig, once the rigs and faults of l
// are there. Rigs and faults with errors of their own are passed over: they
// are reported where they stand.
func (p *part) setUp(l *content.Library) {
	s, front := p.scenario, p.front
	if s == nil {
		return
	}
	s.Rig = l.Rigs[front.Text("rig")]
	if s.Rig == nil {
		p.basisBroken = true
		return
	}
	p.applyFaults(l, front.Get("faults"))
	p.setValues(front.Get("set"))
	p.setLoads(front.Get("loads"))
	p.mayThrow(front.Get("may"))
	p.vary(front.Get("vary"))
	p.storySays(l, front.Get(seenKey))
	p.classify(l)
	if s.Tree != "" && len(s.Rig.Trees) > 0 && l.Forest.Tree(s.Tree) != nil && !slices.Contains(s.Rig.Trees, s.Tree) {
		front.Get("tree").Report(RuleScenario, "", "the tree %s is not among those of the rig %s: %s", s.Tree, s.Rig.ID, strings.Join(s.Rig.Trees, ", "))
	}
	if p.diags.HasErrors() || p.basisBroken {
		return
	}
	b, err := bench.New(s.Rig)
	if err == nil {
		err = b.Set(s.Setup())
	}
	if err == nil {
		_, err = b.Solve(bench.State{})
	}
	if err != nil {
		p.diags.Add(s.Pos, RuleScenario, "the scenario cannot be set up: %v", err)
	}
}

// storySays reads what the story says was seen, in the words of the handbook's
// observations and in their order.
func (p *part) storySays(l *content.Library, v document.Value) {
	for _, field := range v.Fields(seenKey) {
		seen := seenBy(l.Forest, &p.diags, RuleScenario, field, func() document.Value { return field.Value })
		if seen == nil {
			continue
		}
		if o := l.Forest.Observation(seen.Observation); !vehicle.TellsOf(o, p.scenario.Rig) {
			p.diags.Add(field.KeyPos, RuleScenario, "%s cannot be seen of the rig %s", o.ID, p.scenario.Rig.ID)
			continue
		}
		p.scenario.Seen = append(p.scenario.Seen, *seen)
	}
	ids := l.Forest.ObservationIDs()
	slices.SortFunc(p.scenario.Seen, func(a, b suspect.Seen) int {
		return cmp.Compare(slices.Index(ids, a.Observation), slices.Index(ids, b.Observation))
	})
}

func (p *part) applyFaults(l *content.Library, v document.Value) {
	items := v.Items("faults")
	if len(items) > mostScenarioFaults {
		v.Report(RuleScenario, "", "the scenario has %d faults; at most %d are read", len(items), mostScenarioFaults)
		return
	}
	seen := map[string]bool{}
	for _, item := range items {
		m := item.Map("a fault of a scenario", "fault", "place", "text", "severity")
		id := m.NeedText("fault")
		at := m.Get("fault")
		f := l.Faults[id]
		switch {
		case id == "":
		case f == nil:
			p.unknownFault(l, at, id)
		case seen[id]:
			at.Report(RuleDuplicateID, "", "the fault %s stands twice in the scenario", id)
		case f.Edits == nil && errorsIn(l, "faults/"+id+".md"):
			p.basisBroken = true
		case f.Edits == nil:
			at.Report(RuleScenario, "", "the fault %s says nothing of what it does to a rig", id)
		default:
			p.applyFault(m, f.Edits)
		}
		seen[id] = true
	}
}

func (p *part) unknownFault(l *content.Library, at document.Value, id string) {
	if _, there := l.Files["faults/"+id+".md"]; there {
		p.basisBroken = true
		return
	}
	at.Report(RuleUnknownFault, source.DidYouMean(id, slices.Sorted(maps.Keys(l.Faults))), "there is no fault %s", id)
}

// errorsIn reports whether a file of the library has errors.
func errorsIn(l *content.Library, file string) bool {
	return slices.ContainsFunc(l.Diagnostics, func(d source.Diagnostic) bool { return d.Pos.File == file && d.Severity == source.Error })
}

// applyFault chooses the first variant that fits in the rig and that the
// place and the text allow.
func (p *part) applyFault(m document.Map, f *rig.Fault) {
	place := oneOf(m.Get("place"), "place", faulttree.Places())
	text := m.Text("text")
	chosen := -1
	var texts []string
	for i, v := range f.Variants {
		if !v.FitsIn(p.scenario.Rig) || (place != "" && v.Place != place) {
			continue
		}
		texts = append(texts, v.Text)
		if chosen < 0 && (text == "" || v.Text == text) {
			chosen = i
		}
	}
	switch {
	case len(texts) == 0 && place != "":
		m.Get("place").Report(RuleScenario, "", "the fault %s cannot happen in place %s of the rig %s", f.ID, place, p.scenario.Rig.ID)
		return
	case len(texts) == 0:
		m.Get("fault").Report(RuleScenario, "", "the fault %s cannot happen in the rig %s", f.ID, p.scenario.Rig.ID)
		return
	case chosen < 0:
		m.Get("text").Report(RuleScenario, source.DidYouMean(text, texts), "the fault %s has no such variant here; expected %s", f.ID, either(texts))
		return
	}
	a := f.Ordinary(chosen)
	severity := m.Get("severity")
	switch {
	case f.Severity == nil && m.Has("severity"):
		severity.Report(RuleSeverity, "", "the fault %s has no severity to choose", f.ID)
		return
	case m.Has("severity"):
		x, ok := readValue(severity, "severity", f.Severity.Unit)
		if ok && (x < f.Severity.From || x > f.Severity.To) {
			severity.Report(RuleBadRange, "", "the severity %s lies outside of %g to %g %s", severity.Text("severity"), f.Severity.From, f.Severity.To, f.Severity.Unit.Symbol())
		}
		a.Severity = x
	}
	p.scenario.Faults = append(p.scenario.Faults, a)
}

// setValues reads numbers of the rig that the scenario changes.
func (p *part) setValues(v document.Value) {
	r := p.scenario.Rig
	for _, f := range v.Fields("set") {
		i := r.Param(f.Key)
		if i == rig.None {
			p.unknownNumber(f)
			if p.full() {
				return
			}
			continue
		}
		if x, ok := readValue(f.Value, f.Key, r.Params[i].Unit); ok {
			p.change(i, x, f)
		}
	}
}

// unknownNumber reports a key that names no number of the rig.
func (p *part) unknownNumber(f document.Field) {
	hint := ""
	if len(p.diags) < MostErrors {
		var known []string
		for _, x := range p.scenario.Rig.Params {
			known = append(known, x.Name)
		}
		hint = source.DidYouMean(f.Key, known)
	}
	p.diags.AddHint(f.KeyPos, RuleUnknownNumber, hint, "the rig %s has no number %s", p.scenario.Rig.ID, f.Key)
}

// change keeps a changed number, once.
func (p *part) change(i int, x float64, f document.Field) {
	if _, twice := p.scenario.Values[i]; twice {
		p.diags.Add(f.KeyPos, RuleDuplicateID, "%s, which %s changes, is changed before", p.scenario.Rig.Params[i].Name, f.Key)
		return
	}
	p.scenario.Values[i] = x
}

// setLoads reads how much all loads of a leg take together. Several loads
// share it in the ratio of their ordinary watts.
func (p *part) setLoads(v document.Value) {
	r := p.scenario.Rig
	for _, f := range v.Fields("loads") {
		loads := r.LegWatts(f.Key)
		if len(loads) == 0 {
			p.diags.AddHint(f.KeyPos, RuleScenario, source.DidYouMean(f.Key, r.Legs()), "the rig %s has no loads on a leg %s", r.ID, f.Key)
			continue
		}
		x, ok := readValue(f.Value, "the loads on "+f.Key, rig.Watts)
		if !ok {
			continue
		}
		share := r.Shared(f.Key, x)
		for _, i := range loads {
			p.change(i, share[i], f)
		}
	}
}

// mayThrow reads the switches that a learner may throw.
func (p *part) mayThrow(v document.Value) {
	var known []string
	for _, s := range p.scenario.Rig.Switches {
		known = append(known, s.Name)
	}
	for _, item := range v.Items("may") {
		name := item.Text("a switch")
		switch {
		case name == "":
		case !slices.Contains(known, name):
			item.Report(RuleUnknownSwitch, source.DidYouMean(name, known), "the rig %s has no switch %s", p.scenario.Rig.ID, name)
		case slices.Contains(p.scenario.May, name):
			item.Report(RuleDuplicateID, "", "the switch %s stands twice", name)
		default:
			p.scenario.May = append(p.scenario.May, name)
		}
	}
}
