package search

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/content/contact"
	"faultwright/faulttree/lists"
)

// queryWord is one word of a query with everything it may match.
type queryWord struct {
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

// quality is how well an index term answers the word, 0 for not at all.
func (w *queryWord) quality(term string) float64 {
	if term == w.term {
		return byItself
	}
	return w.near[term]
}

func (w *queryWord) add(term string, quality float64) {
	if term != w.term && quality > w.near[term] {
		w.near[term] = quality
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
func noPage(words []queryWord, share float64) []string {
	var missed []string
	missing, guessed, all := 0.0, 0.0, 0.0
	for i := range words {
		w := &words[i]
		if w.word[0] >= '0' && w.word[0] <= '9' || contact.Weak(w.term) {
			continue
		}
		all += w.telling
		if w.unknown {
			missing += w.telling
			missed = lists.With(missed, w.word)
		}
		if w.corrected {
			guessed += w.telling // beside an unknown word, perhaps another
		}
	}
	if missing == 0 || missing+guessed < all*muchUnknown && share >= leastAnswered {
		return nil
	}
	return missed
}

// queryWords cuts a query into its words and gathers what each may match.
func (x *Index) queryWords(text string) []queryWord {
	var words []queryWord
	last, _ := utf8.DecodeLastRuneInString(text)
	typing := unicode.IsLetter(last) || unicode.IsDigit(last)
	tokens := x.analyzer.Analyze([]byte(text))
	for _, t := range tokens {
		if strings.HasPrefix(string(t.Term), meaningMark) || len(words) == mostWords {
			continue
		}
		w := queryWord{word: strings.ToLower(text[t.Start:t.End]), term: string(t.Term), weight: 1, near: map[string]float64{}, position: t.Start}
		switch {
		case contact.Weak(w.term):
			w.weight = 0.4
		case w.word[0] >= '0' && w.word[0] <= '9' && !x.known.has(w.word):
			w.weight = 0.2 // a figure of the reader's own
		case w.word[0] >= '0' && w.word[0] <= '9':
			w.weight = 0.5 // "50" beside words names a size
		}
		w.prefix = typing && t.End == len(text)
		words = append(words, w)
	}
	for _, t := range tokens {
		if !strings.HasPrefix(string(t.Term), meaningMark) {
			continue
		}
		var over []int // the words that the meaning stands over
		for i := range words {
			if t.Start <= words[i].position && words[i].position < t.End {
				over = append(over, i)
			}
		}
		for _, i := range over {
			words[i].add(string(t.Term), byMeaning)
			words[i].phrase = len(over)
		}
	}
	for i := range words {
		x.widen(&words[i])
		words[i].telling = words[i].weight * x.telling(&words[i])
		if x.places.named(&words[i]) {
			words[i].telling *= placeShare
		}
	}
	return words
}

// placeShare is what a word for a place tells beside other words: what happens
// says more of what is wrong than where.
const placeShare = 0.65

// placeMeanings are the terms of the meanings that name a place of readings.
type placeMeanings map[string]bool

func newPlaceMeanings(groups [][]string) placeMeanings {
	m := placeMeanings{}
	for i, group := range groups {
		for _, seed := range contact.Seeds() {
			if _, place := seed.Atom.Place(); place && contact.ContainsFold(group, seed.Grouped) {
				m[meaningMark+strconv.Itoa(i)] = true
			}
		}
	}
	return m
}

func (m placeMeanings) named(w *queryWord) bool {
	for term := range w.near {
		if m[term] {
			return true
		}
	}
	return false
}

// widen adds completions of the word being typed and corrections of a word
// that the handbook does not have, with what those mean.
func (x *Index) widen(w *queryWord) {
	if w.prefix && utf8.RuneCountInString(w.word) >= 2 && !contact.Weak(w.term) {
		for _, known := range x.known.completions(w.word) {
			x.addWord(w, known, byCompletion)
		}
	}
	if len(w.near) > 0 || len(x.postings[w.term]) > 0 || x.known.has(w.word) || strings.IndexFunc(w.word, unicode.IsDigit) >= 0 {
		return
	}
	for _, known := range x.known.corrections(w.word, w.prefix) {
		x.addWord(w, known, byCorrection)
	}
	w.corrected, w.unknown = len(w.near) > 0, len(w.near) == 0
}

// telling is how much a word tells documents apart, by how many have it, or
// what it means. The words of one phrase share what the phrase tells.
func (x *Index) telling(w *queryWord) float64 {
	rarity := leastTelling
	if len(x.postings[w.term]) > 0 {
		rarity = x.rarity(w.term)
	}
	best, meant := 0.0, 1.0
	for term, quality := range w.near {
		if r := x.rarity(term); quality > best || quality == best && r < meant {
			best, meant = quality, r
		}
	}
	switch {
	case w.unknown:
		rarity = 1
	case best > 0:
		rarity = max(rarity, meant)
	}
	return max(rarity, leastTelling) / float64(max(w.phrase, 1))
}

func (x *Index) addWord(w *queryWord, word string, quality float64) {
	for _, t := range x.analyzer.Analyze([]byte(word)) {
		q := quality
		if strings.HasPrefix(string(t.Term), meaningMark) {
			q *= byMeaning
		}
		w.add(string(t.Term), q)
	}
}
