package load

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// attributeUnits is what each attribute is given in.
var attributeUnits = map[rig.Attribute]rig.ParamUnit{
	rig.AttrVolts: rig.Volts, rig.AttrDegrees: rig.Degrees, rig.AttrOhms: rig.Ohms, rig.AttrHenries: rig.Henries,
	rig.AttrFarads: rig.Farads, rig.AttrPerMetre: rig.FaradsPerMetre, rig.AttrGauge: rig.Gauge, rig.AttrLength: rig.Metres,
	rig.AttrWatts: rig.Watts, rig.AttrAtVolts: rig.Volts, rig.AttrPowerFactor: rig.Ratio, rig.AttrTrip: rig.Amperes,
	rig.AttrResidual: rig.Amperes, rig.AttrLimit: rig.Amperes,
}

// kindForm is what the parts of a kind may and must say. The first of needs
// is a part's main number.
type kindForm struct {
	kind         rig.Kind
	needs, takes []rig.Attribute
	words        []string // keys that hold no number
}

var kindForms = []kindForm{
	{rig.Source, []rig.Attribute{rig.AttrVolts}, []rig.Attribute{rig.AttrDegrees, rig.AttrOhms, rig.AttrHenries}, []string{"direct"}},
	{rig.Conductor, nil, []rig.Attribute{rig.AttrLength, rig.AttrGauge, rig.AttrPerMetre, rig.AttrOhms}, nil},
	{rig.Joint, []rig.Attribute{rig.AttrOhms}, nil, nil},
	{rig.Resistance, []rig.Attribute{rig.AttrOhms}, nil, nil},
	{rig.Capacitance, []rig.Attribute{rig.AttrFarads}, nil, nil},
	{rig.Inductance, []rig.Attribute{rig.AttrHenries}, nil, nil},
	{rig.Load, []rig.Attribute{rig.AttrWatts, rig.AttrAtVolts}, []rig.Attribute{rig.AttrPowerFactor}, []string{"leg", "always"}},
	{rig.Breaker, []rig.Attribute{rig.AttrOhms}, []rig.Attribute{rig.AttrTrip, rig.AttrResidual}, nil},
	{rig.Charger, []rig.Attribute{rig.AttrVolts, rig.AttrOhms, rig.AttrLimit}, nil, nil},
}

// partWords are the keys that a part of any kind may have.
var partWords = []string{"part", "title", "wires", "switch"}

// partKeys is every key that some part may have.
func partKeys() []string {
	keys := slices.Clone(partWords)
	for _, f := range kindForms {
		keys = append(keys, f.kind.String())
		keys = append(keys, f.words...)
	}
	for a := rig.AttrVolts; a <= rig.AttrLimit; a++ {
		keys = append(keys, a.String())
	}
	return keys
}

// entry reads one entry of the list of parts.
func (r *rigReader) entry(item document.Value) {
	m := item.Map("a part", partKeys()...)
	if !item.IsMap() {
		return
	}
	name := m.NeedText("part")
	if name == "" || !r.nameForm(m.Get("part"), name, "a part") {
		return
	}
	form, ok := r.kindOf(item, m)
	if !ok {
		return
	}
	run := rig.NewPart(name, form.kind, "", "")
	run.Title, run.Switch, run.Pos = m.Text("title"), m.Text("switch"), m.Get("part").Pos()
	r.words(m, form, &run)
	r.numbers(m, form, &run)
	wires, ok := r.wires(m)
	if ends := r.ends(m.Get(form.kind.String()), len(wires) > 0); ok && ends[0] != "" {
		run.A, run.B = ends[0], ends[1]
		r.expand(m, run, wires)
	}
}

// nameForm reports a name that no part or node can have.
func (r *rigReader) nameForm(v document.Value, name, what string) bool {
	if pointForm.MatchString(name) {
		return true
	}
	v.Report(RuleBadID, "", "%s cannot name %s; expected a form such as cord or cord.l1", name, what)
	return false
}

// kindOf finds what a part is and reports keys of other kinds.
func (r *rigReader) kindOf(item document.Value, m document.Map) (kindForm, bool) {
	var found kindForm
	var all []string
	for _, f := range kindForms {
		word := f.kind.String()
		all = append(all, word)
		switch {
		case !m.Has(word):
		case found.kind != 0:
			r.diags.Add(m.KeyPos(word), RuleBadPart, "the part is a %s and a %s; expected one of them", found.kind, word)
			return found, false
		default:
			found = f
		}
	}
	if found.kind == 0 {
		item.Report(RuleBadPart, "", "the part does not say what it is; expected one of the keys %s with its two nodes", either(all))
		return found, false
	}
	own := slices.Concat([]string{found.kind.String()}, partWords, found.words)
	for _, a := range slices.Concat(found.needs, found.takes) {
		own = append(own, a.String())
	}
	ok := true
	for _, key := range partKeys() {
		if m.Has(key) && !slices.Contains(own, key) {
			r.diags.AddHint(m.KeyPos(key), RuleBadPart, source.DidYouMean(key, own), "a %s has no key %s", found.kind, key)
			ok = false
		}
	}
	return found, ok
}

// words reads what a part says besides numbers.
func (r *rigReader) words(m document.Map, form kindForm, run *rig.Part) {
	switch form.kind {
	case rig.Source:
		run.Direct = flag(m, "direct")
	case rig.Load:
		run.Always = flag(m, "always")
		if m.Has("leg") {
			run.Leg = oneOf(m.Get("leg"), "leg", legs)
		} else if !run.Always {
			m.Need("leg")
		}
	}
}

// legs are the circuits that loads can be switched on by.
var legs = []string{"l1", "l2", "l1l2", "dc"}

// numbers reads the attributes of a part.
func (r *rigReader) numbers(m document.Map, form kindForm, run *rig.Part) {
	for _, a := range form.needs {
		m.Need(a.String())
	}
	for _, a := range slices.Concat(form.needs, form.takes) {
		if !m.Has(a.String()) {
			continue
		}
		v, name := m.Get(a.String()), run.Name+"."+a.String()
		if i, same := r.same(v, name, attributeUnits[a]); same {
			run.Params[a] = i
		} else if p, ok := r.param(v, name, attributeUnits[a]); ok {
			run.Params[a] = r.add(p)
		}
	}
	if form.kind != rig.Conductor {
		return
	}
	switch {
	case m.Has("ohms") && (m.Has("gauge") || m.Has("length")):
		r.diags.Add(m.KeyPos("ohms"), RuleBadPart, "the conductor has ohms beside gauge or length; expected ohms alone, or gauge and length")
	case !m.Has("ohms"):
		m.Need("gauge")
		m.Need("length")
	case m.Has("coupling"):
		r.diags.Add(m.KeyPos("coupling"), RuleBadPart, "coupling is farads for each metre, but the conductor has no length")
	}
	if m.Has("coupling") && !m.Has("wires") {
		r.diags.Add(m.KeyPos("coupling"), RuleBadPart, "coupling lies between the wires of a run, but the part has no wires")
	}
}

// same reads a number that another part has too, such as {same:
// source.l1.volts}: both are one number, drawn and set together. It reports
// whether the value has that form.
func (r *rigReader) same(v document.Value, name string, u rig.ParamUnit) (int, bool) {
	if !v.IsMap() || !v.Map("the number "+name, "same", "value", "from", "to", "log", "source").Has("same") {
		return rig.None, false
	}
	at := v.Map("the number "+name, "same").Need("same")
	other := at.Text("same")
	i := r.rig.Param(other)
	switch {
	case other == "":
	case i == rig.None:
		var known []string
		for _, p := range r.rig.Params {
			known = append(known, p.Name)
		}
		at.Report(RuleBadPart, source.DidYouMean(other, known), "no part above has the number %s", other)
	case r.rig.Params[i].Unit != u:
		at.Report(RuleUnitMismatch, "", "%s is in %s, but %s in %s", name, unitWord(u), other, unitWord(r.rig.Params[i].Unit))
		i = rig.None
	}
	return i, true
}

// wires reads the wires of a run; there are none in a single part.
func (r *rigReader) wires(m document.Map) ([]string, bool) {
	v := m.Get("wires")
	if v.IsZero() {
		return nil, true
	}
	var out []string
	for _, item := range v.Items("wires") {
		name := item.Text("a wire")
		switch {
		case name == "":
			return nil, false
		case !idForm.MatchString(name):
			item.Report(RuleBadID, "", "%s cannot name a wire; expected a form such as l1", name)
			return nil, false
		case slices.Contains(out, name):
			item.Report(RuleDuplicateID, "", "the wire %s stands twice", name)
			return nil, false
		}
		out = append(out, name)
	}
	if len(out) == 0 || len(out) > mostWires {
		v.Report(RuleBadPart, "", "the run has %d wires; expected 1 to %d", len(out), mostWires)
		return nil, false
	}
	return out, true
}

// ends reads the two nodes of a part, or of a run the two groups of nodes.
func (r *rigReader) ends(v document.Value, run bool) [2]string {
	var out [2]string
	items := v.Items("the nodes of a part")
	if v.IsList() && len(items) != 2 {
		v.Report(RuleBadPart, "", "the part has %d ends; expected two nodes", len(items))
		return out
	}
	for i, item := range items {
		name := item.Text("a node")
		switch {
		case name == "" || !r.nameForm(item, name, "a node"):
			return [2]string{}
		case run && strings.Contains(name, "."):
			item.Report(RuleBadPart, "", "a run with wires lies between groups of nodes, but %s is one node", name)
			return [2]string{}
		}
		out[i] = name
	}
	if out[0] != "" && out[0] == out[1] {
		v.Report(RuleBadPart, "", "both ends of the part are at %s", out[0])
		return [2]string{}
	}
	return out
}

// expand adds a part, or every wire of a run and what couples them.
func (r *rigReader) expand(m document.Map, run rig.Part, wires []string) {
	if pos, twice := r.names[run.Name]; twice {
		twiceDefined(&r.diags, run.Pos, pos, "the part "+run.Name)
		return
	}
	if len(wires) == 0 {
		r.put(run)
		return
	}
	r.names[run.Name] = run.Pos
	for _, wire := range wires {
		one := run
		one.Name, one.Wire = run.Name+"."+wire, wire
		one.A, one.B = run.A+"."+wire, run.B+"."+wire
		if run.Title != "" {
			one.Title = run.Title + ", " + wireWord(wire)
		}
		r.put(one)
	}
	if run.Params[rig.AttrPerMetre] == rig.None || run.Params[rig.AttrLength] == rig.None {
		return
	}
	for i, a := range wires {
		for _, b := range wires[i+1:] {
			r.couple(run, a, b)
		}
	}
}

// couple adds the capacitance between two wires of a run, half at each end.
func (r *rigReader) couple(run rig.Part, a, b string) {
	for i, end := range []string{run.A, run.B} {
		c := rig.NewPart(fmt.Sprintf("%s.coupling-%s-%s.%s", run.Name, a, b, []string{"a", "b"}[i]), rig.Capacitance, end+"."+a, end+"."+b)
		c.Run, c.Pos = run.Name, run.Pos
		c.Params[rig.AttrPerMetre], c.Params[rig.AttrLength] = run.Params[rig.AttrPerMetre], run.Params[rig.AttrLength]
		if run.Title != "" {
			c.Title = fmt.Sprintf("%s, capacitance of %s to %s", run.Title, wireWord(a), wireWord(b))
		}
		r.put(c)
	}
}

// put adds one part within the bound.
func (r *rigReader) put(p rig.Part) {
	switch pos, twice := r.names[p.Name]; {
	case r.over:
	case twice:
		twiceDefined(&r.diags, p.Pos, pos, "the part "+p.Name)
	case len(r.rig.Parts) >= mostParts:
		r.over = true
		r.diags.Add(p.Pos, RuleRigSize, "with its wires and couplings the rig has more than %d parts", mostParts)
	default:
		r.names[p.Name] = p.Pos
		r.rig.Parts = append(r.rig.Parts, p)
	}
}

// wireWord names a wire for the reader.
func wireWord(wire string) string {
	switch wire {
	case "l1", "l2", "l3":
		return strings.ToUpper(wire)
	case "n":
		return "neutral"
	case "g":
		return "ground"
	case "pos":
		return "positive"
	case "neg":
		return "negative"
	}
	return wire
}
