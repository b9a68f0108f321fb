package load

import (
	"slices"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// vary reads what of a scenario differs from learner to learner.
func (p *part) vary(v document.Value) {
	if v.IsZero() {
		return
	}
	m := v.Map("what varies", "numbers", "legs", "severity", "loads", "set", "places")
	out := &p.scenario.Vary
	*out = content.Vary{Stated: true, Numbers: flag(m, "numbers"), Legs: flag(m, "legs"), Severity: map[string]content.Range{}, Loads: map[string]content.Range{}, Values: map[int]content.Range{}}
	r := p.scenario.Rig
	for _, f := range m.Get("severity").Fields("severity") {
		a, ok := p.faultOf(f)
		switch {
		case !ok:
		case a.Fault.Severity == nil:
			p.diags.Add(f.KeyPos, RuleSeverity, "the fault %s has no severity to choose", f.Key)
		default:
			if x, ok := readRange(f.Value, "the severity of "+f.Key, a.Fault.Severity.Unit); ok {
				out.Severity[f.Key] = x
				if x.From < a.Fault.Severity.From || x.To > a.Fault.Severity.To {
					f.Value.Report(RuleBadRange, "", "the severity of %s lies outside of %g to %g %s", f.Key, a.Fault.Severity.From, a.Fault.Severity.To, a.Fault.Severity.Unit.Symbol())
				}
			}
		}
	}
	for _, f := range m.Get("loads").Fields("loads") {
		if len(r.LegWatts(f.Key)) == 0 {
			p.diags.AddHint(f.KeyPos, RuleScenario, source.DidYouMean(f.Key, r.Legs()), "the rig %s has no loads on a leg %s", r.ID, f.Key)
		} else if x, ok := readRange(f.Value, "the loads on "+f.Key, rig.Watts); ok {
			out.Loads[f.Key] = x
		}
	}
	for _, f := range m.Get("set").Fields("set") {
		i := r.Param(f.Key)
		if i == rig.None {
			p.unknownNumber(f)
		} else if x, ok := readRange(f.Value, f.Key, r.Params[i].Unit); ok {
			out.Values[i] = x
		}
	}
	for _, f := range m.Get("places").Fields("places") {
		p.varyPlaces(f)
	}
}

// varyPlaces reads where a fault may sit.
func (p *part) varyPlaces(f document.Field) {
	a, ok := p.faultOf(f)
	if !ok {
		return
	}
	of := content.PlacesOf{Fault: f.Key}
	for _, item := range f.Value.Items("the places of " + f.Key) {
		place := oneOf(item, "place", faulttree.Places())
		fits := slices.ContainsFunc(a.Fault.In(p.scenario.Rig), func(v rig.Variant) bool { return v.Place == place })
		switch {
		case place == "":
		case !fits:
			item.Report(RuleScenario, "", "the fault %s cannot happen in place %s of the rig %s", f.Key, place, p.scenario.Rig.ID)
		case slices.Contains(of.Places, place):
			item.Report(RuleDuplicateID, "", "%s stands twice", place)
		default:
			of.Places = append(of.Places, place)
		}
	}
	p.scenario.Vary.Places = append(p.scenario.Vary.Places, of)
}

// faultOf is the fault of the scenario that a key names.
func (p *part) faultOf(f document.Field) (rig.Applied, bool) {
	var ids []string
	for _, a := range p.scenario.Faults {
		if a.Fault.ID == f.Key {
			return a, true
		}
		ids = append(ids, a.Fault.ID)
	}
	if !p.diags.HasErrors() { // else the fault may be one that was not read
		p.diags.AddHint(f.KeyPos, RuleScenario, source.DidYouMean(f.Key, ids), "the scenario has no fault %s", f.Key)
	}
	return rig.Applied{}, false
}

// readRange reads a range as a list of its two ends.
func readRange(v document.Value, what string, u rig.ParamUnit) (content.Range, bool) {
	ends := v.Items(what)
	if len(ends) != 2 {
		if v.IsList() {
			v.Report(RuleBadRange, "", "%s: expected two numbers, the lower and the higher; there are %d", what, len(ends))
		}
		return content.Range{}, false
	}
	from, ok := readValue(ends[0], what, u)
	to, also := readValue(ends[1], what, u)
	if ok && also && from > to {
		v.Report(RuleBadRange, "", "%s: from %s to %s; expected the lower number first", what, ends[0].Text(what), ends[1].Text(what))
		return content.Range{}, false
	}
	return content.Range{From: from, To: to}, ok && also
}

// classify says what kind of exercise the scenario is, and how dangerous: both
// follow from what is hidden, unless the scenario says more.
func (p *part) classify(l *content.Library) {
	s, front := p.scenario, p.front
	hidden := s.HiddenKind()
	s.Kinds = []content.ScenarioKind{hidden}
	if kind := oneOf(front.Get("kind"), "kind", content.ScenarioKinds()); kind == content.MisleadingStory {
		s.Kinds = append(s.Kinds, kind)
	} else if kind != "" && kind != hidden && !p.diags.HasErrors() {
		front.Get("kind").Report(RuleScenario, "", "the kind is %s, but by its faults and its meter the scenario is of the kind %s", kind, hidden)
	}
	if front.Has("hazard") {
		s.Hazard = signal(front.Get("hazard"), "hazard", faulttree.NoSignal)
		return
	}
	s.Hazard = l.HiddenHazard(s)
}
