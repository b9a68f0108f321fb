package class

import (
	"context"
	"flag"
	"runtime"
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scripted"
)

var large = flag.Bool("large", false, "verify and mark a class of twenty at ten scenarios")

// goes is what a learner of a class reads: a few dead tests and a few at the post, or at
// the battery, one less with each learner.
func goes(t testing.TB, c practice.Case, seed int) practice.Attempt {
	t.Helper()
	p, err := scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	p.Prove()
	type pair struct {
		f          meter.Function
		red, black string
	}
	dead := []pair{{meter.VoltsAC, "plug.l1", "plug.n"}, {meter.Ohms, "plug.g", "body"}, {meter.Ohms, "plug.l1", "plug.n"}, {meter.Ohms, "plug.l1", "body"}}
	live := []pair{{meter.VoltsAC, "pedestal.l1", "pedestal.n"}, {meter.VoltsAC, "pedestal.n", "pedestal.g"}, {meter.VoltsAC, "pedestal.g", "earth"}}
	direct := []pair{{meter.VoltsDC, "battery.pos", "battery.neg"}, {meter.VoltsDC, "dc.pos", "dc.neg"}}
	read := func(all []pair) {
		for i, r := range all {
			if i != seed%len(all) && c.Rig.HasNode(r.red) && c.Rig.HasNode(r.black) {
				p.Set(r.f)
				p.Read(r.red, r.black)
			}
		}
	}
	if !c.Direct() {
		p.Unplug()
		read(dead)
		p.Throw("pedestal", true)
		read(live)
	}
	read(direct)
	var ids []string
	for _, f := range scenes.Nameable(load.Shipped(), c.Rig)[:5] {
		ids = append(ids, f.ID)
	}
	if err := p.Conclude(practice.Conclusion{Faults: ids[seed%5 : seed%5+1]}); err != nil {
		t.Fatal(err)
	}
	return p.Attempt
}

// 200 attempts over ten scenarios are verified and marked; how long it takes is told.
func TestALargeClassIsMarked(t *testing.T) {
	if !*large {
		t.Skip("with -large")
	}
	lib := load.Shipped()
	all := view.Scenarios(lib)[:10]
	type one struct {
		at int
		c  practice.Case
		a  practice.Attempt
	}
	var attempts []one
	for i, s := range all {
		for seed := range 20 {
			c := scenes.CaseOf(lib, s)
			attempts = append(attempts, one{i, c, goes(t, c, seed)})
		}
	}
	m := NewMarker(lib)
	begin := time.Now()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for _, o := range attempts {
		a, differs, err := o.c.Verify(o.a)
		if err != nil || differs != nil {
			t.Fatal(err, differs)
		}
		if _, err := m.Mark(context.Background(), all[o.at], o.c, a); err != nil {
			t.Fatal(err)
		}
	}
	runtime.ReadMemStats(&after)
	t.Logf("%d attempts in %v; heap %d MB, from the system %d MB", len(attempts), time.Since(begin), after.HeapAlloc>>20, after.Sys>>20)
}
