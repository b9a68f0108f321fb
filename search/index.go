package search

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search"
)

// Query is what a reader looks for.
type Query struct {
	Text  string // as typed; what is past 200 characters or 16 words is left out
	Kind  string // one of Kinds, or "" for all
	Limit int    // the most hits wanted; 0 means 20
}

// Hit is a document found.
type Hit struct {
	ID       string  // "open-neutral"; for a step or a finding "body-voltage#body-earth"
	Kind     string  // one of Kinds
	Title    string  // as the document has it
	Score    float64 // comparable within one answer only
	Fragment []Run   // the part of the text that fits best
	Reading  string  // for a query that is a reading: what to fill in, "58 V"; may be "" if it was refused there
	Quantity string  // the quantity that the step measures; set for an offer only
}

// Answer is what a search finds.
type Answer struct {
	Hits   []Hit    // the best first
	NoStep []string // what the query says was read and no step measures: "the body against the neutral contact in volts"
	NoPage []string // words of the query that no page has, where they are half of what it says or more
}

// Notes are the sentences a reader must see before the hits.
func (a Answer) Notes() []string {
	var notes []string
	for _, p := range a.NoStep {
		notes = append(notes, "No step measures "+p+": such a reading alone proves nothing, and is offered nowhere.")
	}
	if len(a.NoPage) > 0 {
		notes = append(notes, "No page has: "+strings.Join(a.NoPage, ", ")+".")
	}
	return notes
}

// Run is a piece of a fragment; Marked where it matches the query.
type Run struct {
	Text   string
	Marked bool
}

const (
	usualLimit   = 20
	mostLimit    = 200
	mostRunes    = 200
	mostUnits    = 16
	mostToWeigh  = 300 // hits of the index that are weighed again
	leastToWeigh = 60
)

// weight of a kind, all else being equal: what leads somewhere comes first.
var kindWeight = map[string]float64{
	KindTree: 1.5, KindFault: 1.05, KindCard: 1.1, KindCaution: 0.9, KindStep: 0.8, KindFinding: 0.8, KindSource: 0.6,
}

// Find answers q. Steps that measure what the query says was read come before
// everything else, and before the rest the card on what such a reading proves
// where no step measures it.
func (x *Index) Find(q Query) Answer {
	a, _ := x.find(q) // a closed index finds nothing
	return a
}

func (x *Index) find(q Query) (Answer, error) {
	var a Answer
	text := clean(q.Text)
	limit := q.Limit
	if limit <= 0 {
		limit = usualLimit
	}
	limit = min(limit, mostLimit)
	if strings.TrimSpace(text) == "" {
		return a, nil
	}
	found, err := x.findWords(text, q.Kind, limit)
	if err != nil {
		return a, err
	}
	offered, unmeasured := x.offers.find(text)
	a.NoStep = unmeasured
	if len(unmeasured) > 0 {
		a.Hits = append(a.Hits, x.named(unmeasuredCard)...)
	}
	a.Hits = append(a.Hits, offered...)
	a.Hits = slices.DeleteFunc(a.Hits, func(h Hit) bool { return q.Kind != "" && q.Kind != h.Kind })
	top := 0.0
	if len(found) > 0 {
		top = found[0].Score
	}
	for i := range a.Hits { // the order outranks the fit
		a.Hits[i].Score = top + float64(len(a.Hits)-i)
	}
	first := len(a.Hits)
	for _, h := range found {
		if !slices.ContainsFunc(a.Hits[:first], func(o Hit) bool { return o.ID == h.ID }) {
			a.Hits = append(a.Hits, h)
		}
	}
	a.Hits = a.Hits[:min(len(a.Hits), limit)]
	return a, nil
}

// unmeasuredCard explains why a reading between two points that no step
// measures proves nothing.
const unmeasuredCard = "pairs-that-prove-nothing"

// named is the document with an id; none if the handbook has none.
func (x *Index) named(id string) []Hit {
	for i := range x.entries {
		if e := &x.entries[i]; e.id == id {
			return []Hit{{ID: e.id, Kind: e.kind, Title: e.title, Fragment: fragment(e, nil, nil)}}
		}
	}
	return nil
}

// findWords searches the index and weighs what it gives by how much of the
// query each document answers.
func (x *Index) findWords(text, kind string, limit int) ([]Hit, error) {
	units := x.units(text)
	if len(units) == 0 {
		return nil, nil
	}
	// First without the places of the matches, which cost most; then for the
	// documents that matter.
	r := bleve.NewSearchRequestOptions(x.query(units, text, kind), min(max(3*limit, leastToWeigh), mostToWeigh), 0, false)
	result, err := x.index.SearchInContext(context.Background(), r)
	if err != nil || len(result.Hits) == 0 {
		return nil, err
	}
	ids := make([]string, len(result.Hits))
	for i, m := range result.Hits {
		ids[i] = m.ID
	}
	these := bleve.NewDocIDQuery(ids)
	these.SetBoost(0)
	r = bleve.NewSearchRequestOptions(bleve.NewConjunctionQuery(x.query(units, text, kind), these), len(ids), 0, false)
	r.IncludeLocations = true
	if result, err = x.index.SearchInContext(context.Background(), r); err != nil {
		return nil, err
	}
	type weighed struct {
		match *search.DocumentMatch
		entry *entry
		place int
		score float64
	}
	list := make([]weighed, 0, len(result.Hits))
	for _, m := range result.Hits {
		i, err := strconv.Atoi(m.ID)
		if err != nil || i < 0 || i >= len(x.entries) {
			continue // can not be: the ids are ours
		}
		e := &x.entries[i]
		c := coverage(units, m.Locations)
		list = append(list, weighed{m, e, i, m.Score * (0.15 + 0.85*c*c) * kindWeight[e.kind]})
	}
	slices.SortFunc(list, func(a, b weighed) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.place, b.place))
	})
	hits := make([]Hit, 0, min(len(list), limit))
	for _, w := range list[:min(len(list), limit)] {
		hits = append(hits, Hit{
			ID: w.entry.id, Kind: w.entry.kind, Title: w.entry.title, Score: w.score,
			Fragment: fragment(w.entry, units, w.match.Locations),
		})
	}
	return hits, nil
}

// coverage is how much of the query the matched terms answer, 0 to 1.
func coverage(units []unit, found search.FieldTermLocationMap) float64 {
	sum, all := 0.0, 0.0
	for i := range units {
		best := 0.0
		for _, terms := range found {
			for term := range terms {
				best = max(best, units[i].quality(term))
			}
		}
		sum += units[i].weight * best
		all += units[i].weight
	}
	if all == 0 {
		return 0
	}
	return sum / all
}

// clean is text with controls taken out and bad bytes replaced, cut to what
// a person would type.
func clean(text string) string {
	if len(text) > 8*mostRunes {
		text = text[:8*mostRunes]
	}
	var b strings.Builder
	n := 0
	for _, r := range text {
		if n++; n > mostRunes {
			break
		}
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			r = ' '
		}
		b.WriteRune(r)
	}
	return b.String()
}
