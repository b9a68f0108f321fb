package search

import (
	"context"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

// book is the shipped handbook, and shipped the index of it, made once.
var (
	book    = sync.OnceValue(load.Shipped)
	shipped = sync.OnceValues(func() (*Index, error) { return Build(context.Background(), book()) })
)

func shippedIndex(t testing.TB) *Index {
	t.Helper()
	return must.Have(shipped())(t)
}

// golden is one line of testdata/search/golden.txt.
type golden struct {
	line    int
	within  int
	ids     []string // one of them is enough
	query   string
	reading string
}

func goldens(t testing.TB) []golden {
	t.Helper()
	text, err := os.ReadFile("../testdata/search/golden.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []golden
	for i, line := range strings.Split(string(text), "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		g := golden{line: i + 1}
		line, g.reading, _ = strings.Cut(line, " => ")
		parts := strings.SplitN(line, " ", 3)
		if len(parts) != 3 {
			t.Fatalf("golden.txt:%d: expected a number, an id and a query", i+1)
		}
		if g.within, err = strconv.Atoi(parts[0]); err != nil || g.within < 1 {
			t.Fatalf("golden.txt:%d: %q is no place in a list", i+1, parts[0])
		}
		g.ids, g.query = strings.Split(parts[1], "|"), parts[2]
		out = append(out, g)
	}
	return out
}

// TestGolden holds that a reader who types what stands in golden.txt finds
// the document meant among the first hits.
func TestGolden(t *testing.T) {
	x := shippedIndex(t)
	all := goldens(t)
	if len(all) < 60 {
		t.Fatalf("%d golden queries; want 60 or more", len(all))
	}
	for _, g := range all {
		hits := x.Find(Query{Text: g.query, Limit: 10}).Hits
		at := slices.IndexFunc(hits, func(h Hit) bool {
			return slices.Contains(g.ids, h.ID) && (g.reading == "" || h.Reading == g.reading)
		})
		if at < 0 || at >= g.within {
			t.Errorf("golden.txt:%d: %q: %s %s is at place %d, want within %d; found %s", g.line, g.query, strings.Join(g.ids, " or "), g.reading, at+1, g.within, list(hits))
		}
	}
}

// knows reports whether id is a document, or a column of a chart.
func (x *Index) knows(id string) bool {
	return slices.ContainsFunc(x.entries, func(e entry) bool { return e.id == id }) || x.stepOf(Hit{ID: id}) != nil
}

// TestGoldenIdsExist keeps golden.txt in step with the handbook.
func TestGoldenIdsExist(t *testing.T) {
	x := shippedIndex(t)
	for _, g := range goldens(t) {
		for _, id := range g.ids {
			if !x.knows(id) {
				t.Errorf("golden.txt:%d: there is no document %s", g.line, id)
			}
		}
	}
}

// TestOffersParse holds that what an offer fills in is accepted where it is
// filled in, and that the step does measure the quantity.
func TestOffersParse(t *testing.T) {
	x := shippedIndex(t)
	forest := x.offers.forest
	filled := 0
	for _, g := range goldens(t) {
		for _, h := range x.Find(Query{Text: g.query}).Hits {
			if h.Quantity == "" {
				if h.Reading != "" {
					t.Errorf("%q: %s has a reading but no quantity", g.query, h.ID)
				}
				continue
			}
			tree, step, _ := strings.Cut(h.ID, "#")
			s := forest.Step(faulttree.Ref{Tree: tree, Step: step})
			if s == nil || !slices.ContainsFunc(s.Measure, func(v faulttree.Variable) bool { return v.Quantity.ID == h.Quantity }) {
				t.Errorf("%q: %s does not measure %s", g.query, h.ID, h.Quantity)
			}
			if h.Reading == "" {
				continue
			}
			filled++
			if r, err := faulttree.ParseReading(h.Reading, forest.Quantities[h.Quantity]); err != nil || r.Quality == faulttree.NotPossible {
				t.Errorf("%q: %s is filled in with %q, which is refused: %v", g.query, h.ID, h.Reading, err)
			}
		}
	}
	if filled < 40 {
		t.Errorf("only %d readings were filled in", filled)
	}
}

func list(hits []Hit) string {
	out := lists.Each(hits[:min(len(hits), 6)], func(h Hit) string { return strings.TrimSpace(h.ID + " " + h.Reading) })
	return strings.Join(out, ", ")
}
