package search

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// BenchmarkFind reports, for the golden queries, the time below which 95 of
// 100 searches end: on the shipped handbook (wanted below 5 ms) and on 10,000
// generated cards (wanted below 12 ms). "Undisturbed" counts each query's
// fastest run, for a machine that has other things to do.
func BenchmarkFind(b *testing.B) {
	queries := []string{}
	for _, g := range goldens(b) {
		queries = append(queries, g.query)
	}
	b.Run("shipped", func(b *testing.B) { p95(b, shippedIndex(b), queries) })
	b.Run("10000", func(b *testing.B) {
		x := must.Have(Build(context.Background(), generated(10_000)))(b)
		p95(b, x, queries)
	})
}

func p95(b *testing.B, x *Index, queries []string) {
	var took []time.Duration
	best := make([]time.Duration, len(queries))
	for i := 0; b.Loop(); i++ {
		k := i % len(queries)
		began := time.Now()
		x.Find(Query{Text: queries[k]})
		d := time.Since(began)
		took = append(took, d)
		if best[k] == 0 || d < best[k] {
			best[k] = d
		}
	}
	slices.Sort(took)
	slices.Sort(best)
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
	b.ReportMetric(ms(took[len(took)*95/100]), "p95-ms")
	b.ReportMetric(ms(took[len(took)/2]), "median-ms")
	b.ReportMetric(ms(best[len(best)*95/100]), "p95-undisturbed-ms")
}

// BenchmarkBuild reports how long an index takes to build.
func BenchmarkBuild(b *testing.B) {
	for name, lib := range map[string]*content.Library{"shipped": book(), "10000": generated(10_000)} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				must.Have(Build(context.Background(), lib))(b)
			}
		})
	}
}

// generated is a handbook of n cards of about 120 words each, drawn from the
// words and the word frequencies of the shipped one.
func generated(n int) *content.Library {
	shipped := book()
	var words []string
	for _, e := range entries(shipped) {
		words = append(words, strings.Fields(e.title+" "+e.symptoms+" "+e.body)...)
	}
	r := rand.New(rand.NewPCG(1, 2))
	draw := func(n int) string {
		out := make([]string, n)
		for i := range out {
			out[i] = words[r.IntN(len(words))]
		}
		return strings.Join(out, " ")
	}
	lib := &content.Library{
		Forest:   &faulttree.Forest{Quantities: shipped.Forest.Quantities, Trees: shipped.Forest.Trees},
		Cards:    map[string]*content.Card{},
		Synonyms: shipped.Synonyms,
	}
	for i := range n {
		id := fmt.Sprintf("card-%05d", i)
		lib.Cards[id] = &content.Card{Document: content.Document{
			ID: id, Title: draw(5), Symptoms: []string{draw(4), draw(4)}, Aliases: []string{draw(2)},
			Body: []document.Block{document.Paragraph{Text: []document.Inline{document.Text{Value: draw(120)}}}},
		}}
	}
	return lib
}
