package load

import (
	"faultwright/content/document"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// Bounds on rigs. A rig beyond them is refused as a whole.
const (
	mostRigs     = 200
	mostParts    = 2000 // of a rig, wires and couplings counted each
	mostWires    = 12   // of a run
	mostSwitches = 100
)

// A rig that names no frequency and no temperature has these.
const (
	usualHertz   = 60
	usualCelsius = 20
)

// rigReader reads one rig.
type rigReader struct {
	*part
	rig   *rig.Rig
	names map[string]source.Pos // of parts and runs
	over  bool                  // beyond the bound on parts
}

// readRig reads a rig. A rig with errors is kept only for what it names.
func (p *part) readRig() {
	root := document.ParseYAML(p.file, &p.diags)
	m := root.Map("a rig", "rig", "title", "text", "trees", "columns", "hertz", "celsius", "switches", "parts")
	if !root.IsMap() {
		return
	}
	r := &rigReader{part: p, names: map[string]source.Pos{}, rig: &rig.Rig{
		ID: p.id, Pos: p.named("rig", m.Need("rig")), Title: m.NeedText("title"), Text: m.NeedText("text"),
		Trees: p.refer(refTree, m.Get("trees"), "trees"), Hertz: rig.None, Celsius: rig.None,
	}}
	r.rig.Hertz = r.general(m, "hertz", rig.Hertz, usualHertz)
	r.rig.Celsius = r.general(m, "celsius", rig.Celsius, usualCelsius)
	r.columns(m.Get("columns"))
	r.switches(m.Get("switches"))
	for _, item := range m.Need("parts").Items("parts") {
		if p.full() || r.over {
			break
		}
		r.entry(item)
	}
	if v := m.Get("parts"); v.IsList() && len(r.rig.Parts) == 0 && !p.diags.HasErrors() {
		v.Report(document.RuleWrongType, "", "the rig has no parts")
	}
	p.rig, p.rigCut = r.rig, p.full() || r.over
	if !p.diags.HasErrors() {
		p.diags = append(p.diags, bench.Check(p.rig)...)
	}
}

// general reads a number of the whole rig and returns its index.
func (r *rigReader) general(m document.Map, key string, u rig.ParamUnit, usual float64) int {
	out := rig.Param{Name: key, Unit: u, Value: usual, From: usual, To: usual, Pos: r.rig.Pos}
	if m.Has(key) {
		out, _ = r.param(m.Get(key), key, u)
	}
	return r.add(out)
}

// add keeps a number and returns its index.
func (r *rigReader) add(p rig.Param) int {
	r.rig.Params = append(r.rig.Params, p)
	return len(r.rig.Params) - 1
}

func (r *rigReader) columns(v document.Value) {
	seen := map[string]bool{}
	for _, item := range v.Items("columns") {
		name := item.Text("a column")
		switch {
		case name == "":
		case !idForm.MatchString(name):
			item.Report(RuleBadID, "", "%s cannot name a column; expected the group of some nodes, such as pedestal", name)
		case seen[name]:
			item.Report(RuleDuplicateID, "", "the column %s stands twice", name)
		default:
			seen[name] = true
			r.rig.Columns = append(r.rig.Columns, name)
		}
	}
}

func (r *rigReader) switches(v document.Value) {
	first := map[string]source.Pos{}
	items := v.Items("switches")
	if len(items) > mostSwitches {
		v.Report(RuleRigSize, "", "the rig has %d switches; at most %d are read", len(items), mostSwitches)
		return
	}
	for _, item := range items {
		m := item.Map("a switch", "switch", "title", "off")
		name := m.NeedText("switch")
		at := m.Get("switch")
		s := rig.Switch{Name: name, Title: m.NeedText("title"), Off: flag(m, "off"), Pos: at.Pos()}
		switch {
		case name == "":
			continue
		case !idForm.MatchString(name):
			at.Report(RuleBadID, "", "%s cannot name a switch; expected lower-case letters, digits and hyphens", name)
			continue
		}
		if pos, twice := first[name]; twice {
			twiceDefined(&r.diags, s.Pos, pos, "the switch "+name)
			continue
		}
		first[name] = s.Pos
		r.rig.Switches = append(r.rig.Switches, s)
	}
}
