package search

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/index/scorch"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
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
	tree                    string // the title of a step's tree
	symptoms, aliases, body string
}

// name is the id in words; a step's id is no trade word.
func (e *entry) name() string {
	if strings.Contains(e.id, "#") {
		return ""
	}
	return strings.ReplaceAll(e.id, "-", " ")
}

// text is the plain text of a field, in which locations of matches count.
func (e *entry) text(field string) string {
	switch field {
	case fieldTitle:
		return e.title
	case fieldSymptoms:
		return e.symptoms
	case fieldAliases:
		return e.aliases
	case fieldBody:
		return e.body
	}
	return ""
}

// Index finds documents of one library. It does not change, and any number of
// goroutines may use it at once.
type Index struct {
	index   bleve.Index
	cut     analysis.Analyzer // indexed
	entries []entry
	ranked  []rankable // by the place of the entry
	known   vocabulary
	offers  *offers
}

// separator stands between the symptoms, and between the aliases, of a document.
const separator = " · "

// Build indexes lib. It stops with ctx's error when ctx ends first. The index
// holds memory and some idle goroutines of its own until Close.
func Build(ctx context.Context, lib *content.Library) (*Index, error) {
	m, err := newMapping(lib.Synonyms)
	if err != nil {
		return nil, fmt.Errorf("the search index can not be described: %w", err)
	}
	x := &Index{entries: entries(lib), cut: m.AnalyzerNamed(indexed)}
	x.known = newVocabulary(x.cut, x.entries, lib.Synonyms)
	for i := range x.entries {
		x.ranked = append(x.ranked, newRankable(x.cut, &x.entries[i], x.known))
	}
	x.offers = newOffers(lib, m.AnalyzerNamed(lexical), x.known)
	// In memory, by the engine that is made for rebuild and swap.
	x.index, err = bleve.NewUsing("", m, scorch.Name, scorch.Name, nil)
	if err != nil {
		return nil, fmt.Errorf("the search index can not be made: %w", err)
	}
	if err := x.fill(ctx); err != nil {
		x.index.Close()
		return nil, err
	}
	return x, nil
}

func (x *Index) fill(ctx context.Context) error {
	batch := x.index.NewBatch()
	for i := range x.entries {
		if err := ctx.Err(); err != nil {
			return err
		}
		e := &x.entries[i]
		err := batch.Index(strconv.Itoa(i), map[string]any{
			fieldName: e.name(), fieldTitle: e.title, fieldSymptoms: e.symptoms, fieldAliases: e.aliases, fieldBody: e.body, fieldKind: e.kind,
		})
		if err != nil {
			return fmt.Errorf("%s can not be indexed: %w", e.id, err)
		}
	}
	if err := x.index.Batch(batch); err != nil {
		return fmt.Errorf("the search index can not be filled: %w", err)
	}
	return ctx.Err()
}

// Close gives back what the index holds. It waits for searches that run; later
// ones find nothing.
func (x *Index) Close() error { return x.index.Close() }

// Len is the number of documents.
func (x *Index) Len() int { return len(x.entries) }

// entries lists every document of lib, in a fixed order.
func entries(lib *content.Library) []entry {
	var out []entry
	for _, id := range lib.Forest.IDs() {
		t := lib.Forest.Trees[id]
		titles, texts := openingsOf(lib, id)
		out = append(out, entry{id: id, kind: KindTree, title: t.Title, symptoms: join(t.Symptoms), aliases: join(titles), body: strings.Join(append([]string{t.Summary}, texts...), "\n")})
		for _, s := range t.Steps {
			out = append(out, stepEntry(lib, s))
		}
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Faults)) {
		f := lib.Faults[id]
		out = append(out, entry{id: id, kind: KindFault, title: f.Title, symptoms: join(f.Symptoms), aliases: join(f.Aliases), body: plain(f.Body)})
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Cards)) {
		c := lib.Cards[id]
		titles, _ := openingsOf(lib, id)
		out = append(out, entry{id: id, kind: KindCard, title: c.Title, symptoms: join(c.Symptoms), aliases: join(append(titles, c.Aliases...)), body: plain(c.Body)})
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Cautions)) {
		c := lib.Cautions[id]
		out = append(out, entry{id: id, kind: KindCaution, title: c.Title, aliases: join(c.Aliases), body: plain(c.Body)})
	}
	for _, id := range slices.Sorted(maps.Keys(lib.Sources)) {
		s := lib.Sources[id]
		out = append(out, entry{id: id, kind: KindSource, title: s.Title, aliases: s.Locator, body: plain(s.Body)})
	}
	return out
}

func stepEntry(lib *content.Library, s *faulttree.Step) entry {
	e := entry{id: s.Ref().String(), kind: KindStep, title: s.Title, tree: lib.Forest.Trees[s.Tree].Title}
	text := []string{plain(lib.Prose[s.Ref()])}
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

// plain is the text of blocks, the cells of a table parted by commas.
func plain(blocks []document.Block) string {
	return strings.ReplaceAll(document.Plain(blocks), " | ", ", ")
}

func join(list []string) string { return strings.Join(list, separator) }
