package load

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Bounds on a step, and on one with derived values: what the proof handles.
const (
	mostMeasured          = 16
	mostDerivedQuantities = 3
	mostDerivedBranches   = 64
)

// exitWords are the keys of a branch that name no variable.
var exitWords = []string{"go", "signal", "label"}

// measure reads the keys of a step that measures.
func (r *stepReader) measure(m document.Map) {
	s := r.step
	for _, f := range m.Get("measure").Fields("measure") {
		r.variable(f)
	}
	if v := m.Get("measure"); v.IsMap() && len(s.Measure) == 0 {
		v.Report(document.RuleWrongType, "", "measure is empty; expected a name and a quantity, such as {v: body-earth}")
	}
	derive := m.Get("derive").Fields("derive")
	if len(s.Measure) > mostMeasured || len(derive) > mostMeasured {
		r.diags.Add(m.KeyPos("measure"), RuleBadStep, "the step measures %d quantities and derives %d; at most %d of each", len(s.Measure), len(derive), mostMeasured)
		s.Measure = s.Measure[:min(len(s.Measure), mostMeasured)]
		r.names = r.names[:len(s.Measure)]
		derive = derive[:min(len(derive), mostMeasured)]
	}
	for _, f := range derive {
		r.name(f)
		s.Derive = append(s.Derive, r.derived(f))
	}
	s.OverRange, s.NotPossible, s.NotApplicable = r.exit(m, "over-range"), r.exit(m, "not-possible"), r.exit(m, "not-applicable")
	branches := r.atMost(m.Need("branches"), "branches")
	for _, item := range branches {
		r.branch(item)
	}
	if len(s.Derive) > 0 && (len(s.Measure) > mostDerivedQuantities || len(branches) > mostDerivedBranches) {
		r.diags.Add(m.KeyPos("derive"), RuleBadDerive, "a step with derived values measures %d quantities in %d branches; at most %d and %d can be proved",
			len(s.Measure), len(branches), mostDerivedQuantities, mostDerivedBranches)
	}
}

// variable reads the name of a quantity and which one it is.
func (r *stepReader) variable(f document.Field) {
	r.name(f)
	id := f.Value.Text("a quantity")
	q, ok := r.m.find(r.part, f.Value.Pos(), id)
	r.step.Unread = r.step.Unread || r.m.broken[id]
	if !ok {
		q = faulttree.Quantity{ID: id}
	}
	r.step.Measure = append(r.step.Measure, faulttree.Variable{Name: f.Key, Quantity: q, Pos: f.KeyPos})
}

// atMost is the items of a list of branches or choices, cut off where they are
// very many.
func (r *stepReader) atMost(v document.Value, what string) []document.Value {
	return cut(v, v.Items(what), mostBranches, RuleTreeSize, "the step has", what)
}

// name takes the name of a measured or derived value.
func (r *stepReader) name(f document.Field) {
	switch {
	case !wordForm.MatchString(f.Key) || slices.Contains(exitWords, f.Key):
		r.diags.Add(f.KeyPos, RuleBadID, "%s cannot name a value here; expected a short word in lower-case letters other than go, signal and label", f.Key)
	case slices.Contains(r.names, f.Key):
		r.diags.Add(f.KeyPos, RuleDuplicateID, "the name %s is taken by a measured quantity", f.Key)
	}
	r.names = append(r.names, f.Key)
}

var termForm = regexp.MustCompile(`^\s*([+-])?\s*([0-9]{1,6})?\s*\*?\s*([a-z][a-z0-9]*(?:[-_][a-z0-9]+)*)`)

// derived reads a sum such as "a + b" or "a - 2 b".
func (r *stepReader) derived(f document.Field) faulttree.Derived {
	d := faulttree.Derived{Name: f.Key, Pos: f.KeyPos}
	text := f.Value.Text("a derived value")
	rest := text
	for rest != "" {
		t := termForm.FindStringSubmatch(rest)
		if t == nil || (t[1] == "" && len(d.Terms) > 0) {
			f.Value.Report(RuleBadDerive, "", "%q is not a sum of names; expected a form such as a + b or a - 2 b", text)
			return d
		}
		rest = strings.TrimSpace(rest[len(t[0]):])
		factor := int64(1)
		if t[2] != "" {
			factor, _ = strconv.ParseInt(t[2], 10, 64)
		}
		if t[1] == "-" {
			factor = -factor
		}
		i := slices.IndexFunc(r.step.Measure, func(v faulttree.Variable) bool { return v.Name == t[3] })
		if i < 0 {
			f.Value.Report(RuleUnknownVariable, source.DidYouMean(t[3], r.names), "the step has no value %s", t[3])
			return d
		}
		u := r.step.Measure[i].Quantity.Unit
		if d.Unit != 0 && u != 0 && u != d.Unit {
			f.Value.Report(RuleBadDerive, "", "%q adds %s to %s", text, u, d.Unit)
			return d
		}
		d.Unit = max(d.Unit, u)
		d.Terms = append(d.Terms, faulttree.Term{Factor: factor, Var: i})
	}
	return d
}

// branch reads one branch, which may fill an exit of the step instead.
func (r *stepReader) branch(item document.Value) {
	m := item.Map("a branch", slices.Concat(r.names, exitWords)...)
	if !item.IsMap() {
		return
	}
	s := r.step
	b := faulttree.Branch{Exit: r.exitOf(m, item.Pos())}
	for _, f := range item.Fields("a branch") {
		i := slices.Index(r.names, f.Key)
		if i < 0 || slices.Contains(exitWords, f.Key) {
			continue
		}
		if f.Value.IsText() {
			r.special(f, m, b.Exit)
			return
		}
		var u faulttree.Unit
		if i < len(s.Measure) {
			u = s.Measure[i].Quantity.Unit
		} else {
			u = s.Derive[i-len(s.Measure)].Unit
		}
		if span, ok := r.span(f.Value, f.Key, u); ok {
			b.Bounds = append(b.Bounds, faulttree.Bound{Var: i, Span: span, Pos: f.KeyPos})
		}
	}
	s.Branches = append(s.Branches, b)
}

// special reads a branch for over-range or not-possible.
func (r *stepReader) special(f document.Field, m document.Map, e faulttree.Exit) {
	word := f.Value.Text("a bound")
	exit := map[string]*faulttree.Exit{"over-range": &r.step.OverRange, "not-possible": &r.step.NotPossible}[word]
	switch {
	case exit == nil:
		f.Value.Report(RuleBadBound, source.DidYouMean(word, []string{"over-range", "not-possible"}),
			"%s is %q; expected bounds such as {from: 5 V, below: 30 V}, or over-range, or not-possible", f.Key, word)
	case exit.Pos.IsValid():
		f.Value.Report(RuleBadStep, "first answered at "+exit.Pos.String(), "%s is answered twice", word)
	default:
		for _, name := range r.names {
			if name != f.Key && m.Has(name) {
				r.diags.Add(m.KeyPos(name), RuleBadBound, "a branch for %s cannot hold a second bound; it applies as soon as any quantity is so", word)
			}
		}
		*exit = e
	}
}

// span reads bounds on a value of unit u; what names the value.
func (r *stepReader) span(v document.Value, what string, u faulttree.Unit) (faulttree.Span, bool) {
	m := v.Map("the bound on "+what, "from", "above", "below", "to")
	if !v.IsMap() {
		return faulttree.Span{}, false
	}
	span, ok := faulttree.Everything(), true
	for _, pair := range [][2]string{{"from", "above"}, {"below", "to"}} {
		if m.Has(pair[0]) && m.Has(pair[1]) {
			r.diags.Add(m.KeyPos(pair[1]), RuleBadBound, "%s and %s stand together; expected one of them", pair[0], pair[1])
			ok = false
		}
	}
	for _, key := range []string{"from", "above", "below", "to"} {
		if !m.Has(key) {
			continue
		}
		a, read := r.edge(m.Get(key), key, u)
		ok = ok && read
		switch key {
		case "from":
			span.From = a
		case "above":
			span.From = a + 1
		case "below":
			span.Below = a
		case "to":
			span.Below = a + 1
		}
	}
	switch {
	case ok && span == faulttree.Everything():
		v.Report(RuleBadBound, "", "the bound on %s is empty; expected from, above, below or to, or no bound at all", what)
		return span, false
	case ok && span.Empty():
		v.Report(RuleBadBound, "", "no value lies in the bound on %s", what)
		return span, false
	}
	return span, ok
}

// edge reads one end of a bound: a named limit, or a number with its unit and
// a source for it.
func (r *stepReader) edge(v document.Value, key string, u faulttree.Unit) (faulttree.Amount, bool) {
	text := v.Text(key)
	if text == "" {
		return 0, false
	}
	if idForm.MatchString(text) && text[0] >= 'a' {
		r.step.Unread = r.step.Unread || r.unread[text]
		return r.limit(v, text, u)
	}
	a, ok := readMeasured(v, key)
	if !ok {
		return 0, false
	}
	if u != 0 && !a.fits(u) {
		v.Report(RuleUnitMismatch, "", "%s is %s, but the quantity is in %s", key, text, u)
		return 0, false
	}
	if a.amount != 0 && len(r.step.Sources) == 0 {
		v.Report(RuleUnsourcedBound, "", "%s has no source; name it as a limit, or give the step or the observation its sources", text)
	}
	return a.amount, true
}
