package search

import (
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/content/contact"
)

// vocabulary is every word of the handbook as written, for completing a word
// that is being typed and for forgiving a typo.
type vocabulary struct {
	count  map[string]int // lower case
	sorted []string       // see sort
}

const (
	mostCompletions = 12
	mostCorrections = 4
	shortestTypo    = 4 // letters; shorter words have too many neighbours
)

func newVocabulary() vocabulary { return vocabulary{count: map[string]int{}} }

// add enters the words that text was cut into.
func (v vocabulary) add(tokens analysis.TokenStream, text string) {
	for _, t := range tokens {
		if !strings.HasPrefix(string(t.Term), meaningMark) {
			v.count[strings.ToLower(text[t.Start:t.End])]++
		}
	}
}

// sort ends the adding.
func (v *vocabulary) sort() { v.sorted = slices.Sorted(maps.Keys(v.count)) }

// has reports whether word stands in the handbook as written.
func (v vocabulary) has(word string) bool { return v.count[word] > 0 }

// completions are the commonest words that begin with prefix and are longer.
func (v vocabulary) completions(prefix string) []string {
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
	return v.commonest(out, mostCompletions)
}

// corrections are the commonest words one typo away from an unknown word. A
// word that is still being typed may also be the beginning of one.
func (v vocabulary) corrections(word string, typing bool) []string {
	n := utf8.RuneCountInString(word)
	if n < shortestTypo || v.has(word) || strings.IndexFunc(word, unicode.IsDigit) >= 0 {
		return nil
	}
	var out, begun []string
	typed := []rune(word)
	for _, w := range v.sorted {
		full := []rune(w)
		if full[0] != typed[0] && !swapped(typed, full) {
			continue // the first letter of a word is seldom mistyped
		}
		switch {
		case contact.OneTypo(typed, full) && (n > shortestTypo || swapped(typed, full)):
			out = append(out, w)
		case typing && full[0] == typed[0] && len(full) > n && swapped(typed, full[:n]):
			begun = append(begun, w)
		}
	}
	if len(out) == 0 {
		out = begun
	}
	return v.commonest(out, mostCorrections)
}

// swapped reports whether b is a with its letters in another order. A word of
// four letters has too many neighbours of other letters.
func swapped(a, b []rune) bool {
	if len(a) != len(b) {
		return false
	}
	x, y := slices.Clone(a), slices.Clone(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y) && contact.OneTypo(a, b)
}

func (v vocabulary) commonest(list []string, most int) []string {
	slices.SortStableFunc(list, func(a, b string) int { return v.count[b] - v.count[a] })
	return list[:min(len(list), most)]
}
