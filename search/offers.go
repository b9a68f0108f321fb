package search

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/content"
	"faultwright/content/contact"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

const (
	mostOffers = 6
	offerSlack = 1.2 // offers this much below the best fit are left out
	unsaidOwn  = 1.5 // what a step of one's own source lies behind where none is said: more than danger and sheet add
)

// offers finds the steps that measure what a query says was read.
type offers struct {
	forest   *faulttree.Forest
	atoms    contact.Phrases[contact.Atom]
	analyzer analysis.Analyzer
	known    vocabulary
	measured []stepQuantity // by tree and then in document order
	meter    faulttree.Meter
}

// stepQuantity is one quantity that one step measures: a step of its own, or a
// column of a chart.
type stepQuantity struct {
	step     *faulttree.Step
	variable int
	tree     *faulttree.Tree
	distance int  // how far from the tree's start, see distances
	twoLegs  bool // the tree measures a second leg
	own      bool // the tree is for a generator or inverter of one's own
}

func newOffers(lib *content.Library, analyzer analysis.Analyzer, known vocabulary) *offers {
	o := &offers{forest: lib.Forest, atoms: contact.NewWords(lib.Synonyms, func(text string) []string { return stems(analyzer, text) }), analyzer: analyzer, known: known, meter: faulttree.DefaultMeter()}
	for _, id := range lib.Forest.IDs() {
		t := lib.Forest.Trees[id]
		far := distances(t)
		for _, s := range t.Steps {
			asked := s.Columns()
			if s.Kind == faulttree.KindMeasure {
				asked = []*faulttree.Step{s}
			}
			for _, a := range asked {
				for i := range a.Measure {
					o.measured = append(o.measured, stepQuantity{a, i, t, far[s.ID], measures(t, atLeg2), measures(t, atOwnSource)})
				}
			}
		}
	}
	return o
}

func (a stepQuantity) quantity() faulttree.Quantity { return a.step.Measure[a.variable].Quantity }

// offer is a step that could take the reading.
type offer struct {
	stepQuantity
	reading string
	danger  bool // the engine judges the reading as DANGER there
	fit     float64
}

// placedClause is a reading with where it was taken.
type placedClause struct {
	clause
	contact.Said
	probed
}

// find lists the offers for a query as hits; none if it is not a reading. Of
// several readings in one query the best offer of each comes first. Unmeasured
// are the pairs of points that the query says and no step measures.
func (o *offers) find(text string) (hits []Hit, unmeasured []string) {
	text = contact.Figures(text)
	list := clauses(text, func(before, after string) bool {
		return o.points(after).Contacts() > 0 || o.points(before).Contacts() == 0
	})
	whole := o.points(text)
	var placed []placedClause
	unplaced := false
	for _, c := range list {
		s := o.points(c.words)
		if s.Site == "" && len(list) > 1 {
			s.Site = contact.OnlyPlace(append([]contact.Point{{Place: whole.Site}}, whole.Points...))
		}
		if c.symbol == "" && c.bare && ohmWords.MatchString(c.words) {
			c.symbol, c.text = "Ω", c.text+" Ω"
		}
		if c.current == "" && directWord.MatchString(c.words) {
			c.current = "DC"
		}
		p, ok := probedBy(s, c.figure)
		if ok && !s.Unknown && !contact.Elsewhere(c.words) && c.isReading(s, text) {
			placed = append(placed, placedClause{c, s, p})
		} else if !c.nominal {
			unplaced = true
		}
	}
	var offered [][]offer
	for _, c := range placed {
		c.figure.guessed = c.figure.guessed || unplaced // "3 V to the spike and 60 with everything on"
		for _, state := range whole.Conditions {        // "breaker off: 0 V hot to neutral and 0 V body to spike"
			c.figure.guessed = c.figure.guessed || !slices.Contains(c.Conditions, state)
		}
		found := o.best(o.fitting(c, whole, text), c.Said)
		switch {
		case len(found) > 0:
			offered = append(offered, found)
		case c.Contacts() == 2 && !o.measures(c.probed, c.figure):
			unmeasured = lists.With(unmeasured, c.probed.String()+" in "+unitNames[c.symbol])
		}
	}
	slices.SortStableFunc(offered, func(a, b []offer) int { // danger first
		switch {
		case a[0].danger == b[0].danger:
			return 0
		case a[0].danger:
			return -1
		}
		return 1
	})
	for turn := range mostOffers {
		for _, list := range offered {
			if turn < len(list) && len(hits) < mostOffers {
				hits = append(hits, list[turn].hit())
			}
		}
	}
	return hits, unmeasured
}

// legWord is said of a supply that has two.
var legWord = regexp.MustCompile(`(?i)\blegs?\b`)

// faultWords beside contacts name a fault and not a reading.
var faultWords = regexp.MustCompile(`(?i)\b(?:open|floating|lost|broken|missing|loose|revers\w+|swap\w*|bootleg|crossed|bond\w*|dead)\b`)

// isReading reports whether a figure is said as a reading. One with a unit is,
// unless it is of the kind that names a circuit. One without needs a word such
// as "reads", two points, or a place where only a display gives such a figure.
func (c clause) isReading(s contact.Said, text string) bool {
	switch {
	case c.nominal:
		return s.Contacts() > 0 || c.placeFollows(text) || readWords.MatchString(text[:c.start])
	case !c.bare || readWords.MatchString(c.words):
		return true
	case faultWords.MatchString(c.words):
		return false
	}
	for _, p := range s.Points {
		if p.Contact == contact.Body || p.Contact == contact.L1 || p.Contact == contact.L2 {
			return len(c.text) > 1 || c.placeFollows(text) // "2 bumpers" counts them
		}
	}
	return s.Contacts() == 2 || strings.ContainsAny(c.text, ".,")
}

// low reports whether the figure is of the size of direct voltages, and is not
// said to be an alternating one.
func (f figure) low() bool {
	v, err := strconv.ParseFloat(strings.TrimRight(f.text, " V"), 64)
	return err == nil && f.current != "AC" && v > 0 && v < 30
}

// directWord is said of the dial, where it does not stand beside the figure.
var directWord = regexp.MustCompile(`(?i)\bDC\b`)

func (f figure) negative() bool { return strings.HasPrefix(f.text, "-") }

// measures reports whether any step measures the pair in the figure's unit, in
// whatever state.
func (o *offers) measures(p probed, f figure) bool {
	return slices.ContainsFunc(o.measured, func(a stepQuantity) bool {
		_, _, ok := p.fit(a.quantity())
		return ok && f.takenFor(a.quantity())
	})
}

// takenFor reports whether the unit is that of the quantity; a bare number is
// taken for volts, and an over-range for anything.
func (f figure) takenFor(q faulttree.Quantity) bool {
	if f.symbol == "" {
		return !f.bare || q.Unit.Symbol() == "V"
	}
	return f.symbol == q.Unit.Symbol()
}

var unitNames = map[string]string{"": "volts", "V": "volts", "Ω": "ohms", "A": "amperes"}

func (o *offers) points(text string) contact.Said {
	var words []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",;:|", r) }) {
		words = append(append(words, o.words(part)...), contact.StopTerm)
	}
	return contact.Read(o.atoms, words).WithRunning("")
}

// words are the stems of text. A word that the handbook does not have, for a
// typo or since it is still being typed, gives way to one that names a point.
func (o *offers) words(text string) []string {
	tokens := slices.DeleteFunc(o.analyzer.Analyze([]byte(text)), func(t *analysis.Token) bool {
		return contact.Copula(strings.ToLower(text[t.Start:t.End]))
	})
	out := make([]string, len(tokens))
	for i, t := range tokens {
		out[i] = string(t.Term)
		word := strings.ToLower(text[t.Start:t.End])
		if term, ok := contact.Term(word); ok {
			out[i] = term
			continue
		}
		if o.known.has(word) || o.atoms.Begins(out[i]) {
			continue
		}
		near := o.known.corrections(word, i == len(tokens)-1)
		if i == len(tokens)-1 && len(word) >= shortestTypo {
			near = append(near, o.known.completions(word)...)
		}
		for _, n := range near {
			if st := stems(o.analyzer, n); len(st) == 1 && o.atoms.Begins(st[0]) {
				out[i] = st[0]
				break
			}
		}
	}
	return out
}

// best keeps, of a list in order, the first step of each tree for each
// quantity, as far as they fit nearly as well as the best. Under load is kept
// where it was said, and then comes first, or where nothing is read without.
func (o *offers) best(list []offer, s contact.Said) []offer {
	loaded := func(of offer) bool { return of.quantity().Has(faulttree.Loaded) }
	underLoad := slices.Contains(s.Conditions, string(faulttree.Loaded))
	light := slices.ContainsFunc(list, func(of offer) bool { return !loaded(of) })
	seen := map[string]bool{}
	var kept, otherwise []offer
	for _, of := range list {
		key := of.tree.ID + " " + of.quantity().ID
		if seen[key] || of.fit < list[0].fit-offerSlack || loaded(of) && light && !underLoad {
			continue
		}
		seen[key] = true
		if underLoad && !loaded(of) { // what the figure would mean with the loads off was not read, be it danger
			otherwise = append(otherwise, of)
		} else {
			kept = append(kept, of)
		}
	}
	return append(kept, otherwise...)
}

// fitting lists every step that measures the pair and could take the reading,
// the best first.
func (o *offers) fitting(c placedClause, whole contact.Said, text string) []offer {
	f, p := c.figure, c.probed
	guessed := p.guessed || f.guessed
	var list []offer
	for _, a := range o.measured {
		q := a.quantity()
		if !f.takenFor(q) {
			continue
		}
		fit, reversed, ok := p.fit(q)
		state, ok2 := conditionFit(q, c.Said, p)
		if !ok || !ok2 || o.ruledOut(q, text) {
			continue
		}
		of := offer{stepQuantity: a, fit: fit + state + a.bonus(text)}
		if f.wrongCurrent(q) { // offered without the figure: the dial stood wrong
			of.fit -= 0.7
		} else if r, err := faulttree.ParseReading(f.text, q); err == nil && f.text != "" {
			var harmless bool
			of.danger, harmless = o.judge(a, r)
			// A sign that depends on which probe was where is not guessed at.
			if p.legTaken(q) && !of.danger {
				continue
			}
			if (!guessed || !harmless) && (of.danger || !p.unsaidInsulation(q)) && !(reversed && q.Unit.Signed()) {
				of.reading = withUnit(f, q)
			}
		}
		if of.danger {
			of.fit++
		}
		if of.reading != "" {
			of.fit += 0.3
		}
		if a.own && !ofOwnSource(whole) {
			of.fit -= unsaidOwn
		}
		if a.twoLegs && (whole.Has(contact.L2) || legWord.MatchString(text)) {
			of.fit += 0.3
		}
		list = append(list, of)
	}
	slices.SortStableFunc(list, func(a, b offer) int {
		return cmp.Or(cmp.Compare(b.fit, a.fit), cmp.Compare(a.distance, b.distance))
	})
	return list
}

// wrongCurrent reports whether the figure says AC where the quantity is DC, or
// the reverse.
func (f figure) wrongCurrent(q faulttree.Quantity) bool {
	direct := q.Unit.Signed()
	return q.Unit != faulttree.Ohms && (f.current == "AC" && direct || f.current == "DC" && !direct)
}

// bonus prefers, among steps that measure the same, the one a walk comes to
// in the ordinary way.
func (a stepQuantity) bonus(text string) float64 {
	bonus := -0.01 * float64(min(a.distance, 40))
	if a.step.For == faulttree.Qualified {
		bonus -= 0.3
	}
	if len(a.step.Measure) > 1 {
		bonus -= 0.15
	}
	if slices.Contains(a.tree.Sheet, a.quantity().ID) {
		bonus += 0.15
	}
	for _, size := range []string{"30", "50"} {
		if sizeNamed(a.tree.Title, size) && sizeNamed(text, size) {
			bonus += 0.5
		}
	}
	return bonus
}

// ruledOut reports whether the words name what a fact may be, "30 A" of a plug, by
// which the quantity is not there.
func (o *offers) ruledOut(q faulttree.Quantity, text string) bool {
	for i := range o.forest.Facts {
		fact := &o.forest.Facts[i]
		for _, c := range fact.Choices {
			for _, size := range []string{"15", "30", "50"} {
				known := func(id string) string { return map[string]string{fact.ID: c.ID}[id] }
				if sizeNamed(c.Text, size) && sizeNamed(text, size) && q.Needs.Unmet(known) {
					return true
				}
			}
		}
	}
	return false
}

// sizeNamed reports whether text names a receptacle by its amperes.
func sizeNamed(text, size string) bool {
	lower := strings.ToLower(text)
	return slices.ContainsFunc([]string{size + "a", size + " a", size + "-a"}, func(form string) bool { return strings.Contains(lower, form) })
}

// judge tells how the engine takes the reading at a step: as DANGER where the
// quantity has a limit, or where a chart leads to nothing less whatever else is
// read; or as harmless. A step that takes several readings is not judged by one
// of them, and so may call it harmless.
func (o *offers) judge(a stepQuantity, r faulttree.Reading) (danger, harmless bool) {
	if len(a.step.Measure) != 1 {
		return false, true
	}
	out, err := a.step.Judge([]faulttree.Reading{r}, o.meter, a.tree.DangerLimit)
	if err != nil {
		return false, true
	}
	if chart, name, ok := a.step.Ref().Chart(); ok {
		s := o.forest.Step(chart)
		c := slices.IndexFunc(s.Measure, func(v faulttree.Variable) bool { return v.Name == name })
		if s.EndangersAlone(c, r, o.meter, a.tree.DangerLimit) {
			return true, false
		}
	}
	q := a.quantity()
	limit, limited := a.tree.DangerLimit(q.ID)
	return limited && out.Signal == faulttree.Danger && o.meter.MayHurt(r, q, limit), out.Signal == faulttree.NoSignal
}

// withUnit is the reading as it would be typed into the step's entry.
func withUnit(f figure, q faulttree.Quantity) string {
	if f.symbol != "" || f.text == "OL" || strings.Contains(f.text, " ") {
		return f.text
	}
	return f.text + " " + q.Unit.Symbol()
}

func (of offer) hit() Hit {
	q := of.quantity()
	h := Hit{
		ID: of.step.Ref().String(), Kind: KindStep, Title: of.step.Title,
		Reading: of.reading, Quantity: q.ID, danger: of.danger,
		Fragment: []Run{{Text: q.Title}},
	}
	if of.reading != "" {
		h.Fragment = []Run{{Text: q.Title + ": "}, {Text: of.reading, Marked: true}}
	}
	return h
}
