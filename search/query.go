package search

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// unit is one word of a query with everything it may match.
type unit struct {
	word      string             // lower case, as typed
	term      string             // its stem
	weight    float64            // how much it says
	near      map[string]float64 // other index terms that answer it, and how well, 0 to 1
	prefix    bool               // still being typed
	unknown   bool               // no page has it, nor a word that means the same
	corrected bool               // near holds what may have been meant by a typo
	telling   float64            // how much it tells documents apart
	phrase    int                // words of the phrase with a meaning that it is part of
	position  int
}

// How well a term answers a word of the query.
const (
	byItself     = 1.0
	byMeaning    = 0.75
	byCorrection = 0.65
	byCompletion = 0.6
)

// weakWords change what a query means but hardly choose a document; so do the
// names of units, which stand everywhere.
var weakWords = map[string]bool{"no": true, "not": true, "on": true, "off": true, "up": true, "down": true, "over": true, "under": true, "volt": true, "v": true, "ohm": true, "amp": true}

// quality is how well an index term answers the unit, 0 for not at all.
func (u *unit) quality(term string) float64 {
	if term == u.term {
		return byItself
	}
	return u.near[term]
}

func (u *unit) add(term string, quality float64) {
	if term != u.term && quality > u.near[term] {
		u.near[term] = quality
	}
}

// Where the words that no page has are said: from this share of a query, or
// where the best document has less than that of it. Set by the golden queries.
const (
	muchUnknown   = 0.4
	leastAnswered = 0.38
)

// noPage are the words of a query that no page has, where they are much of what
// it says, or where no document has much of it; share is the most that one has.
func noPage(units []unit, share float64) []string {
	var words []string
	missing, guessed, all := 0.0, 0.0, 0.0
	for i := range units {
		u := &units[i]
		if u.word[0] >= '0' && u.word[0] <= '9' || weakWords[u.term] {
			continue
		}
		all += u.telling
		if u.unknown {
			missing += u.telling
			words = appendNew(words, u.word)
		}
		if u.corrected {
			guessed += u.telling // beside an unknown word, perhaps another
		}
	}
	if missing == 0 || missing+guessed < all*muchUnknown && share >= leastAnswered {
		return nil
	}
	return words
}

// units cuts a query into words and gathers what each may match.
func (x *Index) units(text string) []unit {
	var units []unit
	last, _ := utf8.DecodeLastRuneInString(text)
	typing := unicode.IsLetter(last) || unicode.IsDigit(last)
	tokens := x.analyzer.Analyze([]byte(text))
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
		case u.word[0] >= '0' && u.word[0] <= '9':
			u.weight = 0.5 // "50" beside words names a size
		}
		u.prefix = typing && t.End == len(text)
		units = append(units, u)
	}
	for _, t := range tokens {
		if !strings.HasPrefix(string(t.Term), meaningMark) {
			continue
		}
		var over []int // the units that the meaning stands over
		for i := range units {
			if t.Start <= units[i].position && units[i].position < t.End {
				over = append(over, i)
			}
		}
		for _, i := range over {
			units[i].add(string(t.Term), byMeaning)
			units[i].phrase = len(over)
		}
	}
	for i := range units {
		x.widen(&units[i])
		units[i].telling = units[i].weight * x.telling(&units[i])
		if x.places.named(&units[i]) {
			units[i].telling *= placeShare
		}
	}
	return units
}

// placeShare is what a word for a place tells beside other words: what happens
// says more of what is wrong than where.
const placeShare = 0.65

// placeMeanings are the terms of the meanings that name a place of readings.
type placeMeanings map[string]bool

func newPlaceMeanings(groups [][]string) placeMeanings {
	m := placeMeanings{}
	for i, group := range groups {
		for _, seed := range seeds {
			if _, place := seed.atom.place(); place && containsFold(group, seed.grouped) {
				m[meaningMark+strconv.Itoa(i)] = true
			}
		}
	}
	return m
}

func (m placeMeanings) named(u *unit) bool {
	for term := range u.near {
		if m[term] {
			return true
		}
	}
	return false
}

// widen adds completions of the word being typed and corrections of a word
// that the handbook does not have, with what those mean.
func (x *Index) widen(u *unit) {
	if u.prefix && utf8.RuneCountInString(u.word) >= 2 && !weakWords[u.term] {
		for _, w := range x.known.completions(u.word) {
			x.addWord(u, w, byCompletion)
		}
	}
	if len(u.near) > 0 || len(x.postings[u.term]) > 0 || x.known.has(u.word) || strings.IndexFunc(u.word, unicode.IsDigit) >= 0 {
		return
	}
	for _, w := range x.known.corrections(u.word, u.prefix) {
		x.addWord(u, w, byCorrection)
	}
	u.corrected, u.unknown = len(u.near) > 0, len(u.near) == 0
}

// telling is how much a word tells documents apart, by how many have it, or
// what it means. The words of one phrase share what the phrase tells.
func (x *Index) telling(u *unit) float64 {
	rarity := leastTelling
	if len(x.postings[u.term]) > 0 {
		rarity = x.rarity(u.term)
	}
	best, meant := 0.0, 1.0
	for term, quality := range u.near {
		if r := x.rarity(term); quality > best || quality == best && r < meant {
			best, meant = quality, r
		}
	}
	switch {
	case u.unknown:
		rarity = 1
	case best > 0:
		rarity = max(rarity, meant)
	}
	return max(rarity, leastTelling) / float64(max(u.phrase, 1))
}

func (x *Index) addWord(u *unit, word string, quality float64) {
	for _, t := range x.analyzer.Analyze([]byte(word)) {
		q := quality
		if strings.HasPrefix(string(t.Term), meaningMark) {
			q *= byMeaning
		}
		u.add(string(t.Term), q)
	}
}
