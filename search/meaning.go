package search

import (
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
)

// meaningMark begins the index term of a meaning. No word begins with it.
const meaningMark = "="

// phrases finds the longest of a set of phrases at a place in a run of words.
// The zero value holds none.
type phrases[T any] struct {
	byWords map[string][]T  // the words joined by spaces
	begins  map[string]bool // every beginning of a phrase, so that a search stops early
}

// add makes words mean one more thing.
func (p *phrases[T]) add(words []string, what T) {
	if len(words) == 0 {
		return
	}
	if p.byWords == nil {
		p.byWords, p.begins = map[string][]T{}, map[string]bool{}
	}
	for i := range words {
		p.begins[strings.Join(words[:i+1], " ")] = true
	}
	key := strings.Join(words, " ")
	p.byWords[key] = append(p.byWords[key], what)
}

// at is what the longest phrase that begins at words[0] means, and how many
// words it has; 0 if none begins there.
func (p *phrases[T]) at(words []string) (what []T, length int) {
	key := ""
	for i, w := range words {
		if i > 0 {
			key += " "
		}
		key += w
		if !p.begins[key] {
			break
		}
		if found, ok := p.byWords[key]; ok {
			what, length = found, i+1
		}
	}
	return what, length
}

// meaningFilter adds, beside the first word of each phrase that stands in a
// group of synonyms, a term for the group.
type meaningFilter struct{ phrases phrases[string] }

func newMeaningFilter(groups [][]string, analyzer analysis.Analyzer) *meaningFilter {
	f := &meaningFilter{}
	for i, group := range groups {
		seen := map[string]bool{}
		for _, member := range group {
			w := stems(analyzer, member)
			if key := strings.Join(w, " "); !seen[key] && !tooBare(w) {
				seen[key] = true
				f.phrases.add(w, meaningMark+strconv.Itoa(i))
			}
		}
	}
	return f
}

// tooBare refuses a lone digit, which says nothing, and stop words alone.
func tooBare(words []string) bool {
	for _, w := range words {
		if !stopSet[w] && (len(words) > 1 || len(w) > 1 || w < "0" || w > "9") {
			return false
		}
	}
	return true
}

// stems cuts text into stemmed words.
func stems(a analysis.Analyzer, text string) []string {
	tokens := a.Analyze([]byte(text))
	out := make([]string, len(tokens))
	for i, t := range tokens {
		out[i] = string(t.Term)
	}
	return out
}

// Filter implements analysis.TokenFilter.
func (f *meaningFilter) Filter(in analysis.TokenStream) analysis.TokenStream {
	words := make([]string, len(in))
	for i, t := range in {
		words[i] = string(t.Term)
	}
	out := make(analysis.TokenStream, 0, len(in)+len(in)/2)
	for i, skip := 0, 0; i < len(in); i++ {
		out = append(out, in[i])
		if skip > 0 {
			skip--
			continue
		}
		found, n := f.phrases.at(words[i:])
		if n == 0 {
			continue
		}
		skip = n - 1
		for _, term := range found {
			out = append(out, &analysis.Token{
				Term: []byte(term), Start: in[i].Start, End: in[i+n-1].End,
				Position: in[i].Position, Type: in[i].Type, KeyWord: true,
			})
		}
	}
	return out
}
