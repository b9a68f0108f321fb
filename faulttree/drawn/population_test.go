package drawn_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

var shore = drawn.Options{Facts: map[string]string{"source": "shore"}, Seed: 3, Cases: 1500}

// weights sums the weights of the cases by all faults in them.
func weights(cases []suspect.Case) (by map[string]float64, all float64) {
	by = map[string]float64{}
	for _, c := range cases {
		name := suspect.NoFault
		for i, f := range c.Faults {
			if i == 0 {
				name = ""
			}
			name += " " + f.Fault
		}
		by[name] += c.Weight
		all += c.Weight
	}
	return by, all
}

// A fifth is sound; of the others three in a hundred have two faults by chance;
// the rest is shared as the catalogue weighs: a lost ground 3, a leak 5, a dead
// supply 8. Two of the three ways to lose the ground bring nothing along; the third
// is met a fifth as often as each of them.
func TestFaultsWeighAsTheCatalogueSays(t *testing.T) {
	by, all := weights(population(t, shore).Cases())
	single := 0.8 * 0.97
	want := map[string]float64{
		"no-fault": 0.2, " open-ground": single * 3 / 16 * 2 / 2.2, " open-ground leak": single*3/16*0.2/2.2 + 0.8*0.03, " leak": single * 5 / 16, " supply-dead": single * 8 / 16,
	}
	if math.Abs(all-1) > 1e-9 || len(by) != len(want) {
		t.Errorf("all weigh %v together: %v", all, by)
	}
	for name, w := range want {
		if math.Abs(by[name]-w) > 1e-9 {
			t.Errorf("%q weighs %v, want %v", name, by[name], w)
		}
	}
	_, two := weights(population(t, drawn.Options{}).Cases())
	if math.Abs(two-1) > 1e-9 {
		t.Errorf("the cases of two rigs weigh %v together", two)
	}
}

func TestDangerousFaultsAreDrawnOften(t *testing.T) {
	n := map[string]int{}
	for _, c := range population(t, drawn.Options{Facts: shore.Facts, Cases: 1}).Cases() {
		if len(c.Faults) > 0 {
			n[c.Faults[0].Fault]++
		}
	}
	if n["open-ground"] < 300 || n["leak"] < 300 || n["supply-dead"] < 100 || n["meter-weak"] > 0 {
		t.Errorf("drawn: %v", n)
	}
}

func TestFactsThatNoRigHas(t *testing.T) {
	for _, o := range []drawn.Options{{Facts: map[string]string{"source": "inverter"}}, {Tree: "tingle", Facts: map[string]string{"source": "inverter"}}} {
		if _, err := drawn.New(context.Background(), handbook(), o); !errors.Is(err, drawn.ErrNoRig) {
			t.Errorf("%v: %v", o.Facts, err)
		}
	}
	if _, err := drawn.New(context.Background(), handbook(), drawn.Options{Tree: "tinkle"}); err == nil {
		t.Error("a tree that there is not is taken")
	}
	for _, c := range population(t, shore).Cases() {
		if c.Rig != "trailer" {
			t.Fatalf("the rig %s does not agree with the facts", c.Rig)
		}
	}
}

// A column says what the vehicle of its case reads on a bench of its own.
func TestAColumnIsWhatTheBenchMeasures(t *testing.T) {
	p := population(t, shore)
	for _, q := range []faulttree.Quantity{hot, body, ground, live, far} {
		c := column(t, p, q)
		for i := 0; i < len(c); i += 37 {
			r, setup := p.Vehicle(i)
			v := must.Have(vehicle.New(r))(t)
			must.Do(t, v.Put(setup))
			want, ok, err := v.Taken(q)
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				want = math.NaN()
			}
			if got := float64(c[i]); got != float64(float32(want)) && !(math.IsNaN(got) && math.IsNaN(want)) {
				t.Errorf("%s in case %d: %v, the bench measures %v", q.ID, i, got, want)
			}
		}
	}
}

// By hand: without its ground the body is the middle of a divider of the leak and
// the tyres, the meter's 10 MΩ beside them; the pin of the plug has no way to it.
// On the live heater ohms are nothing, and the trailer has no battery. The meter's
// 100 pF and the milliohms of the wires move it by less than a thousandth.
func TestALostGroundByHand(t *testing.T) {
	p := population(t, shore)
	volts, ohms, heater, battery := column(t, p, body), column(t, p, ground), column(t, p, live), column(t, p, far)
	met := map[string]int{}
	for i, c := range p.Cases() {
		if len(c.Faults) == 0 || !math.IsNaN(float64(battery[i])) {
			if len(c.Faults) > 0 {
				t.Errorf("case %d: %v V at a battery that it does not have", i, battery[i])
			}
			continue
		}
		leak, lost, dead := 0.0, false, false
		for _, f := range c.Faults {
			switch {
			case f.Fault == "leak" && f.Place != faulttree.Vehicle:
				t.Errorf("case %d: a leak in the %s", i, f.Place)
			case f.Fault == "leak" && f.Variant == drawn.NoVariant:
				leak = 2e3
			case f.Fault == "leak":
				leak = f.Severity
			case f.Fault == "open-ground":
				lost = true
			default:
				dead = true
			}
		}
		if !dead && !math.IsNaN(float64(heater[i])) {
			t.Errorf("case %d: %v Ω on a live circuit", i, heater[i])
		}
		if lost && c.Faults[0].Place == faulttree.Cord {
			met["open"]++
			if !math.IsInf(float64(ohms[i]), 1) {
				t.Errorf("case %d: %v Ω through an open ground", i, ohms[i])
			}
		}
		if lost && leak > 0 {
			met["live"]++
			below := tyres * 10e6 / (tyres + 10e6)
			if want := 120 * below / (below + leak); math.Abs(float64(volts[i])-want) > want/1000 {
				t.Errorf("case %d: the body has %v V, want %v", i, volts[i], want)
			}
		}
		if !lost && !(volts[i] < 1) {
			t.Errorf("case %d: %v V on a body with a ground", i, volts[i])
		}
	}
	if met["open"] == 0 || met["live"] == 0 {
		t.Errorf("not met: %v", met)
	}
}

// All is the same bit for bit whatever the number of workers, and whether a column
// was solved alone, with others, or ahead of being asked for.
func TestTheSameForAnyNumberOfWorkers(t *testing.T) {
	one, four, ahead := shore, shore, shore
	one.Workers, four.Workers, ahead.Workers = 1, 4, 2
	a, b, c := population(t, one), population(t, four), population(t, ahead)
	must.Do(t, b.Columns(context.Background(), ground, body, hot, live))
	must.Do(t, c.Warm(context.Background()))
	bits := func(p *drawn.Population, q faulttree.Quantity) (out []uint32) {
		for _, v := range column(t, p, q) {
			out = append(out, math.Float32bits(v))
		}
		return out
	}
	for _, q := range []faulttree.Quantity{hot, body, ground, live, far} {
		if want := bits(a, q); !slices.Equal(want, bits(b, q)) || !slices.Equal(want, bits(c, q)) {
			t.Errorf("%s depends on who solves it", q.ID)
		}
	}
	if !slices.EqualFunc(a.Cases(), b.Cases(), func(x, y suspect.Case) bool { return x.Weight == y.Weight && slices.Equal(x.Faults, y.Faults) }) {
		t.Error("the cases depend on the number of workers")
	}
}

func TestMoreDrawsOfAStratum(t *testing.T) {
	p := population(t, shore)
	before := column(t, p, body)
	near := []int{}
	for i, c := range p.Cases() {
		if len(c.Faults) == 1 && c.Faults[0].Fault == "leak" {
			near = append(near, i)
		}
	}
	more := must.Have(p.More(context.Background(), near[:3], 100))(t)
	cases, after := more.Cases(), column(t, more, body)
	if len(cases) != len(p.Cases())+100 || len(after) != len(cases) || !slices.Equal(after[:len(before)], before) {
		t.Fatalf("%d cases became %d, or the first read otherwise", len(before), len(cases))
	}
	was, _ := weights(p.Cases())
	is, _ := weights(cases)
	for name := range was {
		if math.Abs(was[name]-is[name]) > 1e-9 {
			t.Errorf("%q weighs %v, and %v with more draws", name, was[name], is[name])
		}
	}
	drawn := map[float64]bool{}
	for _, i := range near {
		drawn[cases[i].Faults[0].Severity] = true
	}
	for _, c := range cases[len(before):] {
		if len(c.Faults) != 1 || c.Faults[0].Fault != "leak" || drawn[c.Faults[0].Severity] {
			t.Errorf("drawn besides: %v", c.Faults)
		}
	}
	again, err := p.More(context.Background(), near[:3], 100)
	if err != nil || !slices.Equal(column(t, again, body), after) {
		t.Errorf("the same draws read otherwise, %v", err)
	}
	if _, err := p.More(context.Background(), []int{len(before)}, 1); err == nil {
		t.Error("a case that there is not is taken")
	}
}
