package search

import (
	"context"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/shorthand"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// The kinds of document a query can be restricted to.
const (
	KindTree    = "tree"
	KindCard    = "card"
	KindFault   = "fault"
	KindCaution = "caution"
	KindFinding = "finding"
	KindStep    = "step"
	KindSource  = "source"
)

// Kinds lists every kind, in the order a filter shows them.
func Kinds() []string {
	return []string{KindTree, KindFault, KindCard, KindCaution, KindStep, KindFinding, KindSource}
}

// entry is one document as we keep it; the index itself stores no text.
type entry struct {
	id, kind, title         string
	tree                    string // the title of a step's tree, and of the use that brought it
	symptoms, aliases, body string
}

// name is the id in words; a step's id is no trade word.
func (e *entry) name() string {
	if strings.Contains(e.id, "#") {
		return ""
	}
	return strings.ReplaceAll(e.id, "-", " ")
}

// Index finds documents of one library. It does not change, and any number of
// goroutines may use it at once.
type Index struct {
	analyzer analysis.Analyzer // indexed
	entries  []entry
	ranked   []rankable       // by the place of the entry
	names    map[string][]int // places by what documents are called, in lower case
	postings postings
	places   placeMeanings
	known    vocabulary
	offers   *offers
	lists    *shorthand.Reader
}

// separator stands between the symptoms, and between the aliases, of a document.
const separator = " · "

// Build indexes lib. The error is ctx's, when ctx ends first.
func Build(ctx context.Context, lib *content.Library) (*Index, error) {
	lexical, indexed := newAnalyzers(lib.Synonyms)
	x := &Index{analyzer: indexed, entries: entries(lib), names: map[string][]int{}, postings: postings{}, places: newPlaceMeanings(lib.Synonyms), known: newVocabulary()}
	for i := range x.entries {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		x.enter(i)
	}
	for _, group := range lib.Synonyms {
		for _, member := range group {
			x.known.add(x.analyzer.Analyze([]byte(member)), member)
		}
	}
	x.known.sort()
	for i := range x.ranked {
		x.ranked[i].setRarity(x.rarity)
	}
	x.offers = newOffers(lib, lexical, x.known)
	x.lists = shorthand.New(lib)
	return x, nil
}

// enter cuts an entry into words and enters them.
func (x *Index) enter(place int) {
	e := &x.entries[place]
	_, step, _ := strings.Cut(e.id, "#")
	for _, name := range []string{e.id, step, strings.ToLower(e.title), e.name()} {
		if name != "" {
			x.names[name] = lists.With(x.names[name], place)
		}
	}
	var r rankable
	inPhrase := map[string]bool{}
	for _, field := range []string{e.name(), e.title, e.symptoms, e.aliases} {
		for _, text := range strings.Split(field, separator) {
			tokens := x.analyzer.Analyze([]byte(text))
			x.known.add(tokens, text)
			if p := newPhrase(tokens); len(p) > 0 {
				r.phrases = append(r.phrases, p)
			}
			for _, t := range tokens {
				inPhrase[string(t.Term)] = true
			}
		}
	}
	tokens := x.analyzer.Analyze([]byte(e.body))
	x.known.add(tokens, e.body)
	r.body = make([]bodyTerm, len(tokens))
	r.counts = map[string]int{}
	for i, t := range tokens {
		r.body[i] = bodyTerm{string(t.Term), t.Start, t.End}
		r.counts[string(t.Term)]++
	}
	x.ranked = append(x.ranked, r)
	for term := range inPhrase {
		x.postings[term] = append(x.postings[term], posting{place, true})
	}
	for term := range r.counts {
		if !inPhrase[term] {
			x.postings[term] = append(x.postings[term], posting{place, false})
		}
	}
}

// rarity is how much a term tells documents apart: 0 where all have it, 1 where
// one has.
func (x *Index) rarity(term string) float64 {
	all := float64(len(x.entries) + 1)
	return math.Log(all/float64(len(x.postings[term])+1)) / math.Log(max(all/2, 1.1))
}

// entries lists every document of lib, in a fixed order.
func entries(lib *content.Library) []entry {
	var out []entry
	for _, id := range lib.Forest.IDs() {
		t := lib.Forest.Trees[id]
		titles, texts := openingsOf(lib, id)
		out = append(out, entry{id: id, kind: KindTree, title: t.Title, symptoms: join(t.Symptoms), aliases: join(titles), body: strings.Join(append([]string{t.Summary}, texts...), "\n")})
		for _, name := range slices.Sorted(maps.Keys(lib.Forest.Names)) {
			if named := lib.Forest.Names[name]; named.Own() == id { // its symptoms are those of the tree
				titles, texts := openingsOf(lib, name)
				out = append(out, entry{id: name, kind: KindTree, title: named.Title, aliases: join(titles), body: strings.Join(texts, "\n")})
			}
		}
		for _, s := range t.Steps {
			out = append(out, stepEntry(lib, s))
		}
	}
	text := func(kind string, d content.Document, titles ...string) {
		out = append(out, entry{id: d.ID, kind: kind, title: d.Title, symptoms: join(d.Symptoms), aliases: join(append(titles, d.Aliases...)), body: plain(d.Body)})
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Faults)) {
		text(KindFault, lib.Faults[id].Document)
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Cards)) {
		titles, _ := openingsOf(lib, id)
		text(KindCard, lib.Cards[id].Document, titles...)
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Cautions)) {
		text(KindCaution, lib.Cautions[id].Document)
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Sources)) {
		s := lib.Sources[id]
		out = append(out, entry{id: id, kind: KindSource, title: s.Title, aliases: s.Locator, body: plain(s.Body)})
	}
	return out
}

func stepEntry(lib *content.Library, s *faulttree.Step) entry {
	e := entry{id: s.Ref().String(), kind: KindStep, title: s.Title, tree: whereOf(s, lib.Forest.Trees[s.Tree])}
	text := []string{plain(append(lib.HowTaken(s, faulttree.Unknown), lib.Prose[s.Ref()]...))}
	for _, v := range s.Measure {
		text = append(text, v.Quantity.Title)
	}
	for _, c := range s.Choices {
		text = append(text, c.Text)
	}
	if s.Kind == faulttree.KindFinding {
		e.kind = KindFinding
		for _, id := range s.Finding.Faults {
			if f := lib.Faults[id]; f != nil {
				text = append(text, f.Title)
			}
		}
		text = append(text, s.Finding.Sure, s.Finding.FirstAction, s.Finding.DoNot)
	}
	e.body = strings.Join(slices.DeleteFunc(text, func(t string) bool { return t == "" }), "\n")
	return e
}

// openingsOf are the words the opening view uses for what leads to a tree or
// a card.
func openingsOf(lib *content.Library, id string) (titles, texts []string) {
	for _, o := range lib.Openings {
		if o.Tree == id || o.Card == id {
			titles, texts = append(titles, o.Title), append(texts, o.Text)
		}
	}
	return titles, texts
}

// plain is the text of blocks, the cells of a table parted by commas and its
// rows by semicolons.
func plain(blocks []document.Block) string {
	lines := strings.Split(document.Plain(blocks), "\n")
	for i, line := range lines {
		if strings.Contains(line, " | ") {
			cells := slices.DeleteFunc(strings.Split(line, " | "), func(c string) bool { return strings.TrimSpace(c) == "" })
			lines[i] = strings.Join(cells, ", ") + ";"
		}
	}
	return strings.Join(lines, "\n")
}

func join(list []string) string { return strings.Join(list, separator) }

// whereOf tells a step from another of its title: by its tree, and where a
// fragment brought it, by the step at which the tree uses that.
func whereOf(s *faulttree.Step, tree *faulttree.Tree) string {
	use := s.ID[:strings.LastIndex(s.ID, ".")+1]
	first := slices.IndexFunc(tree.Steps, func(o *faulttree.Step) bool { return o != nil && strings.HasPrefix(o.ID, use) })
	if use == "" || tree.Steps[first] == s {
		return tree.Title
	}
	return tree.Steps[first].Title + separator + tree.Title
}
