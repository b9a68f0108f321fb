package search

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/token/lowercase"
	"github.com/blevesearch/bleve/v2/analysis/token/porter"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/unicode"

	"faultwright/content/contact"
)

// newAnalyzers makes what texts and queries go through. Lexical gives words,
// stemmed, the stop words left in; indexed adds the meanings of the groups of
// synonyms and takes the stop words out.
func newAnalyzers(groups [][]string) (lexical, indexed analysis.Analyzer) {
	tokens := unicode.NewUnicodeTokenizer()
	filters := []analysis.TokenFilter{lowercase.NewLowerCaseFilter(), wordFilter{}, porter.NewPorterStemmer()}
	lexical = &analysis.DefaultAnalyzer{Tokenizer: tokens, TokenFilters: filters}
	indexed = &analysis.DefaultAnalyzer{Tokenizer: tokens, TokenFilters: append(slices.Clip(filters), newMeaningFilter(groups, lexical), stopFilter{})}
	return lexical, indexed
}

// wordFilter brings the ways to write a word to one: "won't" and its like are
// "not", the possessive 's is cut, "120V" and "120 V" are 120 volt, British
// spelling is American. It keeps from the stemmer what must stay as it is.
type wordFilter struct{}

var barContraction = regexp.MustCompile(`^(?:wo|do|ca|is|does|did|was|are|were|have|has|had|would|could|should|ai)nt$|^cannot$`)

// shortened is what stands for a verb or a possessive behind a word: it's, we're.
var shortened = regexp.MustCompile(`'(?:s|re|ve|ll|d|m)?$`)

// unitLetters behind a number are the word for the unit.
var unitLetters = map[string]string{"v": "volt", "vac": "volt", "vdc": "volt", "a": "amp", "amps": "amp", "ω": "ohm", "kω": "kilohm", "mω": "megohm"}

var numberWithUnit = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?)(v|vac|vdc|a|amps?|ω|kω|mω)$`)

func (wordFilter) Filter(in analysis.TokenStream) analysis.TokenStream {
	out := make(analysis.TokenStream, 0, len(in))
	afterNumber := false
	for _, t := range in {
		w := strings.ReplaceAll(string(t.Term), "’", "'")
		if m := numberWithUnit.FindStringSubmatch(w); m != nil {
			number := *t
			number.Term, number.End = []byte(m[1]), t.Start+len(m[1])
			out = append(out, &number)
			t.Start += len(m[1])
			w, afterNumber = m[2], true
		}
		switch unit, ok := unitLetters[w]; {
		case ok && afterNumber:
			w = unit
		case strings.HasSuffix(w, "n't"), barContraction.MatchString(w):
			w = "not"
		default:
			w = american(shortened.ReplaceAllString(w, ""))
		}
		afterNumber = w[:min(1, len(w))] >= "0" && w[:min(1, len(w))] <= "9"
		t.Term = []byte(w)
		t.KeyWord = contact.Stop(w) || w == "one" // the stemmer would make "on" of it
		out = append(out, t)
	}
	return out
}

var (
	britishWords   = map[string]string{"aluminium": "aluminum", "tyre": "tire", "tyres": "tires", "grey": "gray", "centre": "center", "litre": "liter", "fibre": "fiber", "licence": "license", "odour": "odor", "mould": "mold", "kerb": "curb"}
	britishEndings = regexp.MustCompile(`(?:(is)(e|es|ed|er|ing|ation)|(our)(s|ed|ing|hood)?)$`)
)

// american is a word in American spelling; both sides of a search go through
// it, so it matters only that two spellings meet.
func american(word string) string {
	if w, ok := britishWords[word]; ok {
		return w
	}
	if len(word) < 6 {
		return word
	}
	m := britishEndings.FindStringSubmatchIndex(word)
	switch {
	case m == nil:
		return word
	case m[2] >= 0:
		return word[:m[2]] + "iz" + word[m[3]:]
	}
	return word[:m[6]] + "or" + word[m[7]:]
}

// stopFilter takes out what wordFilter marked. It looks at the mark too, since
// a stemmer can make a stop word of an honest one: "ATS" becomes "at".
type stopFilter struct{}

func (stopFilter) Filter(in analysis.TokenStream) analysis.TokenStream {
	out := in[:0]
	for _, t := range in {
		if !t.KeyWord || !contact.Stop(string(t.Term)) {
			out = append(out, t)
		}
	}
	return out
}

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
