package load

import (
	"io/fs"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree/rubric"
)

// rubricFile is the document that says how a practice attempt is marked.
const rubricFile = "rubric.md"

// mostTotals is how many words for totals a rubric may have.
const mostTotals = 20

// readRubric reads what the marks of an attempt count.
func (p *part) readRubric() {
	front, doc := p.open("rubric", "sources", "held", "in-doubt", "felt", "dead-test", "guess", "again", "hint", "economy", "caps", "parts", "words")
	p.rubric = &content.Rubric{Document: doc}
	p.doc = &p.rubric.Document
	r := &p.rubric.Rubric
	r.Held, r.InDoubt = p.hundredths(front, "held", 51, 100), p.hundredths(front, "in-doubt", 1, 50)
	r.DeadTest = p.hundredths(front, "dead-test", 1, 1000)
	r.Guess, r.Again = front.Need("guess").Number("guess", 0, rubric.Whole), front.Need("again").Number("again", 0, rubric.Whole)
	r.Hint = front.Need("hint").Number("hint", 0, rubric.Whole)
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

// once reads a list of which every entry says under a key what it is for: each of
// all once.
func once[T ~string](v document.Value, list, what, key string, all []T, read func(m document.Map, id T), keys ...string) {
	var seen []T
	for _, item := range v.Items(list) {
		m := item.Map(what, append([]string{key}, keys...)...)
		id := oneOf(m.Need(key), key, all)
		switch {
		case id == "":
		case slices.Contains(seen, id):
			m.Get(key).Report(RuleDuplicateID, "", "the %s %s stands twice in %s", key, id, list)
		default:
			seen = append(seen, id)
			read(m, id)
		}
	}
	for _, id := range all {
		if v.IsList() && !slices.Contains(seen, id) {
			v.Report(RuleRubric, "add a line such as "+shippedEntry(key, string(id)), "%s says nothing of %s", list, id)
		}
	}
}

// shippedEntry is the line of the shipped rubric about one of all, to begin from.
func shippedEntry(key, id string) string {
	text, _ := fs.ReadFile(content.ShippedFiles(), rubricFile) // it is inside the program
	for line := range strings.Lines(string(text)) {
		if strings.Contains(line, "{"+key+": "+id+",") {
			return strings.TrimSpace(line)
		}
	}
	return "- {" + key + ": " + id + ", …}"
}

// rubricCaps reads what unsafe acts bound.
func (p *part) rubricCaps(v document.Value) {
	once(v, "caps", "a cap", "rule", rubric.Rules(), func(m document.Map, rule rubric.Rule) {
		p.rubric.Rubric.Caps = append(p.rubric.Rubric.Caps, rubric.Cap{Rule: rule, Title: m.NeedText("title"), Most: m.Need("most").Number("most", 0, rubric.Whole-1), Card: p.needTo(refRelated, m, "card")})
	}, "title", "most", "card")
}

// rubricParts reads what counts how many points, 100 together.
func (p *part) rubricParts(v document.Value) {
	sum := 0
	once(v, "parts", "a part", "part", rubric.PartIDs(), func(m document.Map, id string) {
		points := m.Need("points").Number("points", 0, rubric.Whole)
		sum += points
		p.rubric.Rubric.Parts = append(p.rubric.Rubric.Parts, rubric.Part{ID: id, Title: m.NeedText("title"), Points: points, Card: p.needTo(refRelated, m, "card")})
	}, "title", "points", "card")
	if v.IsList() && len(p.rubric.Rubric.Parts) == len(rubric.PartIDs()) && sum != rubric.Whole {
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
