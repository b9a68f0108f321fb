package search

import (
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/content/contact"
)

// meaningMark begins the index term of a meaning. No word begins with it.
const meaningMark = "="

// meaningFilter adds, beside the first word of each phrase that stands in a
// group of synonyms, a term for the group.
type meaningFilter struct{ phrases contact.Phrases[string] }

func newMeaningFilter(groups [][]string, analyzer analysis.Analyzer) *meaningFilter {
	f := &meaningFilter{}
	for i, group := range groups {
		seen := map[string]bool{}
		for _, member := range group {
			w := stems(analyzer, member)
			if key := strings.Join(w, " "); !seen[key] && !contact.TooBare(w) {
				seen[key] = true
				f.phrases.Add(w, meaningMark+strconv.Itoa(i))
			}
		}
	}
	return f
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
		found, n := f.phrases.At(words[i:])
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
