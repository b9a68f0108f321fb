package suspect

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// loose is vehicles of a dozen readings, four of them spread by a number of its own over
// decades, as leaks and loads are. Fault k halves reading k, and what goes with it.
func loose(n int, seed uint64) *table {
	random := rand.New(rand.NewPCG(seed, 5))
	p := &table{}
	for kind := range 9 {
		for range n {
			c := Case{Rig: "coach", Weight: 1}
			if kind > 0 {
				c.Faults = []PlacedFault{{Fault: fmt.Sprint("fault ", kind), Place: faulttree.Vehicle}}
			}
			reads := map[string]float64{}
			for k, id := range looseReadings() {
				reads[id] = 20 + 200*random.Float64()
				if k < 8 { // known closely but for the fault
					reads[id] = 116 + 8*random.Float64()
				}
				if k == kind-1 {
					reads[id] *= 0.85
				}
			}
			p.add(c, reads)
		}
	}
	return p
}

func looseReadings() []string {
	var out []string
	for _, place := range []string{"pedestal", "panel"} {
		for _, pair := range []string{"l1-n", "l2-n", "l1-g", "l2-g", "n-g", "l1-l2"} {
			out = append(out, place+"."+pair)
		}
	}
	return out
}

// Of what is said with nine tenths nearly nine tenths are right, although no drawn
// vehicle is near an unseen one in all its readings.
func TestManyNumbersDoNotLetChanceDecide(t *testing.T) {
	r := New(loose(60, 1), faulttree.DefaultMeter(), func(fault string, _ faulttree.Place) Described { return Described{RepairBy: fault} })
	unseen := loose(12, 2)
	said, right, first := 0, 0, 0
	for i, c := range unseen.cases {
		evidence := lists.Each(looseReadings(), func(id string) Evidence { return read(t, id, fmt.Sprintf("%.1f V", unseen.columns[id][i])) })
		suspects := believe(t, r, evidence...).Suspects()
		truth := NoFault
		if len(c.Faults) > 0 {
			truth = c.Faults[0].Fault
		}
		is := suspects[0].Faults[0] == truth
		if is {
			first++
		}
		if suspects[0].Share >= 0.9 {
			said++
			if is {
				right++
			}
		}
	}
	if said < 10 || right*100 < said*85 {
		t.Errorf("of %d said with nine tenths %d are right", said, right)
	}
	if n := len(unseen.cases); first*10 < n*6 {
		t.Errorf("of %d the truth is named first in %d", n, first)
	}
}

// Behind an open neutral the two legs share 240 V, however they do, and the neutral
// stands off the ground by what is left. Each reading by itself is spread over all
// volts; together they leave no doubt, although few vehicles are drawn near them.
func TestReadingsThatGoTogetherAreWeighedTogether(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 2))
	p := &table{}
	for range 80 {
		one := 20 + 200*random.Float64()
		p.add(Case{Faults: []PlacedFault{{Fault: "open-neutral", Place: faulttree.Supply}}, Weight: 0.05},
			map[string]float64{"pedestal.l1-n": one, "pedestal.l2-n": 240 - one, "pedestal.n-g": 120 - min(one, 240-one)})
		p.add(Case{Weight: 1}, map[string]float64{"pedestal.l1-n": 116 + 8*random.Float64(), "pedestal.l2-n": 116 + 8*random.Float64(), "pedestal.n-g": random.Float64()})
	}
	b := believe(t, New(p, faulttree.DefaultMeter(), toyFaults), read(t, "pedestal.l1-n", "59 V"), read(t, "pedestal.l2-n", "181 V"), read(t, "pedestal.n-g", "61 V"))
	if first := b.Suspects()[0]; first.Faults[0] != "open-neutral" || first.Share < 0.9 {
		t.Errorf("the first suspect is %v with %.2f, none fits with %.2f", first.Faults, first.Share, b.NoneFits())
	}
}

// Loads are spread over decades, whatever is wrong. What they read tells nothing about a
// fault that does not touch them: the odds stay those before, although some tens of
// cases of the fault lie farther apart than meter and model can tell.
func TestLoadsTellNothingOfAFaultElsewhere(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 4))
	var legs []string
	for _, pair := range []string{"l1-n", "l2-n", "l1-g", "l2-g", "n-g", "l1-l2"} {
		for _, place := range []string{"plug", "cord", "panel", "pedestal"} {
			legs = append(legs, "ohm:"+place+"."+pair+"@unplugged")
		}
	}
	vehicle := func() map[string]float64 {
		reads := map[string]float64{}
		for k, id := range legs {
			reads[id] = reads[legs[max(0, k-1)]] - 0.02
			if k%4 == 0 {
				reads[id] = 8 * math.Exp(random.Float64()*math.Log(60))
			}
		}
		return reads
	}
	p := &table{}
	for i := range 450 {
		c := Case{Weight: 0.5 / 400}
		if i < 50 {
			c = Case{Faults: []PlacedFault{{Fault: "open-neutral", Place: faulttree.Supply}}, Weight: 0.5 / 50}
		}
		p.add(c, vehicle())
	}
	r := New(p, faulttree.DefaultMeter(), toyFaults).Assuming(Assumed{Wrong: 0.02})
	squares := 0.0
	const vehicles = 60
	for range vehicles {
		reads := vehicle()
		evidence := lists.Each(legs, func(id string) Evidence { return read(t, id, fmt.Sprintf("%.1f Ω", reads[id])) })
		share := shareOf(believe(t, r, evidence...), "open-neutral", faulttree.Supply)
		odds := math.Log(share / (1 - share))
		squares += odds * odds
	}
	if off := math.Sqrt(squares / vehicles); off > 1 {
		t.Errorf("the logarithm of the odds is off by %.2f; expected little", off)
	}
}

// Nor do they rule it out where the vehicle has a load that few have, so that none drawn
// with the fault is near it and some sound ones are, read at two dozen pairs of contacts.
func TestLoadsRuleOutNoFaultElsewhere(t *testing.T) {
	random := rand.New(rand.NewPCG(12, 4))
	var pairs []string
	for _, pair := range []string{"l1-n", "l2-n", "l1-l2", "l1-g", "l2-g", "n-g"} {
		for _, place := range []string{"plug", "cord", "panel", "pedestal"} {
			pairs = append(pairs, "ohm:"+place+"."+pair+"@unplugged")
		}
	}
	vehicle := func(seldom float64) map[string]float64 {
		load := 10 + 30*random.Float64()
		if random.Float64() < seldom {
			load = 40 * math.Exp(random.Float64()*math.Log(60))
		}
		reads := map[string]float64{}
		for n, id := range pairs {
			reads[id] = load * (1 + 0.1*float64(n))
		}
		return reads
	}
	p := &table{}
	for range 400 {
		p.add(Case{Weight: 1}, vehicle(0.03))
	}
	for range 30 {
		p.add(Case{Faults: []PlacedFault{{Fault: "rod-only", Place: faulttree.Supply}}, Weight: 0.001}, vehicle(0.03))
	}
	r := New(p, faulttree.DefaultMeter(), toyFaults).Assuming(Assumed{Wrong: 0.02, NoneFits: 0.01})
	lost := 0
	for range 100 {
		var evidence []Evidence
		reads := vehicle(1)
		for _, id := range pairs {
			evidence = append(evidence, read(t, id, fmt.Sprintf("%.1f Ω", reads[id])))
		}
		if len(believe(t, r, evidence...).Open()) != 1 {
			lost++
		}
	}
	if lost > 0 {
		t.Errorf("in %d of 100 vehicles a danger is ruled out that the loads do not touch", lost)
	}
}
