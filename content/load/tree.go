package load

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// stepInfo marks the fenced block that says what a step decides.
const stepInfo = "yaml step"

// Bounds on a tree, five to ten times what the longest of the shipped ones has.
const (
	mostSteps    = 1000
	mostLimits   = 200
	mostBranches = 200 // of a step, and choices
	mostTitle    = 500 // bytes of a step's heading
)

// treeReader reads one tree document.
type treeReader struct {
	*part
	m    *measurables
	used map[string]bool // limits whose unit is fixed by their first use

	unread map[string]bool // limits that could not be read: their use is not reported again
}

func (p *part) readTree(m *measurables) {
	front, doc := p.open("tree", "summary", "start", "symptoms", "complaint", "scope", "limits", "danger", "at-once", "no-plug", "sheet", "was", "facts", "names")
	r := &treeReader{part: p, m: m, used: map[string]bool{}, unread: map[string]bool{}}
	p.tree = &faulttree.Tree{
		ID: doc.ID, Title: doc.Title, Summary: front.NeedText("summary"), Start: p.needTo(refStep, front, "start"),
		Symptoms: doc.Symptoms, Scope: listOf(front.Need("scope"), "scope", faulttree.Places()), Pos: doc.Pos,
		Limits: map[string]faulttree.Limit{}, Danger: map[string]string{}, AtOnce: map[string]string{}, NoPlug: map[string]string{}, Unfit: map[string][]faulttree.Span{}, Was: map[string]string{},
	}
	if _, taken := (faulttree.Ref{Tree: p.id}).Fact(); taken {
		p.diags.Add(doc.Pos, RuleReservedID, "the id %s belongs to the program; choose another", p.id)
	}
	p.tree.Facts = m.given(front.Get("facts"))
	r.names(front.Get("names"))
	r.limits(front.Get("limits"))
	r.danger(front.Get("danger"))
	r.atOnce(front.Get("at-once"))
	r.noPlug(front.Get("no-plug"))
	if front.Has("complaint") {
		r.complaint(front.Get("complaint"))
	}
	for _, item := range front.Get("sheet").Items("sheet") {
		if id := item.Text("an entry of sheet"); id != "" {
			if _, ok := m.find(p, item.Pos(), id); ok {
				p.tree.Sheet = append(p.tree.Sheet, id)
			}
		}
	}
	r.steps(doc.Body)
	r.was(front.Get("was"))
}

// limits reads the named values of a tree.
func (r *treeReader) limits(v document.Value) {
	for _, f := range cut(v, v.Fields("limits"), mostLimits, RuleTreeSize, "the tree has", "limits") {
		r.unread[f.Key] = true
		if f.Value.IsText() {
			f.Value.Report(document.RuleWrongType, "", "a limit is %[1]q; expected keys and values such as {value: %[1]s, source: common-practice}", f.Value.Text("a limit"))
			continue
		}
		m := f.Value.Map("a limit", "value", "source")
		l := faulttree.Limit{Name: f.Key, Source: r.needTo(refSource, m, "source"), Pos: f.KeyPos}
		if !idForm.MatchString(f.Key) {
			r.diags.Add(f.KeyPos, RuleBadID, "%s cannot name a limit; expected lower-case letters, digits and hyphens", f.Key)
		}
		if value, ok := readMeasured(m.Need("value"), "value"); ok {
			if value.symbol == "" {
				m.Get("value").Report(RuleBadUnit, "", "a limit of 0 needs no name; write 0 in the branch")
				continue
			}
			l.Value, l.Unit = value.amount, value.unit()
			r.used[f.Key] = value.kind != ""
			r.tree.Limits[f.Key] = l
			delete(r.unread, f.Key)
		}
	}
}

// danger reads from which limit on a quantity can hurt, and lists the quantities.
func (r *treeReader) danger(v document.Value) (read []string) {
	for _, f := range v.Fields("danger") {
		name := f.Value.Text("a danger limit")
		q, found := r.m.find(r.part, f.KeyPos, f.Key)
		_, known := r.limit(f.Value, name, q.Unit)
		switch _, twice := r.tree.Danger[f.Key]; {
		case twice:
			r.diags.Add(f.KeyPos, document.RuleDuplicateKey, "%s has a danger limit already", f.Key)
		case known || !found:
			r.tree.Danger[f.Key] = name
			r.tree.Gravest = append(r.tree.Gravest, f.Key)
			read = append(read, f.Key)
		}
	}
	return read
}

// atOnce reads danger limits of quantities that no step measures, by the step that
// says what to do at once where a figure that was brought reaches one.
func (r *treeReader) atOnce(v document.Value) {
	for _, f := range v.Fields("at-once") {
		if at := faulttree.ParseRef(f.Key, r.id); at.Tree != r.id {
			r.diags.AddHint(f.KeyPos, RuleBadValue, "put the limit into that tree, or a step into this one", "the step %s stands in another tree; expected one of this tree", f.Key)
			continue
		}
		r.noted(refStep, f.Key, f.KeyPos)
		for _, quantity := range r.danger(f.Value) {
			r.tree.AtOnce[quantity] = f.Key
		}
	}
}

// noPlug reads from which limit on a reading of a supply forbids the plug, and between
// which bounds it is too low or too high: one of these, or a list of them.
func (r *treeReader) noPlug(v document.Value) {
	for _, f := range v.Fields("no-plug") {
		q, found := r.m.find(r.part, f.KeyPos, f.Key)
		if !found || !r.ofSupply(f, q) {
			continue
		}
		bounds := []document.Value{f.Value}
		if f.Value.IsList() {
			bounds = f.Value.Items(f.Key)
		}
		for _, bound := range bounds {
			r.keepsOut(bound, q)
		}
	}
}

// keepsOut reads one bound of a reading of a supply that forbids the plug.
func (r *treeReader) keepsOut(bound document.Value, q faulttree.Quantity) {
	if bound.IsMap() {
		if span, ok := (&stepReader{treeReader: r, step: &faulttree.Step{}}).span(bound, q.ID, q.Unit); ok {
			r.tree.Unfit[q.ID] = append(r.tree.Unfit[q.ID], span)
		}
		return
	}
	name := bound.Text("a limit")
	_, known := r.limit(bound, name, q.Unit)
	_, twice := r.tree.NoPlug[q.ID]
	switch {
	case known && twice:
		bound.Report(document.RuleDuplicateKey, "", "%s has a limit already from which on it forbids the plug", q.ID)
	case known:
		r.tree.NoPlug[q.ID] = name
	}
}

// ofSupply reports what cannot forbid the plug.
func (r *treeReader) ofSupply(f document.Field, q faulttree.Quantity) bool {
	if !q.OfSupply() {
		r.diags.Add(f.KeyPos, RuleBadValue, "%s is not read at a supply with nothing plugged in, so it cannot forbid the plug", f.Key)
	}
	return q.OfSupply()
}

// limit is the value of a named limit for a quantity of unit u. An unknown
// name and a unit that does not fit are reported.
func (r *treeReader) limit(v document.Value, name string, u faulttree.Unit) (faulttree.Amount, bool) {
	if name == "" || r.unread[name] {
		return 0, false
	}
	l, ok := r.tree.Limits[name]
	if !ok {
		v.Report(RuleUnknownLimit, source.DidYouMean(name, slices.Sorted(maps.Keys(r.tree.Limits))), "this file has no limit %s", name)
		return 0, false
	}
	if u == 0 || l.Unit == u {
		r.used[name] = r.used[name] || u != 0
		return l.Value, true
	}
	if l.Unit.Symbol() != u.Symbol() || r.used[name] {
		v.Report(RuleUnitMismatch, "", "the limit %s is in %s, but the quantity is in %s", name, l.Unit, u)
		return 0, false
	}
	l.Unit = u // a limit in volts or amperes takes its kind from its first use
	r.tree.Limits[name], r.used[name] = l, true
	return l.Value, true
}

// steps cuts the text of a tree at its headings.
func (r *treeReader) steps(body []document.Block) {
	r.part.steps = map[string]source.Pos{}
	r.prose = map[string][]document.Block{}
	if r.lost || r.tree.Title == "" && len(body) == 0 && r.diags.HasErrors() {
		r.part.steps = nil // nobody is told that its steps are missing
		return
	}
	if begin := stepsBegin(body); len(begin) > mostSteps {
		r.diags.AddHint(begin[mostSteps], RuleTreeSize, "divide it into trees that lead to one another",
			"the tree has %d steps; it is not read with more than %d", len(begin), mostSteps)
		r.part.steps = nil
		return
	}
	start := -1
	for i := 0; i <= len(body); i++ {
		if i < len(body) {
			h, ok := body[i].(document.Heading)
			if !ok || h.Level > 2 {
				if start < 0 {
					r.outside(body[i])
				}
				continue
			}
			if h.Level == 1 {
				r.diags.Add(h.Pos, RuleTextOutsideSteps, "a heading of the first level does not belong into a tree; its title stands in the front matter")
			}
		}
		if start >= 0 {
			r.step(body[start].(document.Heading), body[start+1:i])
		}
		start = i
	}
	if len(r.part.steps) == 0 && !r.diags.HasErrors() {
		r.diags.Add(r.file.Pos(len(r.file.Text)), RuleTextOutsideSteps, "the tree has no step; expected a heading such as: ## Body to earth {#body-earth}")
	}
}

// stepsBegin are the headings at which steps begin.
func stepsBegin(body []document.Block) []source.Pos {
	var begin []source.Pos
	for _, b := range body {
		if h, ok := b.(document.Heading); ok && h.Level <= 2 {
			begin = append(begin, h.Pos)
		}
	}
	return begin
}

func (r *treeReader) outside(b document.Block) {
	pos := r.file.Pos(0)
	switch x := b.(type) {
	case document.Paragraph:
		pos = x.Pos
	case document.Heading:
		pos = x.Pos
	case document.Code:
		pos = x.Pos
	case document.Table:
		pos = x.Pos
	case document.Callout:
		pos = x.Pos
	case document.Figure:
		pos = x.Pos
	}
	r.diags.Add(pos, RuleTextOutsideSteps, "this stands before the first step, where nobody reads it; put it into the summary or below a step's heading")
}

// wordForm is the name of a measured or derived value.
var wordForm = regexp.MustCompile(`^[a-z][a-z0-9]*([-_][a-z0-9]+)*$`)

// step reads one heading and what stands below it. A step that is broken is
// left with what could be read of it.
func (r *treeReader) step(h document.Heading, blocks []document.Block) {
	s := &faulttree.Step{Tree: r.id, ID: h.ID, Title: strings.TrimSpace(document.PlainInline(h.Text)), Pos: h.Pos}
	if len(s.Title) > mostTitle {
		r.diags.Add(h.Pos, RuleTreeSize, "the heading of this step is %d bytes long; at most %d are read", len(s.Title), mostTitle)
		s.Title = ""
	}
	switch first, twice := r.part.steps[h.ID]; {
	case h.ID == "":
		r.diags.Add(h.Pos, RuleBadID, "the step %q has no id; expected an id behind the heading, such as {#body-earth}", s.Title)
	case !idForm.MatchString(h.ID):
		r.diags.Add(h.Pos, RuleBadID, "%s is not an id; expected lower-case letters, digits and hyphens", h.ID)
	case h.ID == faulttree.HandOver:
		r.diags.Add(h.Pos, RuleReservedID, "the id %s belongs to the program; choose another", h.ID)
	case twice:
		twiceDefined(&r.diags, h.Pos, first, "the step "+h.ID)
	default:
		r.part.steps[h.ID] = h.Pos
		defer func() { r.tree.Steps = append(r.tree.Steps, s) }()
	}
	prose := make([]document.Block, 0, len(blocks))
	found := false
	for _, b := range blocks {
		code, ok := b.(document.Code)
		switch {
		case ok && code.Info == stepInfo && found:
			r.diags.Add(code.Pos, RuleStepBlock, "this is the second step block below the heading %q; expected one", s.Title)
		case ok && code.Info == stepInfo:
			found = true
			(&stepReader{treeReader: r, step: s, blocks: blocks}).read(code.YAML(r.file, &r.diags))
		case ok && strings.HasPrefix(code.Info, "yaml"):
			r.diags.AddHint(code.Pos, RuleStepBlock, "did you mean yaml step?", "the block has the info string %q, so nothing reads it; expected yaml step", code.Info)
		default:
			prose = append(prose, b)
		}
	}
	if !found {
		r.diags.Add(h.Pos, RuleStepBlock, "the step %q has no step block; expected a fenced block with the info string yaml step", s.Title)
	}
	if i := slices.IndexFunc(prose, isTable); i >= 0 && s.Kind == faulttree.KindChart {
		prose = slices.Delete(prose, i, i+1)
	}
	if r.prose[h.ID] == nil {
		r.prose[h.ID] = prose
	}
	r.numbers(s, prose)
}

// mostTreeNames is how many names of a tree are read.
const mostTreeNames = 20

// names reads under which other ids a tree is known, and what is known of a
// reader who comes by one: {pedestal-30a: {title: …, facts: {service: 30a}}}.
func (r *treeReader) names(v document.Value) {
	for _, f := range cut(v, v.Fields("names"), mostTreeNames, RuleTreeSize, "the tree has", "names") {
		m := f.Value.Map("a name", "title", "summary", "facts")
		if !f.Value.IsMap() {
			continue
		}
		n := faulttree.Name{ID: f.Key, Title: m.NeedText("title"), Summary: r.tree.Summary, Facts: r.m.given(m.Need("facts")), Pos: f.KeyPos}
		if m.Has("summary") {
			n.Summary = m.Text("summary")
		}
		_, taken := faulttree.Ref{Tree: f.Key}.Fact()
		switch {
		case !idForm.MatchString(f.Key):
			r.diags.Add(f.KeyPos, RuleBadID, "%s cannot name a tree; expected lower-case letters, digits and hyphens", f.Key)
			continue
		case taken:
			r.diags.Add(f.KeyPos, RuleReservedID, "the id %s belongs to the program; choose another", f.Key)
			continue
		}
		for _, fact := range slices.Sorted(maps.Keys(n.Facts)) {
			if fixed := r.tree.Facts[fact]; fixed != "" && fixed != n.Facts[fact] {
				m.Get("facts").Report(RuleBadValue, "", "the name %s is for %s: %s, but the tree is for %s", f.Key, fact, n.Facts[fact], fixed)
			}
		}
		r.part.names = append(r.part.names, n)
	}
}
