package load

import (
	"slices"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
)

// Bounds on the list of evidence, some ten times what the shipped one has.
const (
	mostObservations  = 200
	mostInterventions = 200
	mostSights        = 20 // choices of an observation
	mostAny           = 50 // conditions of a choice
	mostFavoured      = 50
	mostFactor        = 1000 // of what is seen more or less often
)

// evidence is what the list of it gave.
type evidence struct {
	observations  []faulttree.Observation
	interventions []faulttree.Intervention
}

// readEvidence reads what is seen and tried without a meter.
func (p *part) readEvidence(m *measurables) {
	p.tree = &faulttree.Tree{Limits: map[string]faulttree.Limit{}} // holds the limits, as a tree does; it is none
	defer func() { p.tree = nil }()
	r := &treeReader{part: p, m: m, used: map[string]bool{}, unread: map[string]bool{}}
	root := document.ParseYAML(p.file, &p.diags).Map("the list of evidence", "limits", "observations", "interventions")
	r.limits(root.Get("limits"))
	p.evidence = &evidence{}
	seen := map[string]source.Pos{}
	for _, item := range atMost(mostObservations, root.Get("observations"), "observations") {
		f := item.Map("an observation", "id", "title", "needs", "parts", "sources", "choices")
		if id, ok := p.newID(f, item, "an observation", seen); ok {
			if id == suspect.Complaint {
				f.Need("id").Report(RuleBadID, "", "%s is the id of what somebody came with, which the trees say; choose another", id)
			}
			p.evidence.observations = append(p.evidence.observations, r.observation(f, id))
		}
	}
	tried := map[string]source.Pos{}
	for _, item := range atMost(mostInterventions, root.Get("interventions"), "interventions") {
		f := item.Map("an intervention", "id", "title", "before", "needs", "renews", "off", "on", "loads", "facts", "exposure", "effort", "for", "offer")
		if id, ok := p.newID(f, item, "an intervention", tried); ok {
			p.evidence.interventions = append(p.evidence.interventions, r.intervention(f, item, id))
		}
	}
}

// newID is the id of an entry of a list; one that another entry has is reported.
func (p *part) newID(f document.Map, item document.Value, what string, seen map[string]source.Pos) (string, bool) {
	if !item.IsMap() {
		return "", false
	}
	at := f.Need("id")
	id := at.Text("id")
	if !checkID(at, id, what) {
		return "", false
	}
	if first, twice := seen[id]; twice {
		twiceDefined(&p.diags, at.Pos(), first, id)
		return "", false
	}
	seen[id] = at.Pos()
	return id, true
}

func (r *treeReader) observation(f document.Map, id string) faulttree.Observation {
	s := &stepReader{treeReader: r, step: &faulttree.Step{}}
	s.step.Sources = r.refer(refSource, f.Get("sources"), "sources")
	o := faulttree.Observation{ID: id, Title: f.NeedText("title"), Needs: r.m.needs(f.Get("needs")), Parts: r.inRigs(f.Get("parts").Items("parts"), useRun, "a part", "parts"), Sources: s.step.Sources, Pos: f.Get("id").Pos()}
	list, looks := f.Need("choices"), newLooks()
	items := atMost(mostSights, list, "choices")
	if list.IsList() && len(items) < 2 {
		list.Report(RuleBadValue, "", "the observation has %d choices; expected two or more", len(items))
	}
	for _, item := range items {
		m := item.Map("a choice", "id", "title", "any", "often", "favours")
		if !item.IsMap() {
			continue
		}
		at := m.Need("id")
		c := faulttree.Sight{ID: at.Text("id"), Text: m.NeedText("title"), Often: 1}
		checkID(at, c.ID, "a choice")
		if o.Sight(c.ID) != nil {
			at.Report(RuleDuplicateID, "", "the choice %s is defined twice", c.ID)
			continue
		}
		if m.Has("any") {
			c.Any = s.anyOf(m.Get("any"), looks, "the choice would be made of every vehicle; expected when, opened or hot")
		}
		if m.Has("often") {
			c.Often = s.factor(m.Get("often"), "often")
		}
		c.Favours = s.favours(m.Get("favours"))
		o.Choices = append(o.Choices, c)
	}
	looks.settle()
	return o
}

// favours reads how many times as often a choice is made with some faults.
func (r *stepReader) favours(v document.Value) map[string]float64 {
	var out map[string]float64
	for _, f := range cut(v, v.Fields("favours"), mostFavoured, RuleListSize, "favours names", "faults") {
		r.noted(refFault, f.Key, f.KeyPos)
		if out == nil {
			out = map[string]float64{}
		}
		out[f.Key] = r.factor(f.Value, f.Key)
	}
	return out
}

// factor reads how often something is seen against something else, and wants a
// source for it; 1 where it cannot be read.
func (r *stepReader) factor(v document.Value, what string) float64 {
	x, ok := readValue(v, what, rig.Ratio)
	switch {
	case !ok:
		return 1
	case x <= 0 || x > mostFactor:
		v.Report(RuleBadNumber, "", "%s is %s; expected more than 0 and at most %d", what, v.Text(what), mostFactor)
		return 1
	case len(r.step.Sources) == 0:
		v.Report(RuleUnsourcedNumber, "", "%s has no source; give the observation its sources", v.Text(what))
	}
	return x
}

func (r *treeReader) intervention(f document.Map, item document.Value, id string) faulttree.Intervention {
	i := faulttree.Intervention{
		ID: id, Title: f.NeedText("title"), Before: f.NeedText("before"), Needs: r.m.needs(f.Get("needs")), Pos: f.Get("id").Pos(),
		Renews:   r.inRigs(f.Get("renews").Items("renews"), useAny, "a name", "renews"),
		Off:      r.inRigs(oneOrMore(f.Get("off")), useSwitch, "a switch", "off"),
		On:       r.inRigs(oneOrMore(f.Get("on")), useSwitch, "a switch", "on"),
		Unloaded: f.Has("loads") && oneOf(f.Get("loads"), "loads", []string{"off"}) != "",
		Facts:    r.m.given(f.Get("facts")),
		Effort:   max(1, f.Get("effort").Number("effort", 1, mostEffort)),
		Offer:    r.refer(refTree, f.Get("offer"), "offer"),
	}
	for _, name := range i.On {
		if slices.Contains(i.Off, name) {
			f.Get("on").Report(RuleBadValue, "", "the switch %s is both off and on", name)
		}
	}
	i.Exposure, _ = faulttree.ParseExposure(oneOf(f.Need("exposure"), "exposure", faulttree.ExposureNames()))
	if who := f.Get("for"); !who.IsZero() && oneOf(who, "for", []string{"anyone", "qualified"}) != "anyone" {
		i.For = faulttree.Qualified // what cannot be read is not for anyone
	}
	if len(i.Offer) > 0 && i.For == faulttree.Owner && i.Exposure.Live() {
		f.Get("offer").Report(RuleBadExposure, "add for: qualified, or leave offer out: it may be reported all the same", "what is tried near something live is offered to everybody")
	}
	if !f.Has("renews") && !f.Has("off") && !f.Has("on") && !f.Has("loads") && !f.Has("facts") {
		item.Report(document.RuleMissingKey, "", "the intervention changes nothing; expected renews, off, on, loads or facts")
	}
	return i
}
