package suspect

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// table is a population as a table of columns.
type table struct {
	cases   []Case
	columns map[string][]float32 // by quantity; observation=choice; intervention/tree
	more    func(near []int, n int) Population
}

func (p *table) Cases() []Case { return p.cases }

func (p *table) column(key string) ([]float32, error) {
	if c, ok := p.columns[key]; ok {
		return c, nil
	}
	out := make([]float32, len(p.cases))
	for i := range out {
		out[i] = float32(math.NaN())
	}
	return out, nil
}

func (p *table) Column(_ context.Context, q faulttree.Quantity) ([]float32, error) {
	return p.column(q.ID)
}

func (p *table) Seen(_ context.Context, observation, choice string) ([]float32, error) {
	return p.column(observation + "=" + choice)
}

func (p *table) Gone(_ context.Context, intervention, tree string) ([]float32, error) {
	return p.column(intervention + "/" + tree)
}

func (p *table) More(_ context.Context, near []int, n int) (Population, error) {
	if p.more == nil {
		return p, nil
	}
	return p.more(near, n), nil
}

// further is a table with n more toy vehicles of the strata of some cases.
func (p *table) further(random *rand.Rand, near []int, n int) *table {
	out := &table{}
	for i, c := range p.cases {
		reads := map[string]float64{}
		for key, column := range p.columns {
			reads[key] = float64(column[i])
		}
		out.add(c, reads)
	}
	for _, i := range near {
		c := p.cases[i]
		had := 0
		for _, o := range p.cases {
			if stratum(o) == stratum(c) {
				had++
			}
		}
		all := had + n/len(near)
		for j := range out.cases {
			if stratum(out.cases[j]) == stratum(c) {
				out.cases[j].Weight *= float64(had) / float64(all)
			}
		}
		c.Weight *= float64(had) / float64(all)
		for range n / len(near) {
			out.add(c, toyReads(random, c.Faults))
		}
	}
	return out
}

// add puts a case with what it reads into the table.
func (p *table) add(c Case, reads map[string]float64) {
	if p.columns == nil {
		p.columns = map[string][]float32{}
	}
	for key := range reads {
		if _, ok := p.columns[key]; !ok {
			p.columns[key], _ = p.column(key)
		}
	}
	p.cases = append(p.cases, c)
	for key := range p.columns {
		v, ok := reads[key]
		if !ok {
			v = math.NaN()
		}
		p.columns[key] = append(p.columns[key], float32(v))
	}
}

// quantity is one of the tables below.
func quantity(t testing.TB, id string) faulttree.Quantity {
	t.Helper()
	known := map[string]bool{}
	for _, place := range []string{"pedestal", "panel", "plug", "cord", "battery"} {
		for _, contact := range []string{"l1", "l2", "n", "g", "pos", "neg"} {
			known[place+"."+contact] = true
		}
	}
	name := must.Have(faulttree.ParseQuantityName(id, func(p string) bool { return known[p] || p == "body" || p == "earth" }))(t)
	q := faulttree.Quantity{ID: id, Unit: faulttree.VoltsAC, Red: name.Red, Black: name.Black, Conditions: name.Conditions, Range: 600 * faulttree.One, Most: 700 * faulttree.One}
	switch {
	case name.Prefix == "ohm":
		q.Unit, q.Range, q.Most = faulttree.Ohms, 200*faulttree.One, 100_000_000*faulttree.One
	case name.Red == "battery.pos":
		q.Unit = faulttree.VoltsDC
	}
	return q
}

// read is a reading typed as a person would.
func read(t testing.TB, id, text string) Evidence {
	t.Helper()
	q := quantity(t, id)
	r := must.Have(faulttree.ParseReading(text, q))(t)
	return Evidence{Quantity: q, Reading: r}
}

// The toy vehicle: two legs of 120 V with their loads, a neutral, and a ground
// whose continuity is read in ohms; and a battery that has nothing to do with
// them.
func toy(n int, seed uint64) *table {
	random := rand.New(rand.NewPCG(seed, 11))
	p := &table{}
	draw := func(weight float64, faults ...PlacedFault) {
		for range n {
			p.add(Case{Rig: "coach", System: "mains", Faults: faults, Weight: weight / float64(n)}, toyReads(random, faults))
		}
	}
	draw(0.2)
	draw(0.3, PlacedFault{Fault: "open-neutral", Place: faulttree.Supply})
	draw(0.2, PlacedFault{Fault: "open-neutral", Place: faulttree.Cord})
	draw(0.2, PlacedFault{Fault: "poor-neutral", Place: faulttree.Supply})
	draw(0.1, PlacedFault{Fault: "open-ground", Place: faulttree.Cord})
	draw(0.05, PlacedFault{Fault: "rod-only", Place: faulttree.Supply})
	for _, weak := range []bool{false, true} {
		for range n {
			c := Case{Rig: "house", System: "dc", Weight: 1}
			volts := 12.4 + 0.4*random.Float64()
			if weak {
				c.Faults = []PlacedFault{{Fault: "battery-low", Place: faulttree.DC}}
				volts = 11 + random.Float64()
			}
			p.add(c, map[string]float64{"battery.pos-neg": volts})
		}
	}
	return p
}

// toyReads is what a drawn toy vehicle reads.
func toyReads(random *rand.Rand, faults []PlacedFault) map[string]float64 {
	volts := 118 + 4*random.Float64()
	g1, g2 := (200+1800*random.Float64())/14400, (200+1800*random.Float64())/14400
	gn := 20.0
	cord, ground := 0.1, 0.1
	for _, f := range faults {
		switch {
		case f.Fault == "open-neutral":
			gn = 1e-6
			if f.Place == faulttree.Cord {
				cord = math.Inf(1)
			}
		case f.Fault == "poor-neutral":
			gn = 1 / (0.5 + 10*random.Float64())
		case f.Fault == "open-ground":
			ground = math.Inf(1)
		}
	}
	shift := volts * (g1 - g2) / (g1 + g2 + gn) // of the neutral, from its own place
	return map[string]float64{
		"panel.l1-n": volts - shift, "panel.l2-n": volts + shift, "panel.n-g": math.Abs(shift), "panel.l1-l2": 2 * volts,
		"ohm:plug.n-cord.n@unplugged": cord, "ohm:plug.g-cord.g@unplugged": ground,
	}
}

// toyFaults describes them.
func toyFaults(fault string, place faulttree.Place) Described {
	d := Described{Title: fault, Test: "a test for " + fault, RepairBy: "owner", Do: "mend " + fault}
	if place == faulttree.Supply {
		d.RepairBy = "electrician"
	}
	switch fault {
	case NoFault:
		return Described{}
	case "open-neutral", "open-ground", "rod-only":
		d.Hazard = faulttree.Danger
	}
	return d
}

// believe is a belief that must come about.
func believe(t testing.TB, r *Reasoner, evidence ...Evidence) *Belief {
	t.Helper()
	return must.Have(r.Belief(context.Background(), evidence))(t)
}

// shareOf is the share of a fault in a place, or of sound vehicles.
func shareOf(b *Belief, fault string, place faulttree.Place) float64 {
	sum := 0.0
	for i, c := range b.Cases() {
		if len(c.Faults) == 0 && fault == NoFault {
			sum += b.Shares()[i]
		}
		for _, f := range c.Faults {
			if f.Fault == fault && f.Place == place {
				sum += b.Shares()[i]
			}
		}
	}
	return sum
}

// sure assumes that nothing goes wrong and that everything is drawn.
var sure = Assumed{}
