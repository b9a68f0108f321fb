package load

import (
	"slices"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// stepReader reads one step block.
type stepReader struct {
	*treeReader
	step   *faulttree.Step
	blocks []document.Block // all that stands below the heading
	names  []string         // of Measure, then of Derive
}

// The keys of a step block: those of every step, and those of each kind.
var (
	stepKeys = []string{"for", "cautions", "cards", "sources", "recheck", "then"}
	kindKeys = map[faulttree.Kind][]string{
		faulttree.KindMeasure: {"measure", "derive", "branches", "over-range", "not-possible", "not-applicable"},
		faulttree.KindObserve: {"observe"},
		faulttree.KindAct:     {"act", "go", "label"},
		faulttree.KindFinding: {"finding"},
		faulttree.KindChart:   {"chart", "derive", "bands", "pin", "before", "not-possible", "not-applicable"},
	}
	kinds = []faulttree.Kind{faulttree.KindMeasure, faulttree.KindObserve, faulttree.KindAct, faulttree.KindFinding, faulttree.KindChart}
)

func (r *stepReader) read(v document.Value) {
	all := append([]string{"use"}, stepKeys...)
	for _, kind := range kinds {
		all = append(all, kindKeys[kind]...)
	}
	m := v.Map("a step block", all...)
	if !v.IsMap() {
		return
	}
	if m.Has("use") {
		r.use(v, m)
		return
	}
	s := r.step
	s.Kind = r.kind(v, m)
	switch text := m.Get("for"); {
	case text.IsZero():
	case oneOf(text, "for", []string{"anyone", "qualified"}) != "anyone":
		s.For = faulttree.Qualified // what cannot be read is not for anyone
	}
	s.Cautions = r.refer(refCaution, m.Get("cautions"), "cautions")
	s.Cards = r.refer(refCard, m.Get("cards"), "cards")
	s.Sources = r.refer(refSource, m.Get("sources"), "sources")
	r.recheck(m)
	switch s.Kind {
	case faulttree.KindMeasure:
		r.measure(m)
	case faulttree.KindChart:
		r.chart(m)
	case faulttree.KindObserve:
		r.observe(m.Get("observe"))
	case faulttree.KindAct:
		r.act(m)
	case faulttree.KindFinding:
		r.finding(m.Get("finding"))
	}
}

// kind finds what the step asks for and reports keys of other kinds.
func (r *stepReader) kind(v document.Value, m document.Map) faulttree.Kind {
	var found faulttree.Kind
	for _, kind := range kinds {
		name := kind.String()
		switch {
		case !m.Has(name):
		case found != 0:
			r.diags.Add(m.KeyPos(name), RuleBadStep, "the step has both %s and %s; expected one of them", found, name)
		default:
			found = kind
		}
	}
	if found == 0 {
		v.Report(RuleBadStep, "", "the step asks for nothing; expected one of measure, chart, observe, act, finding and use")
		return 0
	}
	told := append([]string(nil), kindKeys[found]...)
	for _, kind := range kinds {
		for _, key := range kindKeys[kind] {
			if key != kind.String() && m.Has(key) && !slices.Contains(told, key) {
				told = append(told, key)
				r.diags.Add(m.KeyPos(key), RuleBadStep, "%s belongs to a step with %s, but this one has %s", key, kind, found)
			}
		}
	}
	if found == faulttree.KindChart {
		for _, key := range []string{"recheck", "then"} {
			if m.Has(key) {
				r.diags.Add(m.KeyPos(key), RuleBadStep, "%s belongs to a step that is read again, but a chart never asks what it knows", key)
			}
		}
	}
	return found
}

func (r *stepReader) recheck(m document.Map) {
	r.step.Recheck = m.Get("recheck").Number("recheck", 2, 20)
	r.step.Then = r.exit(m, "then")
	if m.Has("recheck") != m.Has("then") {
		key := "recheck"
		if m.Has("then") {
			key = "then"
		}
		r.diags.Add(m.KeyPos(key), document.RuleMissingKey, "recheck and then stand together: how often the step may be entered, and where the next entry goes")
	}
}

// exit reads the go, signal and label under a key, if it is there.
func (r *stepReader) exit(of document.Map, key string) faulttree.Exit {
	if !of.Has(key) {
		return faulttree.Exit{}
	}
	return r.exitOf(of.Get(key).Map(key, "go", "signal", "label"), of.Get(key).Pos())
}

// exitOf reads the keys go, signal and label of a larger mapping.
func (r *stepReader) exitOf(m document.Map, pos source.Pos) faulttree.Exit {
	e := faulttree.Exit{Label: m.Text("label"), Pos: pos}
	if m.Has("signal") {
		v := m.Get("signal")
		e.Signal, e.SignalPos = signal(v, "signal", faulttree.NoSignal), v.Pos()
	}
	r.goTo(&e, m)
	return e
}

// goTo reads where an exit leads.
func (r *stepReader) goTo(e *faulttree.Exit, m document.Map) {
	if e.Text = r.needTo(refStep, m, "go"); e.Text != "" {
		e.To = faulttree.ParseRef(e.Text, r.id)
	}
}

func (r *stepReader) observe(v document.Value) {
	seen := map[string]source.Pos{}
	looks := newLooks()
	items := r.atMost(v, "choices")
	if v.IsList() && len(items) == 0 {
		v.Report(document.RuleWrongType, "", "observe has no choices")
	}
	for _, item := range items {
		m := item.Map("a choice", append([]string{"choice", "text", "go", "signal", "label"}, conditionKeys...)...)
		if !item.IsMap() {
			continue
		}
		c := faulttree.Choice{ID: m.NeedText("choice"), Text: m.NeedText("text"), Exit: r.exitOf(m, item.Pos())}
		at := m.Get("choice")
		if first, twice := seen[c.ID]; twice {
			twiceDefined(&r.diags, at.Pos(), first, "the choice "+c.ID)
		} else {
			checkID(at, c.ID, "a choice")
		}
		seen[c.ID] = at.Pos()
		looks.conditions(r, m, &c)
		r.step.Choices = append(r.step.Choices, c)
		r.phrase(m.Get("text"))
	}
	looks.settle()
}

func (r *stepReader) act(m document.Map) {
	v := m.Get("act")
	a := v.Map("act", "set", "signal")
	if v.IsMap() && !a.Has("signal") {
		v.Report(document.RuleMissingKey, "none, notice, caution or warning; danger makes it a STOP", "act lacks the key signal")
	}
	act := faulttree.Act{Exit: faulttree.Exit{
		Signal: signal(a.Get("signal"), "signal", faulttree.NoSignal), Label: m.Text("label"), Pos: v.Pos(), SignalPos: v.Pos(),
	}}
	if v.IsMap() {
		r.goTo(&act.Exit, m)
	}
	act.Set = listOf(a.Get("set"), "set", faulttree.Conditions())
	r.step.Act = act
}

func (r *stepReader) finding(v document.Value) {
	m := v.Map("finding", "faults", "at_once", "place", "clears", "signal", "sure", "first_action", "do_not", "repair_by", "cannot_exclude")
	f := faulttree.Finding{
		Faults:      r.refer(refFault, m.Get("faults"), "faults"),
		Clears:      listOf(m.Get("clears"), "clears", faulttree.Places()),
		AtOnce:      flag(m, "at_once"),
		Sure:        m.Text("sure"),
		FirstAction: m.Text("first_action"),
		DoNot:       m.Text("do_not"),
		RepairBy:    m.Text("repair_by"),
	}
	if len(f.Faults) == 0 || m.Has("signal") {
		said := m.Need("signal")
		f.Signal, f.SignalPos = signal(said, "signal", faulttree.NoSignal), v.Pos()
		if !said.IsZero() {
			f.SignalPos = said.Pos()
		}
	}
	if f.AtOnce && len(f.Faults) < 2 {
		m.Get("at_once").Report(RuleBadStep, "", "at_once is for two faults and more; the finding names %d", len(f.Faults))
	}
	if f.Place = oneOf(m.Get("place"), "place", faulttree.Places()); f.Place != "" {
		r.places = append(r.places, findingPlace{r.step, m.Get("place").Pos()})
	}
	for _, key := range []string{"sure", "first_action", "do_not", "repair_by"} {
		r.phrase(m.Get(key))
	}
	for _, item := range m.Get("cannot_exclude").Items("cannot_exclude") {
		e := item.Map("an entry of cannot_exclude", "fault", "place", "test")
		n := faulttree.NotExcluded{Fault: r.needTo(refFault, e, "fault"), Place: oneOf(e.Get("place"), "place", faulttree.Places()), Test: e.Text("test"), Pos: item.Pos()}
		if item.IsMap() {
			f.CannotExclude = append(f.CannotExclude, n)
		}
		r.phrase(e.Get("test"))
	}
	r.step.Finding = f
}
