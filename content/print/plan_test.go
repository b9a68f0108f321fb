package print

import (
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// A page asks only what the vehicle has by the facts of its walk: a step of which nothing
// is left is not on it, and what leads there leads on, as it does in a walk.
func TestPaperAsksOnlyWhatTheVehicleHas(t *testing.T) {
	lib := load.Shipped()
	passed := 0
	for _, id := range lib.Forest.Beginnings() {
		p := planOf(lib, lib.Forest.Tree(id))
		for _, s := range p.tree.Steps {
			if p.passed(s) {
				passed++
			}
		}
		for _, n := range p.nodes() {
			if n.Reads() && len(n.Measure) == 0 {
				t.Errorf("%s asks nothing at %s", id, n.ID)
			}
			wantWays(t, p, n)
		}
	}
	if passed == 0 {
		t.Error("no walk passes a step by its facts")
	}
}

// wantWays checks that each way of a node leads somewhere, and none of them to two places
// between which nothing tells.
func wantWays(t *testing.T, p *plan, n *node) {
	t.Helper()
	by := map[string]bool{}
	ways := p.ways(n)
	if n.Chart != nil {
		ways = append(ways, p.rowsAsWays(n)...)
	}
	for _, w := range ways {
		from := map[string]bool{}
		for _, to := range w.To {
			if to.Code == "" || len(w.To) > 1 && to.From == "" || from[to.From] {
				t.Errorf("%s, %s at “%s”: leads to %+v", p.tree.ID, n.ID, w.When, w.To)
			}
			from[to.From] = true
		}
		if by[w.When] && n.Chart == nil {
			t.Errorf("%s, %s has “%s” twice", p.tree.ID, n.ID, w.When)
		}
		by[w.When] = true
	}
}

// Whoever goes by the page comes to where the engine goes: every step of a walk that is
// on paper, answered in every way that it has, leads to the code of the step or finding
// that the engine judges it to lead to.
func TestPaperLeadsWhereTheEngineLeads(t *testing.T) {
	lib := load.Shipped()
	judged := 0
	for _, id := range lib.Forest.Beginnings() {
		p := planOf(lib, lib.Forest.Tree(id))
		for _, n := range p.nodes() {
			if n.Kind != faulttree.KindMeasure || len(n.Measure) != 1 {
				continue
			}
			for _, use := range n.uses {
				judged += wantJudged(t, p, n, use)
			}
		}
	}
	if judged < 300 {
		t.Errorf("only %d readings were judged", judged)
	}
}

// wantJudged compares paper and engine at every edge of a step's branches and beside it,
// and at OL. A reading is given without error of the meter, as paper is read.
func wantJudged(t *testing.T, p *plan, n *node, use *faulttree.Step) (judged int) {
	t.Helper()
	q := n.Measure[0].Quantity
	exact := faulttree.Meter{FullScale: 1_000_000}
	var texts []string
	for _, b := range n.Branches {
		for _, bound := range b.Bounds {
			for _, edge := range []faulttree.Amount{bound.Span.From, bound.Span.Below} {
				for _, by := range []faulttree.Amount{-faulttree.One / 100, 0, faulttree.One / 100} {
					if v := edge.Written() + by; edge != faulttree.Lowest && edge != faulttree.Highest && edge < faulttree.OverTop && (v >= 0 || q.Unit.Signed()) {
						texts = append(texts, v.With(q.Unit))
					}
				}
			}
		}
	}
	for _, text := range append(texts, "OL") {
		r, err := faulttree.ParseReading(text, q)
		if err != nil {
			continue // no meter shows it
		}
		o, err := use.Judge([]faulttree.Reading{r}, exact, p.tree.DangerLimit)
		if err != nil {
			t.Fatal(err)
		}
		want, got := p.target(o.Exit), taken(t, p.ways(n), r)
		if !slices.ContainsFunc(got, func(to target) bool { return to.Code == want.Code && to.Signal == want.Signal }) {
			t.Errorf("%s, %s: %s leads to %+v on paper, and to %+v in the engine", p.tree.ID, n.ID, text, got, want)
		}
		judged++
	}
	return judged
}

// taken is where somebody goes who has read r, by the words of the page alone.
func taken(t *testing.T, ways []way, r faulttree.Reading) []target {
	var rest []target
	for _, w := range ways {
		text := strings.TrimSuffix(w.When, " or "+cannot)
		switch {
		case strings.HasPrefix(text, "all else"):
			rest = w.To
		case text == cannot || strings.HasPrefix(text, "tried ") || text == "your vehicle has none of this":
		case r.Quality == faulttree.OverRange && slices.Contains(strings.Split(text, " or "), "OL"), r.Quality == faulttree.Steady && allows(t, text, r.Low):
			return w.To
		}
	}
	return rest
}
