package content_test

import (
	"context"
	"math"
	"os"
	"slices"
	"testing"

	"faultwright/content/check"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/trial"
)

// The chart of testdata/pedestal, tried on the shipped coaches: the best order
// that a trial finds costs no less than the entropy of the findings allows. One
// reading, at 3 for a live contact at the supply, tells at most the logarithm of
// the stretches that the chart cuts it into and of the sums it completes, which
// are fewer than 2^6. Nor does it cost more than the order of the chart.
func TestTheBestOrderLiesBetweenEntropyAndTheTree(t *testing.T) {
	fixture := load.FS(context.Background(), os.DirFS("../testdata/pedestal"))
	h := check.TrialOf(shipped())
	forest := *fixture.Forest
	forest.Touch, h.Forest = h.Forest.Touch, &forest
	h.Rigs = slices.Clone(h.Rigs)
	for i, r := range h.Rigs {
		one := *r
		one.Trees = nil
		if r.HasNode("pedestal.l2") {
			one.Trees = []string{"pedestal"}
		}
		h.Rigs[i] = &one
	}
	r := must.Have(trial.Run(context.Background(), h, "pedestal", trial.Options{Rigs: 3000, Seed: 7}))(t)
	bits := 0.0
	walks := map[string]int{}
	sum := 0
	for _, c := range r.Cells {
		if c.Role == faulttree.Owner.String() && !c.Outside {
			walks[c.Finding] += c.Walks
			sum += c.Walks
		}
	}
	for _, n := range walks {
		p := float64(n) / float64(sum)
		bits -= p * math.Log2(p)
	}
	if len(walks) < 8 || bits < 2 {
		t.Fatalf("the drawn coaches end in %v: too few findings to say anything", walks)
	}
	checked := 0
	for _, o := range r.Orders {
		if o.Role != faulttree.Owner.String() || o.Vehicles != "all" || o.Until != "finding" {
			continue
		}
		checked++
		if least := 3 * bits / 6; o.Best < least {
			t.Errorf("it costs %.2f; %.2f bits need %.2f at least", o.Best, bits, least)
		}
		if o.Best > o.Tree {
			t.Errorf("it costs %.2f, the chart's own order %.2f", o.Best, o.Tree)
		}
		if o.Agrees < 0.97 {
			t.Errorf("only %.3f of the coaches come to the same finding", o.Agrees)
		}
	}
	if checked == 0 {
		t.Error("no order was looked for")
	}
}
