package search

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"faultwright/faulttree/source"
)

// Query is what a reader looks for.
type Query struct {
	Text  string // as typed; what is past 200 characters or 16 words is left out, but for a list of readings
	Kind  string // one of Kinds, or "" for all
	Limit int    // the most hits wanted; 0 means 20
}

// Hit is a document found.
type Hit struct {
	ID       string  // "open-neutral"; for a step or a finding "body-voltage#body-earth"
	Kind     string  // one of Kinds, or KindReadings
	Title    string  // as the document has it
	Score    float64 // comparable within one answer only
	Fragment []Run   // the part of the text that fits best
	Reading  string  // for a query that is a reading: what to fill in, "58 V"; "" where it is refused, or would look harmless for a point that was not said
	Quantity string  // the quantity that the step measures; set for an offer only
	List     string  // of KindReadings: the readings as typed

	danger bool // the engine judges the reading as DANGER there
}

// Answer is what a search finds.
type Answer struct {
	Hits   []Hit    // the best first
	NoStep []string // what the query says was read and no step measures: "the body against the neutral contact in volts"
	NoPage []string // words of the query that no page has, where they are much of what it says, or no document has much of it
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
	mostWords    = 16
	leastClosely = 120 // documents that are looked at more closely, at least
)

// weight of a kind, all else being equal: what leads somewhere comes first.
var kindWeight = map[string]float64{
	KindTree: 1.5, KindFault: 1.05, KindCard: 1.1, KindCaution: 1, KindStep: 0.8, KindFinding: 0.8, KindSource: 0.6,
}

// Find answers q. Steps that measure what the query says was read come before
// everything else, and before the rest the card on what such a reading proves
// where no step measures it.
func (x *Index) Find(q Query) Answer {
	var a Answer
	text := clean(q.Text)
	limit := q.Limit
	if limit <= 0 {
		limit = usualLimit
	}
	limit = min(limit, mostLimit)
	if strings.TrimSpace(text) == "" {
		return a
	}
	words := x.queryWords(text)
	found, share := x.findWords(words, q.Kind, limit)
	offered, unmeasured := x.offers.find(text)
	list := x.listIn(q.Text)
	if list != nil {
		offered, unmeasured = x.withList(offered, list, q.Text), nil // the list says itself what it refuses
	}
	a.NoStep, a.NoPage = unmeasured, noPage(words, share)
	a.Hits = x.byName(text)
	if len(unmeasured) > 0 {
		a.Hits = append(a.Hits, x.byName(unmeasuredCard)...)
	}
	a.Hits = append(a.Hits, offered...)
	a.Hits = slices.DeleteFunc(a.Hits, func(h Hit) bool { return q.Kind != "" && q.Kind != h.Kind })
	top := 0.0
	if len(found) > 0 {
		top = found[0].Score
	}
	a.Hits = uniqueHits(a.Hits)
	for i := range a.Hits { // the order outranks the fit
		a.Hits[i].Score = top + float64(len(a.Hits)-i)
	}
	a.Hits = uniqueHits(append(a.Hits, found...))
	a.Hits = a.Hits[:min(len(a.Hits), limit)]
	x.nameTrees(a.Hits)
	return a
}

// uniqueHits leaves of several hits for one document the first, or the one that has
// a reading.
func uniqueHits(hits []Hit) []Hit {
	var out []Hit
	for _, h := range hits {
		at := slices.IndexFunc(out, func(o Hit) bool { return o.ID == h.ID && o.Kind == h.Kind })
		switch {
		case at < 0:
			out = append(out, h)
		case out[at].Quantity == "" && h.Quantity != "":
			out[at] = h
		}
	}
	return out
}

// nameTrees adds the tree to titles that stand more than once.
func (x *Index) nameTrees(hits []Hit) {
	count := map[string]int{}
	for _, h := range hits {
		count[h.Title]++
	}
	for i, h := range hits {
		if count[h.Title] < 2 {
			continue
		}
		at := slices.IndexFunc(x.entries, func(e entry) bool { return e.id == h.ID && e.kind == h.Kind })
		if at >= 0 && x.entries[at].tree != "" {
			hits[i].Title += " · " + x.entries[at].tree
		}
	}
}

// unmeasuredCard explains why a reading between two points that no step
// measures proves nothing.
const unmeasuredCard = "pairs-that-prove-nothing"

// byName are the documents whose id or title the whole text is, those with the
// id first. A step is also called by its own part of the id.
func (x *Index) byName(text string) []Hit {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	var hits []Hit
	for _, place := range x.names[text] {
		e := &x.entries[place]
		hits = append(hits, Hit{ID: e.id, Kind: e.kind, Title: e.title, Fragment: x.fragment(place, nil)})
	}
	slices.SortStableFunc(hits, func(a, b Hit) int {
		switch {
		case a.ID == text && b.ID != text:
			return -1
		case b.ID == text && a.ID != text:
			return 1
		}
		return 0
	})
	return hits
}

// findWords takes what has most of the words, and puts it into the order in
// which it answers them. Share is the most that one document has of what they say.
func (x *Index) findWords(words []queryWord, kind string, limit int) (hits []Hit, share float64) {
	places := x.postings.best(words, len(x.entries), max(3*limit, leastClosely), func(place int) bool {
		return kind == "" || x.entries[place].kind == kind
	})
	hits = make([]Hit, len(places))
	at := map[string]int{}
	for i, place := range places {
		e := &x.entries[place]
		score, has := x.ranked[place].score(words)
		share = max(share, has)
		hits[i] = Hit{ID: e.id, Kind: e.kind, Title: e.title, Score: score * kindWeight[e.kind]}
		at[e.kind+e.id] = place
	}
	slices.SortStableFunc(hits, func(a, b Hit) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(at[a.Kind+a.ID], at[b.Kind+b.ID]))
	})
	hits = hits[:min(len(hits), limit)]
	for i, h := range hits {
		hits[i].Fragment = x.fragment(at[h.Kind+h.ID], words)
	}
	return hits, share
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
		if source.Hidden(r) || unicode.IsControl(r) || r == unicode.ReplacementChar {
			r = ' '
		}
		b.WriteRune(r)
	}
	return b.String()
}
