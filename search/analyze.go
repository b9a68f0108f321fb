package search

import (
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	"github.com/blevesearch/bleve/v2/analysis/token/lowercase"
	"github.com/blevesearch/bleve/v2/analysis/token/porter"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/unicode"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/registry"
)

// Names of our analyzers and of the parts they are made of.
const (
	lexical  = "lexical"  // words, stemmed, with the stop words left in
	indexed  = "indexed"  // what documents and queries go through: meanings added, stop words out
	words    = "words"    // filter: contractions, possessives, stop words kept from the stemmer
	meanings = "meanings" // filter: adds the meanings
	stops    = "stops"    // filter: takes the stop words out

	wordsType    = "faultwright_words"
	meaningsType = "faultwright_meanings"
	stopsType    = "faultwright_stops"
)

// Fields of the index.
const (
	fieldName     = "name" // the id, which is a trade word itself
	fieldTitle    = "title"
	fieldSymptoms = "symptoms"
	fieldAliases  = "aliases"
	fieldBody     = "body"
	fieldKind     = "kind"
)

// stopWords say nothing about what is wrong. "No", "not", "on", "off", "up",
// "down", "over" and "under" do, and so they are not here.
const stopWords = `a an the this that these those it its is are was were be been being am
i me my mine you your yours we us our ours he she they them their his her
and or but if so as of at by to in into with for from than then there here
do does did done have has had will would shall should can could may might must
what which who whom when where why how about just very some any all also too
get gets got please help`

var stopSet = func() map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(stopWords) {
		set[w] = true
	}
	return set
}()

// newMapping describes the index: five weighted text fields and the kind.
// Nothing is stored; the texts are kept beside the index.
func newMapping(groups [][]string) (*mapping.IndexMappingImpl, error) {
	m := bleve.NewIndexMapping()
	steps := []func() error{
		func() error { return m.AddCustomTokenFilter(stops, map[string]any{"type": stopsType}) },
		func() error { return m.AddCustomTokenFilter(words, map[string]any{"type": wordsType}) },
		func() error { return m.AddCustomAnalyzer(lexical, chain(lowercase.Name, words, porter.Name)) },
		func() error {
			return m.AddCustomTokenFilter(meanings, map[string]any{"type": meaningsType, "groups": groups})
		},
		func() error {
			return m.AddCustomAnalyzer(indexed, chain(lowercase.Name, words, porter.Name, meanings, stops))
		},
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	m.DefaultAnalyzer = indexed
	m.ScoringModel = "bm25"
	doc := bleve.NewDocumentStaticMapping()
	for _, name := range []string{fieldName, fieldTitle, fieldSymptoms, fieldAliases, fieldBody} {
		f := bleve.NewTextFieldMapping()
		f.Analyzer, f.Store, f.IncludeInAll, f.DocValues = indexed, false, false, false
		doc.AddFieldMappingsAt(name, f)
	}
	kind := bleve.NewTextFieldMapping()
	kind.Analyzer, kind.Store, kind.IncludeInAll, kind.DocValues, kind.IncludeTermVectors = keyword.Name, false, false, false, false
	doc.AddFieldMappingsAt(fieldKind, kind)
	m.DefaultMapping = doc
	return m, nil
}

func chain(filters ...string) map[string]any {
	list := make([]any, len(filters))
	for i, f := range filters {
		list[i] = f
	}
	return map[string]any{"type": custom.Name, "tokenizer": unicode.Name, "token_filters": list}
}

// wordFilter turns "won't" and its like into "not", cuts the possessive 's,
// and marks stop words so that the stemmer leaves them as the stop list
// spells them.
type wordFilter struct{}

var barContractions = map[string]bool{
	"wont": true, "dont": true, "cant": true, "cannot": true, "isnt": true, "doesnt": true, "didnt": true, "wasnt": true, "arent": true,
}

func (wordFilter) Filter(in analysis.TokenStream) analysis.TokenStream {
	for _, t := range in {
		w := strings.ReplaceAll(string(t.Term), "’", "'")
		switch {
		case strings.HasSuffix(w, "n't"), barContractions[w]:
			w = "not"
		default:
			w = strings.TrimSuffix(strings.TrimSuffix(w, "'"), "'s")
		}
		t.Term = []byte(w)
		t.KeyWord = stopSet[w]
	}
	return in
}

// stopFilter takes out what wordFilter marked. It looks at the mark too, since
// a stemmer can make a stop word of an honest one: "ATS" becomes "at".
type stopFilter struct{}

func (stopFilter) Filter(in analysis.TokenStream) analysis.TokenStream {
	out := in[:0]
	for _, t := range in {
		if !t.KeyWord || !stopSet[string(t.Term)] {
			out = append(out, t)
		}
	}
	return out
}

func init() {
	register := func(name string, make registry.TokenFilterConstructor) {
		if err := registry.RegisterTokenFilter(name, make); err != nil {
			panic(err) // two packages with our name: a mistake of the build
		}
	}
	register(wordsType, func(map[string]any, *registry.Cache) (analysis.TokenFilter, error) { return wordFilter{}, nil })
	register(stopsType, func(map[string]any, *registry.Cache) (analysis.TokenFilter, error) { return stopFilter{}, nil })
	register(meaningsType, newMeaningFilter)
}
