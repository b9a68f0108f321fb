package load

import (
	"faultwright/content/document"
	"faultwright/faulttree"
)

// complaint reads by which conditions a vehicle is one that brings a reader to
// the tree: those of choices, of which one holds.
func (r *treeReader) complaint(v document.Value) {
	m := v.Map("complaint", "any", "sources")
	if !v.IsMap() {
		return
	}
	s := &stepReader{treeReader: r, step: &faulttree.Step{Tree: r.id}}
	s.step.Sources = s.refer(refSource, m.Get("sources"), "sources")
	looks := newLooks()
	r.tree.Complaint = s.anyOf(m.Need("any"), looks, "every vehicle would have the complaint; expected when, opened or hot")
	looks.settle()
}

// anyOf reads conditions of which one holds. Empty says what it means where one
// asks nothing.
func (r *stepReader) anyOf(any document.Value, looks *looks, empty string) []faulttree.Choice {
	items := atMost(mostAny, any, "any")
	if any.IsList() && len(items) == 0 {
		any.Report(document.RuleWrongType, "", "any has no conditions")
	}
	var out []faulttree.Choice
	for _, item := range items {
		m := item.Map("a condition", conditionKeys...)
		if !item.IsMap() {
			continue
		}
		var c faulttree.Choice
		if !looks.conditions(r, m, &c) {
			item.Report(RuleBadStep, "", "the condition asks nothing: %s", empty)
		}
		out = append(out, c)
	}
	return out
}

// conditionKeys are the keys of conditions on a vehicle.
var conditionKeys = []string{"when", "opened", "hot"}

// looks are the keys by which the choices of a step are made by looking.
type looks [2]look

func newLooks() *looks {
	return &looks{{key: "opened", none: "none of the parts that the choices name stands open"}, {key: "hot", none: "none of the parts that the choices name is hot"}}
}

// conditions reads when, opened and hot, and reports whether any of them asks
// something.
func (l *looks) conditions(r *stepReader, m document.Map, c *faulttree.Choice) bool {
	when := m.Get("when").Fields("when")
	for _, f := range when {
		q, ok := r.m.find(r.part, f.KeyPos, f.Key)
		if !ok {
			continue
		}
		if span, ok := r.span(f.Value, f.Key, q.Unit); ok {
			c.When = append(c.When, faulttree.When{Quantity: q, Span: span})
		}
	}
	c.Sees, c.Opened = l[0].parts(r, m)
	c.Feels, c.Hot = l[1].parts(r, m)
	return len(when) > 0 || c.Sees || c.Feels
}

func (l *looks) settle() {
	for i := range l {
		l[i].settle()
	}
}

// look is a key by which choices are made by looking at parts of the rigs.
type look struct {
	key, none string           // none says what it means where it names no part
	named     bool             // a choice of the step names a part
	bare      []document.Value // where it names none
}

// parts reads the parts that a choice is made by, and whether it is. The list may
// be empty.
func (l *look) parts(r *stepReader, m document.Map) (is bool, names []string) {
	if !m.Has(l.key) {
		return false, nil
	}
	v := m.Get(l.key)
	items := v.Items(l.key)
	switch {
	case v.IsList() && len(items) == 0:
		l.bare = append(l.bare, v)
		return true, nil
	case len(items) > mostNames:
		v.Report(RuleBadStep, "", "%s names %d parts; at most %d are read", l.key, len(items), mostNames)
		items = nil
	}
	l.named = true
	return true, r.inRigs(items, useRun, "a part", l.key)
}

// settle reports lists without a part at a step none of whose choices names one.
func (l *look) settle() {
	for _, v := range l.bare {
		if !l.named {
			v.Report(RuleBadStep, "", "%s is empty: %s, but no choice names a part", l.key, l.none)
		}
	}
}
