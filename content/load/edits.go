package load

import (
	"slices"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Bounds on what a fault does to a rig, and on how often it is met.
const (
	mostVariants = 50
	mostEdits    = 50   // of a variant
	mostNames    = 50   // of an edit
	mostUses     = 1000 // of a fault
	mostWeight   = 1000
)

// editReader reads what a fault does to a rig.
type editReader struct {
	*part
	severity *rig.Param
	used     bool // by an edit
}

// readEdits reads the front matter of a fault that speaks of rigs. The result
// is nil for a fault without variants, and for one whose variants have errors:
// half a fault would be worse than none.
func (p *part) readEdits(front document.Map, f *content.Fault) *rig.Fault {
	before := len(p.diags)
	out := &rig.Fault{ID: f.ID, Title: f.Title, Hazard: f.Hazard, Weight: 1, Pos: f.Pos}
	if front.Has("weight") {
		v := front.Get("weight")
		w, ok := readValue(v, "weight", rig.Ratio)
		if ok && (w <= 0 || w > mostWeight) {
			v.Report(RuleBadNumber, "", "weight is %s; expected more than 0 and at most %d", v.Text("weight"), mostWeight)
		}
		out.Weight = w
	}
	r := &editReader{part: p}
	severity := front.Get("severity")
	if front.Has("severity") {
		r.severity = r.readSeverity(severity, f.ID, f.Sources)
		out.Severity = r.severity
	}
	variants := front.Get("variants")
	items := variants.Items("variants")
	switch {
	case variants.IsList() && len(items) == 0:
		variants.Report(document.RuleWrongType, "", "the list of variants is empty")
	case len(items) > mostVariants:
		variants.Report(RuleBadEdit, "", "the fault has %d variants; at most %d are read", len(items), mostVariants)
		items = nil
	}
	for _, item := range items {
		out.Variants = append(out.Variants, r.variant(item, f, len(items)))
	}
	if len(p.uses) > mostUses {
		variants.Report(RuleBadEdit, "", "the edits of the fault name %d things; at most %d are read", len(p.uses), mostUses)
		p.uses = nil
	}
	if r.severity != nil && !r.used && len(p.diags) == before {
		severity.Report(RuleSeverity, "", "the fault declares a severity, but no edit uses it")
	}
	if len(p.diags) > before || len(out.Variants) == 0 {
		return nil
	}
	return out
}

// readSeverity reads the one number of a fault. Its unit is that of its upper
// end.
func (r *editReader) readSeverity(v document.Value, id string, sources []string) *rig.Param {
	failed := &rig.Param{Name: id} // no unit: uses of it are not reported again
	if !v.IsMap() {
		v.Report(RuleSeverity, "", "severity has no range; expected a form such as {value: 3 Ω, from: 0.3 Ω, to: 100 Ω, log: true}")
		return failed
	}
	m := v.Map("severity", "value", "from", "to", "log", "source")
	m.Need("from")
	to := m.Need("to")
	if !m.Has("source") && len(sources) == 0 {
		v.Report(RuleUnsourcedNumber, "", "severity has no source; write source: into it, or give the fault its sources")
	}
	text := to.Text("to")
	if text == "" {
		return failed
	}
	_, u, err := parseAny(text)
	if err != nil {
		to.Report(RuleBadNumber, "", "severity: %v", err)
		return failed
	}
	p, ok := r.param(v, id, u)
	if !ok {
		return failed
	}
	return &p
}

// variant reads one way in which the fault happens.
func (r *editReader) variant(item document.Value, f *content.Fault, of int) rig.Variant {
	m := item.Map("a variant", "place", "text", "needs", "with", "edits")
	out := rig.Variant{Pos: item.Pos()}
	if of > 1 {
		out.Text = m.NeedText("text")
	} else {
		out.Text = m.Text("text")
	}
	place := m.Need("place")
	out.Place = oneOf(place, "place", faulttree.Places())
	if out.Place != "" && len(f.Places) > 0 && !slices.Contains(f.Places, out.Place) {
		place.Report(RuleBadEdit, "", "the variant happens in %s, which is not among the places of the fault", out.Place)
	}
	if m.Has("needs") {
		out.Needs = r.list(m.Get("needs"), useRun)
	}
	out.With = r.refer(refFault, m.Get("with"), "with")
	edits := m.Need("edits")
	items := edits.Items("edits")
	switch {
	case edits.IsList() && len(items) == 0:
		edits.Report(document.RuleWrongType, "", "the list of edits is empty")
	case len(items) > mostEdits:
		edits.Report(RuleBadEdit, "", "the variant has %d edits; at most %d are read", len(items), mostEdits)
		items = nil
	}
	for _, item := range items {
		out.Edits = append(out.Edits, r.edit(item)...)
	}
	return out
}

// editKinds are the edits with the keys that each takes besides its own.
var editKinds = []struct {
	kind        rig.EditKind
	needs, also []string
}{
	{rig.Open, nil, nil},
	{rig.Resist, []string{"ohms"}, nil},
	{rig.Connect, []string{"ohms"}, []string{"leg", "switch"}},
	{rig.Swap, nil, nil},
	{rig.Replace, []string{"volts", "degrees"}, nil},
	{rig.Set, []string{"value"}, nil},
	{rig.Misuse, nil, nil},
}

// edit reads one change. A set of several attributes gives one edit of each.
func (r *editReader) edit(item document.Value) []rig.Edit {
	var keys, kinds []string
	for _, k := range editKinds {
		kinds = append(kinds, k.kind.String())
		keys = slices.Concat(keys, []string{k.kind.String()}, k.needs, k.also)
	}
	m := item.Map("an edit", keys...)
	if !item.IsMap() {
		return nil
	}
	var kind rig.EditKind
	for _, k := range editKinds {
		if !m.Has(k.kind.String()) {
			continue
		}
		if kind != 0 {
			r.diags.Add(m.KeyPos(k.kind.String()), RuleBadEdit, "the edit is %s and %s; expected one of them", kind, k.kind)
			return nil
		}
		kind = k.kind
	}
	if kind == 0 {
		item.Report(RuleBadEdit, "", "the edit does nothing; expected one of the keys %s", either(kinds))
		return nil
	}
	k := editKinds[kind-rig.Open]
	for _, key := range k.needs {
		m.Need(key)
	}
	for _, f := range item.Fields("an edit") {
		if slices.Contains(keys, f.Key) && f.Key != kind.String() && !slices.Contains(k.needs, f.Key) && !slices.Contains(k.also, f.Key) {
			r.diags.Add(f.KeyPos, RuleBadEdit, "the edit %s has no key %s", kind, f.Key)
		}
	}
	return r.change(rig.Edit{Kind: kind, Pos: item.Pos()}, m)
}

// change fills an edit of a known kind.
func (r *editReader) change(e rig.Edit, m document.Map) []rig.Edit {
	v := m.Get(e.Kind.String())
	switch e.Kind {
	case rig.Connect:
		nodes := r.list(v, useNode)
		if v.IsList() && (len(nodes) != 2 || nodes[0] == nodes[1]) {
			v.Report(RuleBadEdit, "", "connect joins two nodes that differ")
			return nil
		}
		copy(e.Nodes[:], nodes)
		e.Ohms = r.amount(m.Get("ohms"), "ohms", rig.Ohms)
		if m.Has("leg") {
			e.Leg = oneOf(m.Get("leg"), "leg", legs)
		}
		if e.Switch = m.Text("switch"); e.Switch != "" {
			r.uses = append(r.uses, use{useSwitch, e.Switch, m.Get("switch").Pos()})
		}
	case rig.Set:
		return r.set(e, v, m.Get("value"))
	case rig.Misuse:
		e.Mistake = mistake(v, "meter")
	case rig.Swap:
		e.Parts = r.list(v, usePart)
		if v.IsList() && (len(e.Parts) != 2 || e.Parts[0] == e.Parts[1]) {
			v.Report(RuleBadEdit, "", "swap exchanges the far ends of two parts that differ")
		}
	case rig.Open:
		e.Parts = r.list(v, usePart)
	case rig.Resist:
		e.Parts = r.list(v, usePart)
		e.Ohms = r.amount(m.Get("ohms"), "ohms", rig.Ohms)
	case rig.Replace:
		e.Parts = r.list(v, usePart)
		e.Volts = r.amount(m.Get("volts"), "volts", rig.Volts)
		e.Degrees = r.amount(m.Get("degrees"), "degrees", rig.Degrees)
	}
	return []rig.Edit{e}
}

// mistake reads how a meter is used wrongly.
func mistake(v document.Value, what string) rig.Mistake {
	var names []string
	for m := rig.HoldLeftOn; m <= rig.BrokenLead; m++ {
		names = append(names, m.String())
	}
	return rig.Mistake(slices.Index(names, oneOf(v, what, names)) + 1)
}
