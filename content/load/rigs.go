package load

import (
	"slices"

	"faultwright/content"
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
	mostVaries   = 20 // varieties
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
func (p *part) readRig(m *measurables) {
	root := document.ParseYAML(p.file, &p.diags)
	front := root.Map("a rig", "rig", "title", "plain", "text", "trees", "facts", "columns", "hertz", "celsius", "switches", "inside", "varieties", "shows", "share", "parts")
	if !root.IsMap() {
		return
	}
	r := &rigReader{part: p, names: map[string]source.Pos{}, rig: &rig.Rig{
		ID: p.id, Pos: p.named("rig", front.Need("rig")), Title: front.NeedText("title"), Plain: front.Text("plain"), Text: front.NeedText("text"),
		Trees: p.refer(refTree, front.Get("trees"), "trees"), Facts: m.given(front.Get("facts")), States: m.states, Heat: m.heat, Hertz: rig.None, Celsius: rig.None,
	}}
	r.rig.Hertz = r.general(front, "hertz", rig.Hertz, usualHertz)
	r.rig.Celsius = r.general(front, "celsius", rig.Celsius, usualCelsius)
	r.rig.Shows = p.refer(refFault, front.Get("shows"), "shows")
	if front.Has("share") {
		r.rig.Share = readShare(front.Get("share"))
	}
	r.columns(front.Get("columns"))
	for _, item := range front.Need("parts").Items("parts") {
		if p.full() || r.over {
			break
		}
		r.entry(item)
	}
	r.switches(front.Get("switches"), front.Get("inside"))
	r.varieties(front.Get("varieties"))
	if v := front.Get("parts"); v.IsList() && len(r.rig.Parts) == 0 && !p.diags.HasErrors() {
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

// switches reads the switches and what is got at inside.
func (r *rigReader) switches(v, inside document.Value) {
	first := map[string]source.Pos{}
	var places, nodes []string
	for _, p := range r.rig.Parts {
		places, nodes = append(places, placeIn(p.A), placeIn(p.B)), append(nodes, p.A, p.B)
	}
	slices.Sort(places)
	places = slices.Compact(places)
	items := v.Items("switches")
	if len(items) > mostSwitches {
		v.Report(RuleRigSize, "", "the rig has %d switches; at most %d are read", len(items), mostSwitches)
		return
	}
	for _, item := range items {
		m := item.Map("a switch", "switch", "title", "off", "covers", "bare")
		name := m.NeedText("switch")
		at := m.Get("switch")
		s := rig.Switch{Name: name, Title: m.NeedText("title"), Off: flag(m, "off"), Pos: at.Pos()}
		s.Covers = r.among(m.Get("covers"), places, RuleUnknownNode, "the rig has no place %s")
		s.Bare = r.among(m.Get("bare"), nodes, RuleUnknownNode, "the rig has no node %s")
		if !checkID(at, name, "a switch") {
			continue
		}
		if pos, twice := first[name]; twice {
			twiceDefined(&r.diags, s.Pos, pos, "the switch "+name)
			continue
		}
		first[name] = s.Pos
		r.rig.Switches = append(r.rig.Switches, s)
		places = append(places, name)
	}
	r.rig.Inside = r.among(inside, places, RuleUnknownNode, "the rig has no place or switch %s")
}

// varieties reads in what some vehicles of the rig differ from the others.
func (r *rigReader) varieties(v document.Value) {
	first := map[string]source.Pos{}
	items := v.Items("varieties")
	if len(items) > mostVaries {
		v.Report(RuleRigSize, "", "the rig has %d varieties; at most %d are read", len(items), mostVaries)
		return
	}
	for _, item := range items {
		m := item.Map("a variety", "variety", "title", "share", "open", "without", "source")
		if !item.IsMap() {
			continue
		}
		at := m.Need("variety")
		out := rig.Variety{Name: at.Text("variety"), Title: m.NeedText("title"), Pos: at.Pos()}
		checkID(at, out.Name, "a variety")
		if pos, twice := first[out.Name]; twice {
			twiceDefined(&r.diags, at.Pos(), pos, "the variety "+out.Name)
			continue
		}
		first[out.Name] = at.Pos()
		out.Share = readShare(m.Need("share"))
		r.referTo(refSource, m, "source")
		var parts, switches []string
		for _, p := range r.rig.Parts {
			parts = append(parts, p.Name, p.Run)
		}
		for _, s := range r.rig.Switches {
			switches = append(switches, s.Name)
		}
		out.Open = r.among(m.Need("open"), parts, RuleUnknownPart, "the rig has no part %s")
		out.Without = r.among(m.Need("without"), switches, RuleUnknownSwitch, "the rig has no switch %s")
		r.rig.Varieties = append(r.rig.Varieties, out)
	}
}

// readShare reads a share, more than 0.
func readShare(v document.Value) float64 {
	x, ok := readValue(v, "share", rig.Ratio)
	if ok && (x <= 0 || x > 1) {
		v.Report(RuleBadNumber, "", "the share is %s; expected more than 0 and at most 1", v.Text("share"))
	}
	return x
}

// among reads names of which the rig must have each.
func (r *rigReader) among(v document.Value, known []string, rule, missing string) []string {
	var out []string
	items := v.Items("a list")
	if v.IsList() && (len(items) == 0 || len(items) > mostNames) {
		v.Report(RuleBadValue, "", "the list names %d things; expected 1 to %d", len(items), mostNames)
		return nil
	}
	for _, item := range items {
		name := item.Text("a name")
		switch {
		case name == "":
		case !slices.Contains(known, name):
			item.Report(rule, source.DidYouMean(name, known), missing, name)
		default:
			out = append(out, name)
		}
	}
	return out
}

// mostFactSteps is how many steps are looked at for the facts that rigs must
// state.
const mostFactSteps = 1_000_000

// checkRigFacts reports the facts that a tree may ask and a rig that lists the
// tree does not state, where the rig lists it.
func checkRigFacts(l *content.Library, parts []*part) {
	if len(l.Forest.Facts) == 0 {
		return
	}
	left := mostFactSteps
	for _, p := range parts {
		if p.rig == nil {
			continue
		}
		for _, ref := range p.refs {
			if ref.kind != refTree || l.Forest.Tree(ref.id) == nil {
				continue
			}
			for _, id := range l.Forest.Reached(ref.id) {
				if t := l.Forest.Trees[id]; t != nil {
					left -= len(t.Steps)
				}
			}
			if left < 0 {
				l.Diagnostics.Add(ref.pos, RuleRigFact, "from here on nobody looks whether rigs state the facts that their trees ask: that would be more than %d steps", mostFactSteps)
				return
			}
			for _, fact := range l.Forest.Unstated(ref.id, p.rig.Facts) {
				l.Diagnostics.AddHint(ref.pos, RuleRigFact, "add it to the facts: of the rig", "the rig %s does not state the fact %s, which the tree %s asks", p.rig.ID, fact, ref.id)
			}
		}
	}
}

// param reads one number of a rig: a text, or a mapping with the range that
// drawn rigs take it from.
func (p *part) param(v document.Value, name string, u rig.ParamUnit) (rig.Param, bool) {
	out := rig.Param{Name: name, Unit: u, Pos: v.Pos()}
	if !v.IsMap() {
		x, ok := readValue(v, name, u)
		out.Value, out.From, out.To = x, x, x
		return out, ok
	}
	m := v.Map("the number "+name, "value", "from", "to", "log", "source")
	var read [3]bool
	out.Value, read[0] = readValue(m.Need("value"), name, u)
	out.From, read[1] = readValue(m.Get("from"), name+" from", u)
	out.To, read[2] = readValue(m.Get("to"), name+" to", u)
	out.Log = flag(m, "log")
	p.referTo(refSource, m, "source")
	switch {
	case m.Has("from") != m.Has("to"):
		v.Report(RuleBadRange, "", "%s has only one end of a range; expected from and to", name)
		return out, false
	case !m.Has("from"):
		out.From, out.To = out.Value, out.Value
		if out.Log {
			v.Report(RuleBadRange, "", "%s is drawn by its logarithm, but has no range", name)
			return out, false
		}
		return out, read[0]
	case !read[0] || !read[1] || !read[2]:
		return out, false
	}
	return out, p.ranged(v, m, out)
}

// ranged checks the range of a number that has one.
func (p *part) ranged(v document.Value, m document.Map, x rig.Param) bool {
	if x.From >= x.To {
		m.Get("from").Report(RuleBadRange, "", "%s runs from %s to %s; expected from to lie below to", x.Name, m.Text("from"), m.Text("to"))
		return false
	}
	if x.Value < x.From || x.Value > x.To {
		m.Get("value").Report(RuleBadRange, "", "the ordinary %s, %s, lies outside of %s to %s", x.Name, m.Text("value"), m.Text("from"), m.Text("to"))
		return false
	}
	if x.Log && (x.From <= 0 || mayBeNegative(x.Unit)) {
		m.Get("from").Report(RuleBadRange, "", "%s is drawn by its logarithm; expected from to be more than 0", x.Name)
		return false
	}
	return true
}

// flag reads true or false, false if the key is absent.
func flag(m document.Map, key string) bool {
	return m.Has(key) && oneOf(m.Get(key), key, []string{"true", "false"}) == "true"
}
