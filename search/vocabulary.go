package search

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// vocabulary is every word of the handbook as written, for completing a word
// that is being typed and for forgiving a typo.
type vocabulary struct {
	count  map[string]int // lower case
	sorted []string
}

const (
	mostCompletions = 12
	mostCorrections = 4
	shortestTypo    = 4 // letters; shorter words have too many neighbours
)

func newVocabulary(entries []entry, synonyms [][]string) vocabulary {
	v := vocabulary{count: map[string]int{}}
	for i := range entries {
		e := &entries[i]
		for _, text := range []string{e.title, e.symptoms, e.aliases, e.body} {
			v.add(text)
		}
	}
	for _, group := range synonyms {
		for _, member := range group {
			v.add(member)
		}
	}
	v.sorted = make([]string, 0, len(v.count))
	for w := range v.count {
		v.sorted = append(v.sorted, w)
	}
	slices.Sort(v.sorted)
	return v
}

func (v vocabulary) add(text string) {
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		v.count[w]++
	}
}

// has reports whether word stands in the handbook as written.
func (v vocabulary) has(word string) bool { return v.count[word] > 0 }

// completions are the commonest words that begin with prefix and are longer;
// more tells that there are others.
func (v vocabulary) completions(prefix string) (list []string, more bool) {
	from, _ := slices.BinarySearch(v.sorted, prefix)
	var out []string
	for _, w := range v.sorted[from:] {
		if !strings.HasPrefix(w, prefix) {
			break
		}
		if w != prefix {
			out = append(out, w)
		}
	}
	return v.commonest(out, mostCompletions), len(out) > mostCompletions
}

// corrections are the commonest words one typo away from an unknown word.
func (v vocabulary) corrections(word string) []string {
	n := utf8.RuneCountInString(word)
	if n < shortestTypo || v.has(word) || strings.IndexFunc(word, unicode.IsDigit) >= 0 {
		return nil
	}
	var out []string
	typed := []rune(word)
	for _, w := range v.sorted {
		if d := len(w) - len(word); d < -4 || d > 4 || w[0] != word[0] && w[len(w)-1] != word[len(word)-1] {
			continue // one typo does not change both ends of a word of four letters
		}
		if oneTypo(typed, []rune(w)) {
			out = append(out, w)
		}
	}
	return v.commonest(out, mostCorrections)
}

func (v vocabulary) commonest(list []string, most int) []string {
	slices.SortStableFunc(list, func(a, b string) int { return v.count[b] - v.count[a] })
	return list[:min(len(list), most)]
}

// oneTypo reports whether one letter added, left out, exchanged for another,
// or one pair of neighbours in the wrong order makes b of a.
func oneTypo(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch {
	case len(a) < len(b):
		return slices.Equal(a[i:], b[i+1:])
	case i == len(a):
		return false
	case slices.Equal(a[i+1:], b[i+1:]):
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && slices.Equal(a[i+2:], b[i+2:])
}
