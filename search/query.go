package search

import (
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"
)

// unit is one word of a query with everything it may match.
type unit struct {
	word     string             // lower case, as typed
	term     string             // its stem
	weight   float64            // how much it says
	near     map[string]float64 // other index terms that answer it, and how well, 0 to 1
	prefix   bool               // still being typed
	more     bool               // more words begin so than near holds
	unknown  bool               // not in the handbook: a typo is forgiven
	position int
}

// How well a term answers a word of the query.
const (
	byItself     = 1.0
	byMeaning    = 0.75
	byCorrection = 0.65
	byCompletion = 0.6
	byTypo       = 0.5
)

// Weights of the fields, and where the whole query is looked for as a phrase
// too: not in the body, where it costs most and tells least.
var fields = []struct {
	name   string
	boost  float64
	phrase bool
}{{fieldName, 2, false}, {fieldTitle, 3, true}, {fieldSymptoms, 3.2, true}, {fieldAliases, 2.4, true}, {fieldBody, 1, false}}

// weakWords change what a query means but hardly choose a document; so do the
// names of units, which stand everywhere.
var weakWords = map[string]bool{"no": true, "not": true, "on": true, "off": true, "up": true, "down": true, "over": true, "under": true, "volt": true, "v": true, "ohm": true, "amp": true}

// quality is how well an index term answers the unit, 0 for not at all.
func (u *unit) quality(term string) float64 {
	switch {
	case term == u.term:
		return byItself
	case u.near[term] > 0:
		return u.near[term]
	case strings.HasPrefix(term, meaningMark):
		return 0
	case u.prefix && strings.HasPrefix(term, u.word):
		return byCompletion
	case u.unknown && oneTypo([]rune(u.term), []rune(term)):
		return byTypo
	}
	return 0
}

func (u *unit) add(term string, quality float64) {
	if term != u.term && quality > u.near[term] {
		u.near[term] = quality
	}
}

// units cuts a query into words and gathers what each may match.
func (x *Index) units(text string) []unit {
	var units []unit
	last, _ := utf8.DecodeLastRuneInString(text)
	typing := unicode.IsLetter(last) || unicode.IsDigit(last)
	tokens := x.cut.Analyze([]byte(text))
	for _, t := range tokens {
		if strings.HasPrefix(string(t.Term), meaningMark) || len(units) == mostUnits {
			continue
		}
		u := unit{word: strings.ToLower(text[t.Start:t.End]), term: string(t.Term), weight: 1, near: map[string]float64{}, position: t.Start}
		switch {
		case weakWords[u.term]:
			u.weight = 0.4
		case u.word[0] >= '0' && u.word[0] <= '9' && !x.known.has(u.word):
			u.weight = 0.2 // a figure of the reader's own
		}
		u.prefix = typing && t.End == len(text)
		units = append(units, u)
	}
	for _, t := range tokens {
		for i := range units {
			if strings.HasPrefix(string(t.Term), meaningMark) && t.Start <= units[i].position && units[i].position < t.End {
				units[i].add(string(t.Term), byMeaning)
			}
		}
	}
	for i := range units {
		x.widen(&units[i])
	}
	return units
}

// widen adds completions of the word being typed and corrections of a word
// that the handbook does not have, with what those mean.
func (x *Index) widen(u *unit) {
	var completions []string
	if u.prefix && utf8.RuneCountInString(u.word) >= 2 && !weakWords[u.term] {
		completions, u.more = x.known.completions(u.word)
	}
	for _, w := range completions {
		x.addWord(u, w, byCompletion)
	}
	if len(completions) > 0 || x.known.has(u.word) || strings.IndexFunc(u.word, unicode.IsDigit) >= 0 {
		return
	}
	u.unknown = utf8.RuneCountInString(u.word) >= shortestTypo
	for _, w := range x.known.corrections(u.word) {
		x.addWord(u, w, byCorrection)
	}
}

func (x *Index) addWord(u *unit, word string, quality float64) {
	for _, t := range x.cut.Analyze([]byte(word)) {
		q := quality
		if strings.HasPrefix(string(t.Term), meaningMark) {
			q *= byMeaning
		}
		u.add(string(t.Term), q)
	}
}

// query is the search for units: any of them, in any field, and all of them
// in a row for good measure.
func (x *Index) query(units []unit, text, kind string) query.Query {
	var clauses []query.Query
	put := func(q interface {
		query.BoostableQuery
		query.FieldableQuery
	}, field string, boost float64) {
		q.SetField(field)
		q.SetBoost(boost)
		clauses = append(clauses, q)
	}
	for _, f := range fields {
		for i := range units {
			u := &units[i]
			put(bleve.NewTermQuery(u.term), f.name, f.boost*u.weight)
			for _, term := range slices.Sorted(maps.Keys(u.near)) { // in order: sums of floats depend on it
				quality := u.near[term]
				put(bleve.NewTermQuery(term), f.name, f.boost*u.weight*quality*quality)
			}
			if u.more {
				put(bleve.NewPrefixQuery(u.word), f.name, f.boost*0.2)
			}
			if u.unknown {
				fuzzy := bleve.NewMatchQuery(u.word)
				fuzzy.Analyzer = lexical
				fuzzy.SetFuzziness(1)
				put(fuzzy, f.name, f.boost*0.2)
			}
		}
		if f.phrase && len(units) > 1 {
			put(bleve.NewMatchPhraseQuery(text), f.name, f.boost*2)
		}
	}
	q := query.Query(bleve.NewDisjunctionQuery(clauses...))
	if kind != "" {
		only := bleve.NewTermQuery(kind)
		only.SetField(fieldKind)
		only.SetBoost(0)
		q = bleve.NewConjunctionQuery(q, only)
	}
	return q
}
