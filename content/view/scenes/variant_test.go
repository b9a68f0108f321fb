package scenes_test

import (
	"context"
	"flag"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

var variants = flag.Int("variants", 4, "how many variants of a few scenarios are solved")

// Whatever the seed: the faults stay, the numbers lie where they may, no two seeds
// give the same numbers, and a file holds them exactly.
func TestVariantsKeepTheLesson(t *testing.T) {
	lib := load.Shipped()
	for _, s := range view.Scenarios(lib) {
		t.Run(s.ID, func(t *testing.T) {
			before, seen := idsOf(lib, s), map[string]uint64{}
			for seed := uint64(1); seed <= 200; seed++ {
				v := scenes.VariantOf(s, seed)
				if got := idsOf(lib, v); !slices.Equal(got, before) {
					t.Fatalf("seed %d: hidden is %v; expected %v", seed, got, before)
				}
				for i, x := range v.Values {
					p := s.Rig.Params[i]
					may, stated := s.Vary.Values[i]
					if !stated {
						may = content.Range{From: p.From, To: p.To}
					}
					if _, asWritten := s.Values[i]; (stated || !asWritten) && (x < may.From || x > may.To) {
						t.Fatalf("seed %d: %s is %v, outside of %v to %v", seed, p.Name, x, may.From, may.To)
					}
				}
				for _, a := range v.Faults {
					if p := a.Fault.Severity; p != nil && (a.Severity < p.From || a.Severity > p.To) || !a.Fault.Variants[a.Variant].FitsIn(s.Rig) {
						t.Errorf("seed %d: the fault is %+v", seed, a)
					}
				}
				print := fmt.Sprint(v.Setup().Values, v.Faults)
				if other, met := seen[print]; met {
					t.Fatalf("seeds %d and %d give the same numbers", other, seed)
				}
				seen[print] = seed
				if again := scenes.VariantOf(s, seed); fmt.Sprint(again.Setup().Values, again.Faults) != print {
					t.Errorf("seed %d gives other numbers the second time", seed)
				}
				if seed%100 == 0 {
					savedAndRead(t, lib, v)
				}
			}
			if scenes.VariantOf(s, 0) != s {
				t.Error("seed 0 is not the scenario as it is written")
			}
		})
	}
}

// idsOf lists what is hidden, without the places.
func idsOf(lib *content.Library, s *content.Scenario) []string {
	return lists.Each(scenes.Hidden(lib, s), func(at faulttree.FaultAt) string { return at.Fault })
}

func savedAndRead(t *testing.T, lib *content.Library, s *content.Scenario) {
	t.Helper()
	text := load.ScenarioText(lib, s)
	back, diags := load.Scenario(context.Background(), lib, "saved.md", strings.NewReader(text), nil)
	if back == nil {
		t.Fatalf("%v\n%s", diags, text)
	}
	if diff := cmp.Diff(s, back, cmpopts.IgnoreTypes(source.Pos{}, []document.Block{}), cmpopts.EquateEmpty(),
		cmp.Comparer(func(x, y *rig.Rig) bool { return x == y }), cmp.Comparer(func(x, y *rig.Fault) bool { return x == y })); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// L1 and L2 change places with the fault and the loads on them, for some seeds and
// not for others.
func TestVariantsOnTheOtherLeg(t *testing.T) {
	lib := load.Shipped()
	s := lib.Scenarios["the-post-gets-the-blame"]
	on := map[string]int{}
	for seed := uint64(1); seed <= 60; seed++ {
		v := scenes.VariantOf(s, seed)
		text := v.Faults[0].Fault.Variants[v.Faults[0].Variant].Text
		on[text]++
		values := v.Setup().Values
		busy, idle := "l1", "l2"
		if text == "L2 at the main breaker" {
			busy, idle = idle, busy
		}
		if b, i := s.Rig.Watts(values, busy), s.Rig.Watts(values, idle); b < 1500 || b > 1900 || i < 500 || i > 1000 {
			t.Errorf("seed %d, %s: %v W on %s and %v W on %s", seed, text, b, busy, i, idle)
		}
	}
	if on["L1 at the main breaker"] < 15 || on["L2 at the main breaker"] < 15 || len(on) != 2 {
		t.Errorf("the faults are %v", on)
	}
}

// Wire is made in whole sizes.
func TestVariantsOfAWireSize(t *testing.T) {
	lib := load.Shipped()
	s := *lib.Scenarios["supper-on-the-adapter"]
	at := s.Rig.Param("cord.gauge")
	s.Vary = content.Vary{Stated: true, Values: map[int]content.Range{at: {From: 10, To: 14}}}
	seen := map[float64]bool{}
	for seed := uint64(1); seed <= 50; seed++ {
		v := scenes.VariantOf(&s, seed)
		seen[v.Values[at]] = true
		savedAndRead(t, lib, v)
	}
	if len(seen) != 5 || !seen[10] || !seen[14] {
		t.Errorf("the sizes are %v", seen)
	}
}

// A variant can be solved as the scenario can, shows what brought the customer, and
// is found again by the seed that was used.
func TestVariantsCanBeSolved(t *testing.T) {
	if testing.Short() {
		t.Skip("draws the vehicles of two rigs")
	}
	lib := load.Shipped()
	r := scenes.NewReasoning(lib, faulttree.DefaultMeter(), nil)
	for _, id := range []string{"lamps-like-candles", "a-battery-that-breaks-the-meter", "van-coffee-at-dawn"} {
		draws := 0
		for seed := uint64(1); seed <= uint64(*variants); seed++ {
			v := must.Have(r.Variant(context.Background(), lib.Scenarios[id], seed*7919))(t)
			draws += v.Draws
			if again := scenes.VariantOf(lib.Scenarios[id], v.Seed); fmt.Sprint(again.Setup()) != fmt.Sprint(v.Scenario.Setup()) {
				t.Errorf("%s: seed %d is another vehicle", id, v.Seed)
			}
			if !v.Solved.Held() {
				t.Errorf("%s: of seed %d the belief holds %.2f", id, v.Seed, v.Solved.Share)
			}
		}
		t.Logf("%s: %d draws for %d variants", id, draws, *variants)
	}
}

// Where nothing that varies can be solved the error says so.
func TestNoVariantCanBeSolved(t *testing.T) {
	lib := load.Shipped()
	s := *lib.Scenarios["lamps-like-candles"]
	s.Tree = ""
	s.Vary = content.Vary{Stated: true, Loads: map[string]content.Range{"dc": {From: 0, To: 0.5}}}
	_, err := scenes.NewReasoning(lib, faulttree.DefaultMeter(), nil).Variant(context.Background(), &s, 3)
	if err == nil || !strings.Contains(err.Error(), "none can be solved") {
		t.Errorf("the error is %v", err)
	}
}
