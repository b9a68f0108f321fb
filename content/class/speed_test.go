package class

import (
	"context"
	"runtime"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scripted"
)

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

// BenchmarkMarkClass marks 200 attempts over ten scenarios, with nothing drawn before:
// the aim is under 5 s and 200 MB on two cores.
func BenchmarkMarkClass(b *testing.B) { benchmarkMarks(b, 10, 20) }

// BenchmarkMarkOne marks one attempt, as the window does after a practice: the aim is
// about 2 s.
func BenchmarkMarkOne(b *testing.B) { benchmarkMarks(b, 1, 1) }

func benchmarkMarks(b *testing.B, scenarios, each int) {
	lib := load.Shipped()
	all := view.Scenarios(lib)[:scenarios]
	type one struct {
		s *content.Scenario
		c practice.Case
		a practice.Attempt
	}
	var attempts []one
	for _, s := range all {
		for seed := range each {
			c := scenes.CaseOf(lib, s)
			a, differs, err := c.Verify(goes(b, c, seed))
			if err != nil || differs != nil {
				b.Fatal(err, differs)
			}
			attempts = append(attempts, one{s, c, a})
		}
	}
	for b.Loop() {
		m := NewMarker(lib)
		for _, o := range attempts {
			if _, err := m.Mark(context.Background(), o.s, o.c, o.a); err != nil {
				b.Fatal(err)
			}
		}
	}
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	b.ReportMetric(float64(memory.Sys>>20), "MB-from-system")
}
