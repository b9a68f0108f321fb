package search

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
)

// phrase is a title, a symptom, an alias or the name of a document, cut into
// words. It answers a query well that says most of it and little else.
type phrase []phraseWord

// phraseWord is a word of a phrase: its own term and those of the meanings that
// stand over it.
type phraseWord struct {
	terms  []string
	rarity float64
}

// rankable is what the order of hits is worked out from.
type rankable struct {
	phrases []phrase
	body    []bodyTerm
	counts  map[string]int // how often the body has a term
}

// bodyTerm is a term of the body and the bytes it stands for.
type bodyTerm struct {
	term       string
	start, end int
}

func newPhrase(tokens analysis.TokenStream) phrase {
	var words phrase
	for _, t := range tokens {
		if strings.HasPrefix(string(t.Term), meaningMark) {
			continue
		}
		w := phraseWord{terms: []string{string(t.Term)}}
		for _, m := range tokens {
			if strings.HasPrefix(string(m.Term), meaningMark) && m.Start <= t.Start && t.Start < m.End {
				w.terms = append(w.terms, string(m.Term))
			}
		}
		words = append(words, w)
	}
	return words
}

// setRarity enters how much each word of a phrase tells.
func (r rankable) setRarity(rarity func(term string) float64) {
	for _, p := range r.phrases {
		for i := range p {
			p[i].rarity = max(rarity(p[i].terms[0]), leastTelling)
		}
	}
}

// leastTelling is what a word tells at least, however many documents have it.
const leastTelling = 0.1

// Parts of a score. They were set by the golden queries.
const (
	bodyShare  = 0.15 // of what the body answers, beside the best phrase
	otherShare = 0.35 // of what the other phrases answer
	longQuery  = 0.6  // power of the share of the query that is answered
	leastShare = 0.25 // of the score of a document that answers hardly anything
	longPhrase = 0.5  // power of the share of a phrase that the query says
)

// score is how well a document answers the words of a query, 0 for not at all, and which
// share of what they say it has.
func (r rankable) score(words []queryWord) (score, share float64) {
	all := 0.0
	answered := make([]float64, len(words)) // the best answer to each word
	for i := range words {
		all += words[i].telling
	}
	best, others := 0.0, 0.0
	for _, p := range r.phrases {
		s := p.score(words, all, answered)
		best, others = max(best, s), others+s
	}
	others -= best
	body := 0.0
	for i := range words {
		w := &words[i]
		q := 0.0
		for term, quality := range w.near {
			if n := r.counts[term]; n > 0 {
				q = max(q, quality*timesSaid(n))
			}
		}
		if n := r.counts[w.term]; n > 0 {
			q = max(q, timesSaid(n))
		}
		body += w.telling * q
		answered[i] = max(answered[i], q)
	}
	covered := 0.0
	for i, q := range answered {
		covered += words[i].telling * q
	}
	share = covered / all
	return (best + otherShare*math.Min(others, 1) + bodyShare*body/all) * (leastShare + (1-leastShare)*share), share
}

// timesSaid is how much more a term says that a body has n times than once.
func timesSaid(n int) float64 { return 1 - 0.5/float64(n) }

func (p phrase) score(words []queryWord, all float64, answered []float64) float64 {
	said, whole, query := 0.0, 0.0, 0.0
	reached := make([]float64, len(words))
	for _, w := range p {
		hit := 0.0
		for i := range words {
			for _, term := range w.terms {
				if q := words[i].quality(term); q > 0 {
					hit = max(hit, q)
					reached[i] = max(reached[i], q)
				}
			}
		}
		said += w.rarity * hit
		whole += w.rarity
	}
	for i, q := range reached {
		query += words[i].telling * q
		answered[i] = max(answered[i], q)
	}
	return math.Pow(query/all, longQuery) * math.Pow(said/whole, longPhrase)
}

// postings say which documents have a term, by their places in order.
type postings map[string][]posting

type posting struct {
	place  int
	phrase bool // in the title, a symptom, an alias or the name
}

// inBody is how much a term that only the body has counts for, before the
// documents are looked at more closely.
const inBody = 0.3

// best lists the places of at most so many documents that have the most of what
// the words tell, the best first.
func (p postings) best(words []queryWord, documents, most int, wanted func(place int) bool) []int {
	sums, one := make([]float64, documents), make([]float64, documents)
	var touched []int
	for i := range words {
		w := &words[i]
		var here []int
		note := func(term string, quality float64) {
			for _, at := range p[term] {
				q := quality
				if !at.phrase {
					q *= inBody
				}
				if one[at.place] == 0 {
					here = append(here, at.place)
				}
				one[at.place] = max(one[at.place], q)
			}
		}
		note(w.term, byItself)
		for term, quality := range w.near {
			note(term, quality)
		}
		for _, place := range here {
			if sums[place] == 0 {
				touched = append(touched, place)
			}
			sums[place] += w.telling * one[place]
			one[place] = 0
		}
	}
	touched = slices.DeleteFunc(touched, func(place int) bool { return !wanted(place) })
	slices.SortFunc(touched, func(a, b int) int { return cmp.Or(cmp.Compare(sums[b], sums[a]), cmp.Compare(a, b)) })
	return touched[:min(len(touched), most)]
}
