package content_test

import (
	"context"
	"runtime"
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
)

func drawnOf(t testing.TB, o drawn.Options) *drawn.Population {
	t.Helper()
	return must.Have(drawn.New(context.Background(), scenes.DrawnFrom(shipped()), o))(t)
}

func heap() float64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / 1e6
}

func quantities(t testing.TB, ids ...string) []faulttree.Quantity {
	var out []faulttree.Quantity
	for _, id := range ids {
		q, ok := shipped().Forest.Quantities[id]
		if !ok {
			t.Fatalf("there is no quantity %s", id)
		}
		out = append(out, q)
	}
	return out
}

// Systems share no quantity: what feeds the converter of a 12 V rig is no 120 V
// reading of it, or a vehicle's 120 V fault would make its 12 V side unlike any.
func TestSystemsShareNoReading(t *testing.T) {
	p := drawnOf(t, drawn.Options{})
	for _, q := range quantities(t, "panel.l1-n@loaded", "panel.n-g@loaded", "ohm:panel.g-body@unplugged", "battery.pos-neg", "dc.pos-earth") {
		column := must.Have(p.Column(context.Background(), q))(t)
		told := map[string]int{}
		for i, x := range column {
			if x == x {
				told[p.Cases()[i].System]++
			}
		}
		if len(told) != 1 {
			t.Errorf("%s is read in %v", q.ID, told)
		}
	}
}

// Of every service there are between 12,000 and 20,000 vehicles, 300 at least with
// each dangerous fault, and they are told apart by what they are joined to: the
// 12 V side is a system of its own.
func TestDrawnVehiclesOfEachService(t *testing.T) {
	for _, facts := range []map[string]string{{"service": "50a", "source": "shore"}, {"service": "30a", "adapter": "none"}, {"service": "30a", "adapter": "yes"}, {"source": "generator"}, {"source": "inverter"}, nil} {
		cases := drawnOf(t, drawn.Options{Facts: facts}).Cases()
		if len(cases) < 12_000 || len(cases) > 20_000 {
			t.Errorf("%v: %d vehicles", facts, len(cases))
		}
		with := map[string]int{}
		for _, c := range cases {
			if (c.System == "12 V") != (c.Rig == "house-12v") {
				t.Fatalf("%v: the rig %s belongs to %s", facts, c.Rig, c.System)
			}
			if len(c.Faults) > 0 {
				with[c.Faults[0].Fault]++
			}
		}
		for id, n := range with {
			if f := shipped().Faults[id]; f.Hazard == faulttree.Danger && n < 300 {
				t.Errorf("%v: %d vehicles with %s", facts, n, id)
			}
		}
	}
}

// The times and the memory that a page of suspects has to live with, of a 50 A
// vehicle on shore power: the first answer from three readings, all columns, and
// one more column after some.
func BenchmarkDrawn(b *testing.B) {
	facts := drawn.Options{Facts: map[string]string{"service": "50a", "source": "shore"}, Seed: 1}
	three := quantities(b, "pedestal.l1-n", "body-earth", "ohm:plug.g-body@unplugged")
	ctx := context.Background()
	drawnOf(b, facts) // the handbook is read
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			p := drawnOf(b, facts)
			for _, q := range three {
				must.Have(p.Column(ctx, q))(b)
			}
			b.ReportMetric(float64(len(p.Cases())), "cases")
		}
	})
	b.Run("one more", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			p := drawnOf(b, facts)
			must.Do(b, p.Columns(ctx, three...))
			b.StartTimer()
			must.Have(p.Column(ctx, quantities(b, "panel.l1-n")[0]))(b)
		}
	})
	b.Run("all", func(b *testing.B) {
		before := heap()
		var p *drawn.Population
		for b.Loop() {
			p = drawnOf(b, facts)
			must.Do(b, p.Warm(ctx))
		}
		b.ReportMetric(heap()-before, "MB")
		runtime.KeepAlive(p)
	})
}
