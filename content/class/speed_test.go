package class

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scripted"

	"github.com/google/go-cmp/cmp"
)

// tenScenarios are of all rigs.
var tenScenarios = []string{
	"flat-by-breakfast", "lamps-like-candles", "barefoot-on-the-steel-step", "bright-over-the-sink", "buzz-after-the-rain",
	"one-end-of-the-coach-sulks", "ridge-on-the-generator", "supper-on-the-adapter", "three-volts-and-a-worry", "van-coffee-at-dawn",
}

// wander is an attempt as learners make them: dead tests, readings at the post and
// inside with loads or without, some left out, and then one of a few conclusions.
func wander(t testing.TB, c practice.Case, seed uint64) practice.Attempt {
	t.Helper()
	p := must.Have(scripted.Begin(c, faulttree.Qualified, faulttree.DefaultMeter()))(t)
	rng := rand.New(rand.NewPCG(seed, 1))
	try := func(_ practice.Act, err error) { _ = err } // what cannot be done as things stand is left out
	read := func(f meter.Function, pairs ...[2]string) {
		for _, x := range pairs {
			if c.Rig.HasNode(x[0]) && c.Rig.HasNode(x[1]) && rng.IntN(3) > 0 {
				p.Set(f)
				try(p.Read(x[0], x[1]))
			}
		}
	}
	try(p.Prove())
	if c.Direct() {
		for _, on := range []bool{false, true} {
			try(p.Do(practice.Act{Kind: practice.Load, Name: "dc", On: on}))
			read(meter.VoltsDC, [][2]string{{"battery.pos", "battery.neg"}, {"dc.pos", "dc.neg"}, {"battery.pos", "dc.pos"}, {"battery.neg", "dc.neg"}}...)
		}
	} else {
		read(meter.VoltsAC, [2]string{"body", "earth"})
		if p.Unplug() == nil {
			read(meter.VoltsAC, [2]string{"plug.l1", "plug.n"})
			read(meter.Ohms, [][2]string{{"plug.g", "body"}, {"plug.l1", "plug.n"}, {"plug.l1", "body"}, {"plug.n", "body"}}...)
			try(practice.Act{}, p.Throw("pedestal", true))
			read(meter.VoltsAC, [][2]string{{"pedestal.l1", "pedestal.n"}, {"pedestal.l2", "pedestal.n"}, {"pedestal.n", "pedestal.g"}, {"pedestal.g", "earth"}}...)
			try(practice.Act{}, p.Throw("pedestal", false))
			try(practice.Act{}, p.Throw("plug", true))
			try(practice.Act{}, p.Throw("pedestal", true))
		}
		inside := [][2]string{{"panel.l1", "panel.n"}, {"panel.l2", "panel.n"}, {"panel.n", "panel.g"}, {"outlet.h", "outlet.n"}, {"outlet.n", "outlet.g"}}
		read(meter.VoltsAC, inside...)
		try(p.Do(practice.Act{Kind: practice.Load, Name: "l1", On: true}))
		read(meter.VoltsAC, inside...)
	}
	named := scenes.Nameable(shipped, c.Rig)
	done := practice.Conclusion{Faults: []string{c.Truth()[0]}}
	if rng.IntN(2) == 0 {
		done.Faults = []string{named[rng.IntN(len(named))].ID}
	}
	must.Do(t, p.Conclude(done))
	return p.Attempt
}

// wandered is a folder of learners with attempts at scenarios, each at a variant of his
// own.
func wandered(t testing.TB, learners int, scenarios ...string) fstest.MapFS {
	t.Helper()
	a := assigned(t, true, scenarios...)
	a.ID = "wandered" // the variants follow from it
	files := map[string][]byte{}
	for i := range learners {
		name := fmt.Sprintf("Learner %c", 'A'+i)
		f := AttemptFile{Learner: name, Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon}
		for task, given := range a.Tasks {
			seed := a.Seed(task, name)
			try := wander(t, scenes.CaseOf(shipped, scenes.VariantOf(shipped.Scenarios[given.Scenario], seed)), uint64(i))
			try.Case, try.Seed, try.Level, try.Started = given.Scenario, seed, a.Level, noon.Add(time.Duration(i)*time.Minute)
			f.Attempts = append(f.Attempts, try)
		}
		files[name] = written(t, f)
	}
	return folderOf(t, a, files)
}

// Attempts get the same marks, to the letter, whether they are marked together or one
// after the other, and in whatever order.
func TestMarksAreTheSameTogether(t *testing.T) {
	c := collected(t, wandered(t, 3, "flat-by-breakfast", "van-coffee-at-dawn"), Options{})
	var all []Try
	for _, l := range c.Learners {
		for task, x := range l.Tries {
			if x.Edited != "" {
				t.Fatal(x.Edited)
			}
			all = append(all, Try{c.Scenarios[task], x.Case, x.Attempt})
		}
	}
	together := make([]*Marks, len(all))
	err := NewMarker(shipped).Mark(t.Context(), all, func(i int, m *Marks, err error) {
		if together[i] = m; err != nil {
			t.Error(err)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	by := NewMarker(shipped)
	for i, try := range slices.Backward(all) {
		alone, err := by.One(t.Context(), try)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(together[i], alone); diff != "" {
			t.Errorf("attempt %d at %s:\n%s", i, try.Scenario.ID, diff)
		}
	}
}

// BenchmarkClass verifies, marks and tables 200 attempts over ten scenarios of all rigs,
// with nothing drawn before: the aim is under 5 s and 200 MB on two cores that nobody
// else uses. Beside it stands, from the same run, what one attempt at each scenario takes.
func BenchmarkClass(b *testing.B) {
	one, all := wandered(b, 1, tenScenarios...), wandered(b, 20, tenScenarios...)
	var took [2]time.Duration
	for b.Loop() {
		for i, folder := range []fstest.MapFS{one, all} {
			start := time.Now()
			c := collected(b, folder, Options{})
			if err := c.Mark(b.Context(), NewMarker(shipped), nil); err != nil {
				b.Fatal(err)
			}
			if rows := len(c.Table(false).Rows); rows != len(folder)-1 {
				b.Fatalf("%d rows", rows)
			}
			_ = c.Gaps(shipped)
			took[i] += time.Since(start)
		}
	}
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	b.ReportMetric(took[1].Seconds()/float64(b.N), "s/class")
	b.ReportMetric(took[1].Seconds()/took[0].Seconds(), "times-one-each")
	b.ReportMetric(float64(memory.Sys>>20), "MB-from-system")
}
