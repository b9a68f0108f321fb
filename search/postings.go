package search

import (
	"cmp"
	"slices"
)

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
