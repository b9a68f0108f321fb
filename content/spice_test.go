package content_test

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

var full = flag.Bool("full", false, "compare every rig, fault and quantity with the simulator, not a tenth of them")

// The tolerances: of the magnitude, with a floor for what is next to nothing,
// and of the phase in degrees where there is enough to have one.
const (
	relative  = 1e-5
	floor     = 1e-9
	degrees   = 1e-3
	enough    = 1e-4  // volts, in which a phase is looked at
	inOneDeck = 40    // circuits of one run of the simulator
	seed      = 20260 // of the tenth
)

// Every rig, healthy and with every fault that fits at the low end, the middle
// and the high end of its severity, between all test points that are measured
// in volts, in ngspice, a general-purpose simulator. Its netlist has the meter
// in it.
func TestRigsAgainstSimulator(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		t.Fatal("ngspice is missing; bash .ci/setup installs it")
	}
	lib := shipped()
	if len(lib.Rigs) == 0 {
		t.Fatal("the handbook has no rigs")
	}
	c := &comparison{t: t, program: program, decks: map[string]*deck{}, rng: rand.New(rand.NewPCG(seed, 1)), running: make(chan struct{}, runtime.GOMAXPROCS(0))}
	for _, id := range slices.Sorted(maps.Keys(lib.Rigs)) {
		c.rig(lib, lib.Rigs[id])
	}
	for _, analysis := range slices.Sorted(maps.Keys(c.decks)) {
		c.start(c.decks[analysis])
	}
	for _, d := range c.started {
		c.compare(d)
	}
	t.Logf("%d circuits, %d of them where the simulator's own rounding may exceed the tolerance, as it does in %d; of the others the worst magnitude %.2g relative (%s), the worst phase %.2g degrees (%s)",
		c.compared, c.coarse, c.needed, c.worst, c.worstAt, c.phase, c.phaseAt)
	if c.compared < 1000 {
		t.Errorf("only %d circuits were compared", c.compared)
	}
}

type comparison struct {
	t                *testing.T
	program          string
	running          chan struct{} // holds one for each simulator that runs
	rng              *rand.Rand
	quantities       []faulttree.Quantity
	bench            *bench.Bench
	decks            map[string]*deck // by analysis, gathered until full
	started          []*deck          // given to the simulator, in this order
	compared         int
	coarse, needed   int // circuits that the simulator resolves less finely than the tolerance; those that were off by more
	worst, phase     float64
	worstAt, phaseAt string
}

// rig compares one rig in all its conditions.
func (c *comparison) rig(lib *content.Library, r *rig.Rig) {
	b, err := bench.New(r)
	if err != nil {
		c.t.Errorf("%s: %v", r.ID, err)
		return
	}
	c.bench, c.quantities = b, nil
	for _, id := range lib.Forest.Quantities.IDs() {
		q := lib.Forest.Quantities[id]
		if (q.Unit == faulttree.VoltsAC || q.Unit == faulttree.VoltsDC) && r.HasNode(q.Red) && r.HasNode(q.Black) {
			c.quantities = append(c.quantities, q)
		}
	}
	c.condition(r.ID, nil)
	for _, id := range slices.Sorted(maps.Keys(lib.Faults)) {
		f := lib.Faults[id].Edits
		if f == nil {
			continue
		}
		for i, v := range f.Variants {
			if !v.FitsIn(r) || !slices.ContainsFunc(v.Edits, func(e rig.Edit) bool { return e.Kind != rig.Misuse }) {
				continue
			}
			for _, s := range severities(f.Severity) {
				c.condition(fmt.Sprintf("%s, %s %s at %.3g", r.ID, id, v.Text, s), []rig.Applied{{Fault: f, Variant: i, Severity: s}})
			}
		}
	}
}

// severities are the ends and the middle of a fault's one number.
func severities(p *rig.Param) []float64 {
	switch {
	case p == nil:
		return []float64{0}
	case p.From == p.To:
		return []float64{p.Value}
	case p.Log:
		return []float64{p.From, math.Sqrt(p.From * p.To), p.To}
	}
	return []float64{p.From, (p.From + p.To) / 2, p.To}
}

// condition compares all quantities with some faults in force.
func (c *comparison) condition(name string, faults []rig.Applied) {
	if err := c.bench.Set(rig.Setup{Faults: faults}); err != nil {
		c.t.Errorf("%s: %v", name, err)
		return
	}
	legs := c.bench.Rig().Legs()
	for _, q := range c.quantities {
		if !*full && c.rng.IntN(10) != 0 {
			continue
		}
		st := c.bench.StateFor(q, legs)
		want, err := c.bench.MeasureIn(q, st, bench.HighImpedance)
		if err != nil || !want.Defined {
			c.t.Errorf("%s: %s has no solution: %v%s", name, q.ID, err, want.Reason)
			continue
		}
		text, err := c.bench.Netlist(name, q, st, bench.HighImpedance)
		if err != nil {
			c.t.Errorf("%s: %s has no netlist: %v", name, q.ID, err)
			continue
		}
		c.add(text, wanted{name + ": " + q.ID, want.Value, resolution(text)})
	}
}

// start gives a deck to the simulator, as many at once as there are processors,
// while the next are gathered.
func (c *comparison) start(d *deck) {
	text := d.text.String() + d.analysis + "\n" + strings.Join(d.prints, "\n") + "\n.end\n"
	d.shown = make(chan []complex128, 1)
	c.started = append(c.started, d)
	go func() {
		c.running <- struct{}{}
		d.shown <- simulate(c.program, text)
		<-c.running
	}()
}

// compare waits for what the simulator prints of a deck and compares it.
func (c *comparison) compare(d *deck) {
	shown := <-d.shown
	if len(shown) != len(d.wants) {
		c.t.Fatalf("%d results for %d circuits, first %s", len(shown), len(d.wants), d.wants[0].name)
	}
	for i, got := range shown {
		w := d.wants[i]
		size := cmplx.Abs(w.value)
		off := math.Abs(cmplx.Abs(got) - size)
		c.compared++
		if w.blur > relative*size+floor {
			c.coarse++
		} else if share := off / size; size > enough && share > c.worst {
			c.worst, c.worstAt = share, w.name
		}
		if off > relative*size+floor {
			c.needed++
		}
		if off > relative*size+floor+w.blur {
			c.t.Errorf("%s: %.9g V, in the simulator %.9g V", w.name, size, cmplx.Abs(got))
		}
		if size < enough {
			continue
		}
		turn := math.Abs(cmplx.Phase(got/w.value)) * 180 / math.Pi
		if w.blur <= relative*size+floor && turn > c.phase {
			c.phase, c.phaseAt = turn, w.name
		}
		if turn > degrees+w.blur/size*180/math.Pi {
			c.t.Errorf("%s: %.9g V, the phase is %.3g degrees off", w.name, size, turn)
		}
	}
}

// A netlist runs in the simulator as it is printed, one for each rig.
func TestNetlistRunsUnchanged(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		t.Fatal("ngspice is missing; bash .ci/setup installs it")
	}
	lib := shipped()
	for _, id := range slices.Sorted(maps.Keys(lib.Rigs)) {
		r := lib.Rigs[id]
		b := must.Have(bench.New(r))(t)
		asked := 0
		for _, name := range []string{"panel.l1-n", "body-earth", "pedestal.l1-n", "battery.pos-neg", "dc.pos-neg@loaded"} {
			q := lib.Forest.Quantities[name]
			if !r.HasNode(q.Red) || !r.HasNode(q.Black) {
				continue
			}
			asked++
			st := b.StateFor(q, r.Legs())
			want := must.Have(b.MeasureIn(q, st, bench.HighImpedance))(t)
			text := must.Have(b.Netlist(id, q, st, bench.HighImpedance))(t)
			got := simulate(program, text)
			if len(got) != 1 || math.Abs(cmplx.Abs(got[0])-cmplx.Abs(want.Value)) > relative*cmplx.Abs(want.Value)+floor+resolution(text) {
				t.Errorf("%s, %s: %v, in the simulator %v", id, name, want.Value, got)
			}
		}
		if asked == 0 {
			t.Errorf("no netlist was asked of %s", id)
		}
	}
}
