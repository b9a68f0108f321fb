package search

import (
	"regexp"
	"slices"
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
