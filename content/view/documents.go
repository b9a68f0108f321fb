package view

import (
	"cmp"
	"iter"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Kind is a kind of document of the handbook, by the name links use.
type Kind string

const (
	KindTree    Kind = "tree"
	KindCard    Kind = "card"
	KindCaution Kind = "caution"
	KindFault   Kind = "fault"
	KindSource  Kind = "source"
	KindStep    Kind = "step"
	KindFinding Kind = "finding"
)

// Kinds lists the kinds of the handbook list, in its order.
func Kinds() []Kind { return []Kind{KindCard, KindCaution, KindFault, KindTree, KindSource} }

// Plural is the kind as a heading.
func (k Kind) Plural() string {
	return map[Kind]string{
		KindTree: "Walks", KindCard: "Cards", KindCaution: "Cautions", KindFault: "Faults", KindSource: "Sources", KindStep: "Steps", KindFinding: "Findings",
	}[k]
}

// Singular is the kind as a word in front of a title.
func (k Kind) Singular() string {
	if k == KindTree {
		return "walk"
	}
	return string(k)
}

// Document is one document to read.
type Document struct {
	Link
	Above   string // "Card", "Caution", "Fault · supply, cord"
	Signal  faulttree.Signal
	Body    []document.Block
	Related []Link
	Sources []Link
}

// article is a document of any kind as the handbook holds it.
type article struct {
	content.Document
	link   Link
	signal faulttree.Signal
	about  []string // what stands beside the name of its kind
}

// articleOf looks up the document of a kind by its id.
func articleOf(lib *content.Library, kind Kind, id string) (article, bool) {
	a := article{link: Link{Kind: kind, ID: id}}
	switch kind {
	case KindCard:
		if c := lib.Cards[id]; c != nil {
			a.Document = c.Document
		}
	case KindCaution:
		if c := lib.Cautions[id]; c != nil {
			a.Document, a.signal = c.Document, c.Signal
		}
	case KindFault:
		if f := lib.Faults[id]; f != nil {
			a.Document, a.signal, a.about = f.Document, f.Hazard, []string{placeNames(f.Places)}
		}
	case KindSource:
		if s := lib.Sources[id]; s != nil {
			a.Document, a.about = s.Document, []string{s.Status, s.Locator}
		}
	case KindTree:
		if t := lib.Forest.Tree(id); t != nil {
			a.ID, a.Title = t.ID, t.Title
		}
	}
	a.link.Title = a.Title
	return a, a.ID != ""
}

// idsOf lists the documents of a kind, in no order.
func idsOf(lib *content.Library, kind Kind) iter.Seq[string] {
	switch kind {
	case KindCard:
		return maps.Keys(lib.Cards)
	case KindCaution:
		return maps.Keys(lib.Cautions)
	case KindFault:
		return maps.Keys(lib.Faults)
	case KindSource:
		return maps.Keys(lib.Sources)
	case KindTree:
		return slices.Values(lib.Forest.Beginnings())
	}
	return func(func(string) bool) {}
}

// DocumentOf is the document of this kind and id; false if there is none. An
// empty kind means whichever document has the id.
func DocumentOf(lib *content.Library, kind Kind, id string) (Document, bool) {
	kinds := []Kind{KindCard, KindCaution, KindFault, KindSource}
	if kind == KindSource {
		kinds = kinds[3:]
	}
	for _, k := range kinds {
		a, ok := articleOf(lib, k, id)
		if !ok {
			continue
		}
		d := Document{Link: a.link, Above: Capital(string(k)), Signal: a.signal, Body: a.Body, Related: linksTo(lib, a.Related), Sources: sourcesOf(lib, a.Sources)}
		for _, words := range a.about {
			if words != "" {
				d.Above += " · " + words
			}
		}
		if k == KindSource {
			d.Related = usesOf(lib, id)
		}
		return d, true
	}
	return Document{}, false
}

// placeNames words places of an installation: "supply, 12 V".
func placeNames(places []faulttree.Place) string {
	return strings.Join(lists.Each(places, faulttree.Place.Word), ", ")
}

// LinkTo finds the card, caution, fault or walk with this id.
func LinkTo(lib *content.Library, id string) (Link, bool) {
	for _, k := range []Kind{KindCard, KindCaution, KindFault, KindTree} {
		if a, ok := articleOf(lib, k, id); ok {
			return a.link, true
		}
	}
	return Link{}, false
}

// FaultLink is the fault with this id, by its id alone if it is not there.
func FaultLink(lib *content.Library, id string) Link {
	a, ok := articleOf(lib, KindFault, id)
	if !ok {
		a.link.Title = id
	}
	return a.link
}

func linksTo(lib *content.Library, ids []string) []Link {
	var out []Link
	for _, id := range ids {
		if l, ok := LinkTo(lib, id); ok {
			out = append(out, l)
		}
	}
	return out
}

func sourcesOf(lib *content.Library, ids []string) []Link {
	var out []Link
	for _, id := range ids {
		if a, ok := articleOf(lib, KindSource, id); ok {
			out = append(out, a.link)
		}
	}
	return out
}

// usesOf lists the documents that name a source.
func usesOf(lib *content.Library, source string) []Link {
	var out []Link
	for _, k := range []Kind{KindCard, KindCaution, KindFault} {
		for _, l := range All(lib, k) {
			if a, _ := articleOf(lib, k, l.ID); slices.Contains(a.Sources, source) {
				out = append(out, l)
			}
		}
	}
	return out
}

// All lists every document of a kind by title.
func All(lib *content.Library, kind Kind) []Link {
	var out []Link
	for id := range idsOf(lib, kind) {
		a, _ := articleOf(lib, kind, id)
		out = append(out, a.link)
	}
	slices.SortFunc(out, func(a, b Link) int { return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.ID, b.ID)) })
	return out
}

// PedestalChecks lists the walks that are of the supply alone, by id or name.
func PedestalChecks(lib *content.Library) []Link {
	return lists.Where(All(lib, KindTree), func(l Link) bool {
		return slices.Equal(lib.Forest.Tree(l.ID).Scope, []faulttree.Place{faulttree.Supply})
	})
}

// Section is the documents of one kind in the handbook list.
type Section struct {
	Kind  Kind
	Links []Link
}

// Handbook lists the documents of one kind, or of all kinds if kind is empty,
// whose title holds every word of the filter.
func Handbook(lib *content.Library, kind Kind, filter string) []Section {
	words := strings.Fields(strings.ToLower(filter))
	var out []Section
	for _, k := range Kinds() {
		if kind != "" && k != kind {
			continue
		}
		s := Section{Kind: k}
		for _, l := range All(lib, k) {
			lacks := func(word string) bool { return !strings.Contains(strings.ToLower(l.Title), word) }
			if !slices.ContainsFunc(words, lacks) {
				s.Links = append(s.Links, l)
			}
		}
		if len(s.Links) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// Opening is one answer to "What is happening?".
type Opening struct {
	Title, Text string
	Digit       int // 1 to 9; 0 beyond
	Open        Link
}

// Openings lists what the first view offers. An opening whose tree or card is
// missing from the handbook is left out.
func Openings(lib *content.Library) []Opening {
	var out []Opening
	for _, o := range lib.Openings {
		id := cmp.Or(o.Tree, o.Card)
		l, ok := LinkTo(lib, id)
		if !ok {
			continue
		}
		v := Opening{Title: o.Title, Text: o.Text, Open: l}
		if len(out) < 9 {
			v.Digit = len(out) + 1
		}
		out = append(out, v)
	}
	return out
}
