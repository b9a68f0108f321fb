package view

import (
	"sort"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
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

// DocumentOf is the document of this kind and id; false if there is none. An
// empty kind means whichever document has the id.
func DocumentOf(lib *content.Library, kind Kind, id string) (Document, bool) {
	l, ok := LinkTo(lib, id)
	if kind == KindSource || !ok {
		if s := lib.Sources[id]; s != nil {
			above := "Source"
			if s.Status != "" {
				above += " · " + s.Status
			}
			if s.Locator != "" {
				above += " · " + s.Locator
			}
			return Document{Link: Link{KindSource, id, s.Title}, Above: above, Body: s.Body, Related: usesOf(lib, id)}, true
		}
		return Document{}, false
	}
	d := Document{Link: l}
	switch l.Kind {
	case KindCard:
		c := lib.Cards[id]
		d.Above, d.Body = "Card", c.Body
		d.Related, d.Sources = linksTo(lib, c.Related), sourcesOf(lib, c.Sources)
	case KindCaution:
		c := lib.Cautions[id]
		d.Above, d.Signal, d.Body = "Caution", c.Signal, c.Body
		d.Sources = sourcesOf(lib, c.Sources)
	case KindFault:
		f := lib.Faults[id]
		d.Above, d.Signal, d.Body = "Fault", f.Hazard, f.Body
		for i, p := range f.Places {
			d.Above += map[bool]string{true: " · ", false: ", "}[i == 0] + placeName(p)
		}
		d.Related, d.Sources = linksTo(lib, f.Related), sourcesOf(lib, f.Sources)
	default:
		return Document{}, false
	}
	return d, true
}

func placeName(p faulttree.Place) string {
	switch p {
	case faulttree.DC:
		return "12 V"
	case faulttree.MeterOwn:
		return "the meter"
	}
	return string(p)
}

// LinkTo finds the card, caution, fault or tree with this id.
func LinkTo(lib *content.Library, id string) (Link, bool) {
	if c := lib.Cards[id]; c != nil {
		return Link{KindCard, id, c.Title}, true
	}
	if c := lib.Cautions[id]; c != nil {
		return Link{KindCaution, id, c.Title}, true
	}
	if f := lib.Faults[id]; f != nil {
		return Link{KindFault, id, f.Title}, true
	}
	if t := lib.Forest.Trees[id]; t != nil {
		return Link{KindTree, id, t.Title}, true
	}
	return Link{}, false
}

// faultLink is the fault with this id, by its id alone if it is not there.
func faultLink(lib *content.Library, id string) Link {
	if f := lib.Faults[id]; f != nil {
		return Link{KindFault, id, f.Title}
	}
	return Link{KindFault, id, id}
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
		if s := lib.Sources[id]; s != nil {
			out = append(out, Link{KindSource, id, s.Title})
		}
	}
	return out
}

// usesOf lists the documents that name a source.
func usesOf(lib *content.Library, source string) []Link {
	var out []Link
	for _, k := range []Kind{KindCard, KindCaution, KindFault} {
		for _, l := range All(lib, k) {
			for _, s := range namedSources(lib, l) {
				if s == source {
					out = append(out, l)
					break
				}
			}
		}
	}
	return out
}

func namedSources(lib *content.Library, l Link) []string {
	switch l.Kind {
	case KindCard:
		return lib.Cards[l.ID].Sources
	case KindCaution:
		return lib.Cautions[l.ID].Sources
	case KindFault:
		return lib.Faults[l.ID].Sources
	}
	return nil
}

// All lists every document of a kind by title.
func All(lib *content.Library, kind Kind) []Link {
	var out []Link
	add := func(id, title string) { out = append(out, Link{kind, id, title}) }
	switch kind {
	case KindTree:
		for id, t := range lib.Forest.Trees {
			add(id, t.Title)
		}
	case KindCard:
		for id, c := range lib.Cards {
			add(id, c.Title)
		}
	case KindCaution:
		for id, c := range lib.Cautions {
			add(id, c.Title)
		}
	case KindFault:
		for id, f := range lib.Faults {
			add(id, f.Title)
		}
	case KindSource:
		for id, s := range lib.Sources {
			add(id, s.Title)
		}
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Title != out[j].Title {
			return out[i].Title < out[j].Title
		}
		return out[i].ID < out[j].ID
	})
	return out
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
			if holdsAll(strings.ToLower(l.Title), words) {
				s.Links = append(s.Links, l)
			}
		}
		if len(s.Links) > 0 {
			out = append(out, s)
		}
	}
	return out
}

func holdsAll(title string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(title, w) {
			return false
		}
	}
	return true
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
		id := o.Tree
		if id == "" {
			id = o.Card
		}
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
