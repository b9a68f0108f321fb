package load

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// mostWords is how many words a reader should have to read before a reading.
const mostWords = 60

// mostEffort is the effort of the most laborious reading, in whole steps from 1.
const mostEffort = 9

// readMethod reads how a quantity is taken.
func (p *part) readMethod(m *measurables) {
	front, doc := p.open("method", "quantities", "exposure", "effort", "take", "cautions", "cards", "sources")
	p.method = &content.Method{
		Document: doc,
		Effort:   max(1, front.Get("effort").Number("effort", 1, mostEffort)),
		Take:     takeOf(front.Get("take")),
		Cautions: p.refer(refCaution, front.Get("cautions"), "cautions"),
		Cards:    p.refer(refCard, front.Get("cards"), "cards"),
	}
	p.doc = &p.method.Document
	exposure := front.Need("exposure")
	p.method.Exposure, _ = faulttree.ParseExposure(oneOf(exposure, "exposure", faulttree.ExposureNames()))
	quantities := front.Need("quantities")
	var taken []faulttree.Quantity
	for _, item := range quantities.Items("quantities") {
		if id := item.Text("an entry of quantities"); id != "" && m.takenBy(p, item.Pos(), id, exposure) {
			taken = append(taken, m.quantities[id])
		}
	}
	touches(front.Get("take"), p.method.Take, taken)
	if quantities.IsList() && len(quantities.Items("quantities")) == 0 {
		quantities.Report(document.RuleWrongType, "", "quantities is empty; expected the ids of what is taken in this way")
	}
	p.needBody("method")
	if n := len(strings.Fields(document.Plain(doc.Body))); n > mostWords {
		p.diags = append(p.diags, source.Diagnostic{Pos: doc.Pos, Severity: source.Warning, Rule: RuleMethodLong,
			Message: "the method " + p.id + " has more words than a reader takes in with the probes in his hands", Hint: fmt.Sprintf("it has %d words; at most %d", n, mostWords)})
	}
	p.methodNumbers()
}

// takenBy notes that a quantity is taken by the method of p, and reports whether
// it is.
func (m *measurables) takenBy(p *part, pos source.Pos, id string, exposure document.Value) bool {
	q, ok := m.find(p, pos, id)
	if !ok {
		return false
	}
	if first := m.methods[id]; first != nil {
		twiceDefined(&p.diags, pos, m.methodAt[id], "the method of "+id)
		return false
	}
	if q.Exposure != faulttree.Unexposed {
		p.diags.AddHint(pos, RuleDuplicateID, "leave it out there", "the list of quantities gives %s an exposure as well as this method", id)
	}
	if q.Take.Several() && p.method.Take.Several() {
		p.diags.AddHint(pos, RuleDuplicateID, "move what is said there into the method", "the list of quantities says what counts of %s as well as this method", id)
	}
	if p.method.Take.Several() {
		q.Take = p.method.Take.Of(q)
	}
	q.Exposure, q.Effort = p.method.Exposure, p.method.Effort
	deadOnLive(exposure, q)
	m.quantities[id] = q
	m.methods[id], m.methodAt[id] = p.method, pos
	p.method.Quantities = append(p.method.Quantities, id)
	return true
}

// unexposed reports the quantities of the list p that neither a method nor the
// list itself says how near to live parts they are read.
func (m *measurables) unexposed(p *part) {
	for _, id := range m.quantities.IDs() {
		if q := m.quantities[id]; q.Exposure == faulttree.Unexposed && !q.OfMeter() && !m.broken[id] && !p.full() {
			p.diags.AddHint(q.Pos, RuleBadExposure, "give it exposure: "+either(faulttree.ExposureNames())+", or write it under quantities of a method",
				"the quantity %s has neither a method nor an exposure, so nobody knows what is live near its reader", id)
		}
	}
}

// takeOf reads how often a quantity is read and which reading counts.
func takeOf(v document.Value) faulttree.Take {
	text := v.Text("take")
	if text == "" {
		return faulttree.Take{}
	}
	t, err := faulttree.ParseTake(text)
	if err != nil {
		v.Report(RuleBadValue, "", "take: %v", err)
		return faulttree.Take{}
	}
	return t
}

// touches reports a contact of a take that q does not touch.
func touches(take document.Value, t faulttree.Take, quantities []faulttree.Quantity) {
	if len(t.Contacts) == 0 || len(quantities) == 0 {
		return
	}
	for _, q := range quantities {
		q.Take = t
		if len(q.At()) > 1 {
			return
		}
	}
	take.Report(RuleBadValue, "", "take names %s, which %s does not touch", strings.Join(t.Contacts, " and "), quantities[0].ID)
}

// methodNumbers reports the numbers of a method that names no sources.
func (p *part) methodNumbers() {
	if len(p.method.Sources) > 0 {
		return
	}
	r := &treeReader{part: &part{file: p.file, tree: &faulttree.Tree{}}}
	for _, number := range r.unsourced(document.Plain(p.doc.Body)) {
		p.diags.Add(p.doc.Pos, RuleUnsourcedNumber, "%s has no source; give the method its sources", number)
	}
}

// withMethods puts the cautions and cards of the methods of every measure step
// before its own.
func withMethods(l *content.Library) {
	for _, tree := range l.Forest.Trees {
		for _, s := range tree.Steps {
			var cautions, cards []string
			for _, m := range l.MethodsOf(s) {
				cautions, cards = content.Union(cautions, m.Cautions), content.Union(cards, m.Cards)
			}
			s.Cautions, s.Cards = content.Union(cautions, s.Cautions), content.Union(cards, s.Cards)
		}
	}
}
