package load

import (
	"slices"

	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/source"
)

// Bounds on the list of facts. A proof is made for each combination of those
// that a step needs.
const (
	mostFacts       = 40
	mostFactChoices = 20
)

// readFacts fills m from the list of facts. What needs them is read after it.
func (m *measurables) readFacts(p *part) {
	defer func() { m.factsLost = len(m.facts) == 0 }()
	items := document.ParseYAML(p.file, &p.diags).Map("the list of facts", "facts").Need("facts").Items("facts")
	for i, item := range items {
		if i == mostFacts {
			item.Report(RuleBadValue, "", "the list has %d facts; at most %d are read", len(items), mostFacts)
			return
		}
		f := item.Map("a fact", "id", "title", "choices")
		if !item.IsMap() {
			continue
		}
		at := f.Need("id")
		fact := faulttree.Fact{ID: at.Text("id"), Title: f.NeedText("title"), Pos: at.Pos()}
		if first := m.fact(fact.ID); first != nil {
			twiceDefined(&p.diags, at.Pos(), first.Pos, "the fact "+fact.ID)
			continue
		}
		checkID(at, fact.ID, "a fact")
		fact.Choices = factChoices(f.Need("choices"))
		m.facts = append(m.facts, fact)
	}
}

// vehiclesFile says what is known of a vehicle from one visit to the next.
const vehiclesFile = "vehicles.yaml"

// readLasting reads which facts are the same at every visit of a vehicle, and which mean
// that something is aboard; facts are read before it.
func (m *measurables) readLasting(p *part) {
	file := document.ParseYAML(p.file, &p.diags).Map("what lasts", "lasting", "aboard")
	m.readAboard(file.Get("aboard"))
	for i, item := range file.Need("lasting").Items("lasting") {
		if i == mostFacts {
			item.Report(RuleBadValue, "", "more than %d facts are named; no more are read", mostFacts)
			return
		}
		id := item.Text("a fact")
		if fact := m.fact(id); fact != nil {
			fact.Lasting = true
		} else if id != "" && !m.factsLost {
			item.Report(RuleUnknownFact, source.DidYouMean(id, m.factIDs()), "the list of facts has no %s", id)
		}
	}
}

// readAboard reads what is aboard where a fact holds: {generator: {source: generator}}.
func (m *measurables) readAboard(v document.Value) {
	ids := lists.Each(logbook.AllEquipment(), func(e logbook.Equipment) string { return e.ID })
	for _, field := range v.Fields("aboard") {
		if !slices.Contains(ids, field.Key) {
			field.Value.Report(RuleBadValue, source.DidYouMean(field.Key, ids), "%s is aboard; expected %s", field.Key, either(ids))
			continue
		}
		for fact, choice := range m.given(field.Value) {
			choices := m.fact(fact).Choices
			choices[slices.IndexFunc(choices, func(c faulttree.Choice) bool { return c.ID == choice })].Aboard = field.Key
		}
	}
}

func factChoices(v document.Value) []faulttree.Choice {
	items := v.Items("choices")
	if v.IsList() && (len(items) < 2 || len(items) > mostFactChoices) {
		v.Report(RuleBadValue, "", "the fact has %d choices; expected 2 to %d", len(items), mostFactChoices)
		items = items[:min(len(items), mostFactChoices)]
	}
	var out []faulttree.Choice
	for _, item := range items {
		m := item.Map("a choice", "id", "title", "plug")
		if !item.IsMap() {
			continue
		}
		at := m.Need("id")
		c := faulttree.Choice{ID: at.Text("id"), Text: m.NeedText("title")}
		checkID(at, c.ID, "a choice")
		if m.Has("plug") {
			c.Plug = oneOf(m.Get("plug"), "plug", figure.FaceNames())
		}
		if slices.ContainsFunc(out, func(o faulttree.Choice) bool { return o.ID == c.ID }) {
			at.Report(RuleDuplicateID, "", "the choice %s is defined twice", c.ID)
			continue
		}
		out = append(out, c)
	}
	return out
}

// checkID reports an id that has not the form of one, and says whether it has; one
// that is missing is reported where it was read.
func checkID(at document.Value, id, what string) bool {
	if id == "" || idForm.MatchString(id) {
		return id != ""
	}
	at.Report(RuleBadID, "", "%s cannot name %s; expected lower-case letters, digits and hyphens", id, what)
	return false
}

// fact is the fact with this id, or nil.
func (m *measurables) fact(id string) *faulttree.Fact {
	return lists.At(m.facts, func(f *faulttree.Fact) bool { return f.ID == id })
}

// needs reads what must be so: {service: [50a]}.
func (m *measurables) needs(v document.Value) faulttree.Needs {
	var out faulttree.Needs
	for _, field := range v.Fields("needs") {
		fact := m.knownFact(field)
		if fact == nil {
			continue
		}
		choices := field.Value.Items(field.Key)
		if field.Value.IsList() && len(choices) == 0 {
			field.Value.Report(RuleBadValue, "", "%s is empty; expected one or more of its choices", field.Key)
		}
		for _, item := range choices {
			if c := oneOf(item, "a choice of "+fact.ID, faulttree.ChoiceIDs(fact.Choices)); c != "" {
				if out == nil {
					out = faulttree.Needs{}
				}
				out[fact.ID] = append(out[fact.ID], c)
			}
		}
	}
	return out
}

// knownFact is the fact that a key names; what is none is reported.
func (m *measurables) knownFact(field document.Field) *faulttree.Fact {
	fact := m.fact(field.Key)
	if fact == nil && !m.factsLost {
		field.Value.Report(RuleUnknownFact, source.DidYouMean(field.Key, m.factIDs()), "the list of facts has no %s", field.Key)
	}
	return fact
}

// given reads facts with the choice that holds: {service: 30a}.
func (m *measurables) given(v document.Value) map[string]string {
	out := map[string]string{}
	for _, field := range v.Fields("facts") {
		if fact := m.knownFact(field); fact != nil {
			if c := oneOf(field.Value, "the fact "+fact.ID, faulttree.ChoiceIDs(fact.Choices)); c != "" {
				out[fact.ID] = c
			}
		}
	}
	return out
}

func (m *measurables) factIDs() []string {
	var out []string
	for _, f := range m.facts {
		out = append(out, f.ID)
	}
	return out
}

// possible reports a quantity whose points and own needs rule each other out.
func (m *measurables) possible(q faulttree.Quantity, at document.Value) {
	for fact, choices := range q.Needs {
		if len(choices) == 0 {
			at.Report(RuleBadQuantity, "", "no choice of the fact %s allows %s: its points and itself need different ones", fact, q.ID)
		}
	}
}
