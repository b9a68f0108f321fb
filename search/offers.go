package search

import (
	"cmp"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/content"
	"faultwright/faulttree"
)

const (
	mostOffers = 6
	offerSlack = 2.2 // offers this much below the best fit are left out
	leastFit   = 0.4
)

// offers finds the steps that measure what a query says was read.
type offers struct {
	forest *faulttree.Forest
	atoms  phrases[atom]
	cut    analysis.Analyzer
	known  vocabulary
	asked  []asked // by tree and then in document order
	meter  faulttree.Meter
}

// asked is one quantity that one step measures.
type asked struct {
	step     *faulttree.Step
	variable int
	tree     *faulttree.Tree
	far      int  // how far from the tree's start, see distances
	twoLegs  bool // the tree measures a second leg
}

func newOffers(lib *content.Library, cut analysis.Analyzer, known vocabulary) *offers {
	o := &offers{forest: lib.Forest, atoms: newAtoms(lib.Synonyms, cut), cut: cut, known: known, meter: faulttree.DefaultMeter()}
	for _, id := range lib.Forest.IDs() {
		t := lib.Forest.Trees[id]
		far := distances(t)
		for _, s := range t.Steps {
			if s.Kind != faulttree.KindMeasure {
				continue // nothing is read there
			}
			for i := range s.Measure {
				o.asked = append(o.asked, asked{s, i, t, far[s.ID], measuresL2(t)})
			}
		}
	}
	return o
}

// offer is a step that could take the reading.
type offer struct {
	asked
	reading string
	danger  bool // the engine judges the reading as DANGER there
	fit     float64
}

// find lists the offers for a query as hits; none if it is not a reading. Of
// several readings in one query the best offer of each comes first.
func (o *offers) find(text string) []Hit {
	list := clauses(text)
	if len(list) == 0 {
		return nil
	}
	whole := sayings(o.atoms, o.words(text))
	var lists [][]offer
	for _, c := range list {
		s := sayings(o.atoms, o.words(c.words))
		if len(list) > 1 && len(s.places) == 0 {
			s.places = whole.places
		}
		if s.nothing() || c.loose && !s.has(atBody) || c.nominal && len(s.contacts) == 0 && !c.leadsOn(text) {
			continue
		}
		if list := o.best(o.fitting(c.figure, s, whole, text)); len(list) > 0 {
			lists = append(lists, list)
		}
	}
	slices.SortStableFunc(lists, func(a, b []offer) int { // danger first
		switch {
		case a[0].danger == b[0].danger:
			return 0
		case a[0].danger:
			return -1
		}
		return 1
	})
	var hits []Hit
	for turn := 0; turn < mostOffers; turn++ {
		for _, list := range lists {
			if turn < len(list) && len(hits) < mostOffers {
				hits = append(hits, list[turn].hit())
			}
		}
	}
	for i := range hits { // the order outranks the fit
		hits[i].Score = float64(len(hits) - i)
	}
	return hits
}

// words are the stems of text. A word that the handbook does not have, for a
// typo or since it is still being typed, gives way to one that names a point.
func (o *offers) words(text string) []string {
	tokens := o.cut.Analyze([]byte(text))
	out := make([]string, len(tokens))
	for i, t := range tokens {
		out[i] = string(t.Term)
		word := strings.ToLower(text[t.Start:t.End])
		if o.known.has(word) || o.atoms.begins[out[i]] {
			continue
		}
		near := o.known.corrections(word)
		if i == len(tokens)-1 && len(word) >= shortestTypo {
			more, _ := o.known.completions(word)
			near = append(near, more...)
		}
		for _, n := range near {
			if st := stems(o.cut, n); len(st) == 1 && o.atoms.begins[st[0]] {
				out[i] = st[0]
				break
			}
		}
	}
	return out
}

// best keeps, of a list in order, the first step of each tree for each
// quantity, as far as they fit nearly as well as the best.
func (o *offers) best(list []offer) []offer {
	seen := map[string]bool{}
	var kept []offer
	for _, of := range list {
		key := of.tree.ID + " " + of.step.Measure[of.variable].Quantity.ID
		if !seen[key] && of.fit >= list[0].fit-offerSlack {
			seen[key] = true
			kept = append(kept, of)
		}
	}
	return kept
}

// fitting lists every step that could take the reading, the best first.
func (o *offers) fitting(f figure, s, whole said, text string) []offer {
	var list []offer
	for _, a := range o.asked {
		q := a.step.Measure[a.variable].Quantity
		score, ok := fit(q, f, s)
		if !ok || score < leastFit {
			continue
		}
		of := offer{asked: a, fit: score}
		if r, err := faulttree.ParseReading(f.text, q); err == nil && !f.wrongCurrent(q) {
			of.reading = withUnit(f, q)
			of.danger = o.dangerous(a, r)
		}
		if of.danger {
			of.fit++
		}
		of.fit += a.bonus(text)
		if a.twoLegs && whole.has(atL2) {
			of.fit += 0.3
		}
		list = append(list, of)
	}
	slices.SortStableFunc(list, func(a, b offer) int {
		return cmp.Or(cmp.Compare(b.fit, a.fit), cmp.Compare(a.far, b.far))
	})
	return list
}

// bonus prefers, among steps that measure the same, the one a walk comes to
// in the ordinary way.
func (a asked) bonus(text string) float64 {
	bonus := -0.01 * float64(min(a.far, 40))
	if a.step.For == faulttree.Qualified {
		bonus -= 0.3
	}
	if len(a.step.Measure) > 1 {
		bonus -= 0.15
	}
	if contains(a.tree.Sheet, a.step.Measure[a.variable].Quantity.ID) {
		bonus += 0.15
	}
	for _, size := range []string{"30", "50"} {
		if sizeNamed(a.tree.Title, size) && sizeNamed(text, size) {
			bonus += 0.5
		}
	}
	return bonus
}

// sizeNamed reports whether text names a receptacle by its amperes.
func sizeNamed(text, size string) bool {
	lower := strings.ToLower(text)
	for _, form := range []string{size + "a", size + " a", size + "-a"} {
		if strings.Contains(lower, form) {
			return true
		}
	}
	return false
}

// dangerous reports whether the engine judges the reading as DANGER where it
// would be taken, and the quantity has a limit there.
func (o *offers) dangerous(a asked, r faulttree.Reading) bool {
	q := a.step.Measure[a.variable].Quantity
	limit, ok := a.tree.DangerLimit(q.ID)
	if !ok || len(a.step.Measure) != 1 {
		return false
	}
	if !o.meter.MayHurt(r, q, limit) {
		return false
	}
	out, err := a.step.Judge([]faulttree.Reading{r}, o.meter, a.tree.DangerLimit)
	return err == nil && out.Signal == faulttree.Danger
}

// withUnit is the reading as it would be typed into the step's entry.
func withUnit(f figure, q faulttree.Quantity) string {
	if f.symbol != "" || f.text == "OL" || strings.Contains(f.text, " ") {
		return f.text
	}
	return f.text + " " + q.Unit.Symbol()
}

func (of offer) hit() Hit {
	q := of.step.Measure[of.variable].Quantity
	h := Hit{
		ID: of.step.Ref().String(), Kind: KindStep, Title: of.step.Title,
		Reading: of.reading, Quantity: q.ID,
		Fragment: []Run{{Text: q.Title}},
	}
	if of.reading != "" {
		h.Fragment = []Run{{Text: q.Title + ": "}, {Text: of.reading, Marked: true}}
	}
	return h
}
