package load

import (
	"slices"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/source"
)

// rubricFile is the document that says how a practice attempt is marked.
const rubricFile = "rubric.md"

// mostTotals is how many words for totals a rubric may have.
const mostTotals = 20

// readRubric reads what the marks of an attempt count.
func (p *part) readRubric() {
	front, doc := p.open("rubric", "sources", "held", "in-doubt", "felt", "dead-test", "guess", "again", "economy", "caps", "parts", "words")
	p.rubric = &content.Rubric{Document: doc}
	p.doc = &p.rubric.Document
	r := &p.rubric.Rubric
	r.Held, r.InDoubt = p.hundredths(front, "held", 51, 100), p.hundredths(front, "in-doubt", 1, 50)
	r.DeadTest = p.hundredths(front, "dead-test", 1, 1000)
	r.Guess, r.Again = front.Need("guess").Number("guess", 0, rubric.Whole), front.Need("again").Number("again", 0, rubric.Whole)
	if felt, ok := readMeasured(front.Need("felt"), "felt"); ok {
		if felt.symbol != "V" || felt.amount <= 0 {
			front.Get("felt").Report(RuleUnitMismatch, "", "felt is a voltage of a body to earth; expected a form such as 5 V")
		}
		r.Felt = felt.amount
	}
	economy := front.Need("economy").Map("economy", "full", "none")
	r.FullAt, r.NoneFrom = p.hundredths(economy, "full", 100, 10_000), p.hundredths(economy, "none", 100, 10_000)
	if r.FullAt > 0 && r.NoneFrom > 0 && r.NoneFrom <= r.FullAt {
		economy.Get("none").Report(RuleBadRange, "", "there are no points from %g %% of the best order on, and full points up to %g %%; expected more for none", r.NoneFrom*100, r.FullAt*100)
	}
	p.rubricCaps(front.Need("caps"))
	p.rubricParts(front.Need("parts"))
	p.rubricWords(front.Need("words"))
	p.needBody("rubric")
}

// hundredths is a whole number of a key as a share: percent, or hundredths.
func (p *part) hundredths(m document.Map, key string, low, high int) float64 {
	return float64(m.Need(key).Number(key, low, high)) / 100
}

// rubricCaps reads what unsafe acts bound: each rule once.
func (p *part) rubricCaps(v document.Value) {
	var seen []rubric.Rule
	for _, item := range v.Items("caps") {
		m := item.Map("a cap", "rule", "title", "most", "card")
		rule := oneOf(m.Need("rule"), "rule", rubric.Rules())
		if rule == "" {
			continue
		}
		if slices.Contains(seen, rule) {
			m.Get("rule").Report(RuleDuplicateID, "", "the rule %s stands twice in caps", rule)
			continue
		}
		seen = append(seen, rule)
		p.rubric.Rubric.Caps = append(p.rubric.Rubric.Caps, rubric.Cap{Rule: rule, Title: m.NeedText("title"), Most: m.Need("most").Number("most", 0, rubric.Whole-1), Card: p.rubricCard(m)})
	}
	lacks(v, RuleRubric, "caps", words(seen), words(rubric.Rules()))
}

// rubricParts reads what counts how many points: each part once, 100 together.
func (p *part) rubricParts(v document.Value) {
	var seen []string
	sum := 0
	for _, item := range v.Items("parts") {
		m := item.Map("a part", "part", "title", "points", "card")
		id := oneOf(m.Need("part"), "part", rubric.PartIDs())
		if id == "" {
			continue
		}
		if slices.Contains(seen, id) {
			m.Get("part").Report(RuleDuplicateID, "", "the part %s stands twice in parts", id)
			continue
		}
		seen = append(seen, id)
		points := m.Need("points").Number("points", 0, rubric.Whole)
		sum += points
		p.rubric.Rubric.Parts = append(p.rubric.Rubric.Parts, rubric.Part{ID: id, Title: m.NeedText("title"), Points: points, Card: p.rubricCard(m)})
	}
	lacks(v, RuleRubric, "parts", seen, rubric.PartIDs())
	if v.IsList() && len(seen) == len(rubric.PartIDs()) && sum != rubric.Whole {
		v.Report(RuleRubric, "", "the points of all parts add up to %d; expected %d", sum, rubric.Whole)
	}
}

// rubricWords reads what totals are called: the highest first, the last from 0.
func (p *part) rubricWords(v document.Value) {
	last := rubric.Whole + 1
	for _, item := range atMost(mostTotals, v, "words") {
		m := item.Map("a word", "from", "word")
		from := m.Need("from").Number("from", 0, rubric.Whole)
		if from >= last {
			m.Get("from").Report(RuleRubric, "", "this word is for %d and more, and the one before it for %d and more; expected the highest first", from, last)
		}
		last = from
		p.rubric.Rubric.Words = append(p.rubric.Rubric.Words, rubric.Word{From: from, Text: m.NeedText("word")})
	}
	if v.IsList() && last != 0 {
		v.Report(RuleRubric, "", "no word is for a total of 0; expected the last one from 0 on")
	}
}

// rubricCard notes a card or caution that explains an entry.
func (p *part) rubricCard(m document.Map) string {
	card := m.NeedText("card")
	if card != "" {
		p.refs = append(p.refs, reference{kind: refRelated, id: card, pos: m.Get("card").Pos()})
	}
	return card
}

// lacks reports what a list does not name that it has to.
func lacks(v document.Value, rule, what string, has, all []string) {
	for _, id := range all {
		if v.IsList() && !slices.Contains(has, id) {
			v.Report(rule, source.DidYouMean(id, has), "%s says nothing of %s", what, id)
		}
	}
}
