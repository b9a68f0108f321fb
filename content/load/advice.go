package load

import (
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// adviceKeys are what a fault's document may say to a finding.
var adviceKeys = []string{"first_action", "do_not", "repair_by", "sure"}

// findingPlace is a finding that takes from its faults what they say for a place.
type findingPlace struct {
	step *faulttree.Step
	pos  source.Pos
}

// advice reads what a fault's document says to the findings that name it: once
// for all places, or for each.
func (p *part) advice(v document.Value) {
	p.fault.Findings = byPlace(p, v, "findings", adviceKeys, p.adviceOf)
}

// testKeys are what is said of the test that would exclude a fault.
var testKeys = []string{"what", "by"}

// tests reads what would exclude a fault: once for all places, or for each.
func (p *part) tests(v document.Value) {
	p.fault.Tests = byPlace(p, v, "test", testKeys, func(v document.Value) *content.Test {
		m := v.Map("a test", testKeys...)
		return &content.Test{What: strings.TrimSuffix(m.NeedText("what"), "."), By: m.Text("by")}
	})
}

// byPlace reads what a fault's document says once, by some keys, or for each of
// its places.
func byPlace[T any](p *part, v document.Value, key string, keys []string, read func(document.Value) *T) map[faulttree.Place]*T {
	if v.IsZero() {
		return nil
	}
	out := map[faulttree.Place]*T{}
	fields := v.Fields(key)
	if slices.ContainsFunc(fields, func(f document.Field) bool { return slices.Contains(keys, f.Key) }) {
		out[""] = read(v)
		return out
	}
	names := words(p.fault.Places)
	for _, f := range fields {
		if !slices.Contains(names, f.Key) {
			p.diags.AddHint(f.KeyPos, RuleBadValue, source.DidYouMean(f.Key, names), "%s is no place of this fault; expected %s", f.Key, either(names))
			continue
		}
		out[faulttree.Place(f.Key)] = read(f.Value)
	}
	return out
}

func (p *part) adviceOf(v document.Value) *content.Advice {
	m := v.Map("what a fault says to a finding", adviceKeys...)
	if len(p.fault.Sources) == 0 {
		r := &treeReader{part: &part{file: p.file, tree: &faulttree.Tree{}}}
		for _, key := range adviceKeys {
			for _, number := range r.unsourced(m.Text(key)) {
				m.Get(key).Report(RuleUnsourcedNumber, "", "%s has no source; give the fault its sources", number)
			}
		}
	}
	return &content.Advice{FirstAction: m.Text("first_action"), DoNot: m.Text("do_not"), RepairBy: m.Text("repair_by"), Sure: m.Text("sure")}
}

// checkPlaces reports findings with a place of which none of their faults says
// anything.
func (p *part) checkPlaces(faults map[string]*content.Fault) {
	for _, one := range p.places {
		f := one.step.Finding
		said := slices.ContainsFunc(f.Faults, func(id string) bool { return faults[id] == nil || faults[id].At(f.Place) != nil })
		if !said && !p.full() {
			p.diags.AddHint(one.pos, RuleFindingPlace, "write it under findings there, or leave out the place",
				"none of the faults of this finding says in its document what to do in the place %s", f.Place)
		}
	}
}

// withAdvice completes every finding by its faults: their worst hazard is its
// signal unless it has one, and what their documents say for its place stands
// before what it says itself.
func withAdvice(l *content.Library) {
	for _, tree := range l.Forest.Trees {
		for _, s := range tree.Steps {
			if s.Kind != faulttree.KindFinding {
				continue
			}
			f := &s.Finding
			if !f.SignalPos.IsValid() {
				f.Signal = l.WorstHazard(f.Faults)
			}
			if f.Place == "" {
				continue
			}
			given := map[string][]string{}
			for _, a := range adviceFor(l, f) {
				for i, text := range []string{a.FirstAction, a.DoNot, a.RepairBy, a.Sure} {
					given[adviceKeys[i]] = append(given[adviceKeys[i]], text)
				}
			}
			f.FirstAction = told(append(given["first_action"], f.FirstAction))
			f.DoNot = told(append(given["do_not"], f.DoNot))
			f.Sure = told(append(given["sure"], f.Sure))
			f.RepairBy = byWhom(append(given["repair_by"], f.RepairBy))
		}
	}
}

// adviceFor lists what the faults of a finding say for its place, the worst
// hazard first.
func adviceFor(l *content.Library, f *faulttree.Finding) []*content.Advice {
	var known []*content.Fault
	for _, id := range f.Faults {
		if fault := l.Faults[id]; fault != nil {
			known = append(known, fault)
		}
	}
	slices.SortStableFunc(known, func(a, b *content.Fault) int { return int(b.Hazard) - int(a.Hazard) })
	var out []*content.Advice
	for _, fault := range known {
		if a := fault.At(f.Place); a != nil {
			out = append(out, a)
		}
	}
	return out
}

// told is all sentences of the texts, each once.
func told(texts []string) string {
	var out []string
	for _, text := range texts {
		for _, sentence := range document.WholeSentences(text) {
			out = lists.With(out, sentence)
		}
	}
	return strings.Join(out, " ")
}

// byWhom is every phrase once: who repairs one fault, and who the other.
func byWhom(texts []string) string {
	var out []string
	for _, text := range texts {
		if text != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return strings.Join(out, "; ")
}
