package suspect

import (
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// reference is a line of testdata/reference/diagnosis.yaml, worked out there by
// other means, and each of its numbers by the key before it, in order.
func reference(t *testing.T, name string) func(key string) []float64 {
	t.Helper()
	text := must.Have(os.ReadFile("../../testdata/reference/diagnosis.yaml"))(t)
	_, line, found := strings.Cut(string(text), "\n"+name+":")
	if !found {
		t.Fatalf("there is no line %s", name)
	}
	line, _, _ = strings.Cut(line, "\n")
	return func(key string) []float64 {
		var out []float64
		for _, part := range strings.Split(line, key+": ")[1:] {
			number, err := strconv.ParseFloat(strings.FieldsFunc(part, func(r rune) bool { return strings.ContainsRune(" ,]}", r) })[0], 64)
			if err != nil {
				t.Fatalf("%s of %s: %v", key, name, err)
			}
			out = append(out, number)
		}
		if out == nil {
			t.Fatalf("%s has no %s", name, key)
		}
		return out
	}
}

// A noisy test of one fault: Bayes' theorem, closed form.
func TestNoisyTest(t *testing.T) {
	of := reference(t, "noisy_test")
	prior := of("prior")[0]
	p := &table{}
	p.add(Case{Faults: []PlacedFault{{Fault: "faulty", Place: faulttree.Vehicle}}, Weight: prior}, map[string]float64{"test=fails": of("sensitivity")[0]})
	p.add(Case{Weight: 1 - prior}, map[string]float64{"test=fails": 1 - of("specificity")[0]})
	b := believe(t, New(p, faulttree.DefaultMeter(), toyFaults).Assuming(sure), Evidence{Seen: &Seen{"test", "fails"}})
	if got, want := b.Shares()[0], of("posterior")[0]; math.Abs(got-want) > 1e-6 {
		t.Errorf("the posterior is %.6f; expected %.6f", got, want)
	}
}

// What a reading says of a value under a normal error: JCGM 106:2012, 7.
func TestConformity(t *testing.T) {
	of := reference(t, "conformity")
	y, u, p := of(" y"), of(" u"), of(" p")
	below := Normal{y[0], u[0]}.Below(of("limit_upper")[0])
	above := Normal{y[1], u[1]}.Above(of("limit_lower")[0])
	for i, got := range []float64{below, above} {
		if math.Abs(got-p[i]) > 1e-6 {
			t.Errorf("row %d: the probability is %.6f; expected %.6f", i+1, got, p[i])
		}
	}
	for guard, risk := range map[string]float64{"0": of("{0")[0], "0.25": of("0.25")[0], "0.5": of("0.5")[0], "1": of(", 1")[0]} {
		g, _ := strconv.ParseFloat(guard, 64)
		if got := (Normal{0, 0.5}).Above(g); math.Abs(got-risk) > 1e-5 {
			t.Errorf("at a guard band of %s expanded uncertainties the risk is %.5f; expected %.5f", guard, got, risk)
		}
	}
}

// Three multipliers and two adders (de Kleer and Williams 1987): F reads 10 in
// place of 12. The first four suspects are the minimal diagnoses, the single ones
// first and equal.
func TestPolybox(t *testing.T) {
	of := reference(t, "polybox")
	prior := of("prior")[0]
	observed := map[string]float64{"F": of("F")[0], "G": of("G")[0]}
	parts := []string{"A1", "A2", "M1", "M2", "M3"}
	p := &table{}
	for set := range 1 << len(parts) { // none of them faulty is a sound vehicle
		c := Case{Weight: 1}
		for i, name := range parts {
			if set>>i&1 == 1 {
				c.Faults = append(c.Faults, PlacedFault{Fault: name, Place: faulttree.Vehicle})
				c.Weight *= prior
			} else {
				c.Weight *= 1 - prior
			}
		}
		offsets(set, len(parts), nil, func(off []float64, ways float64) {
			one := c
			one.Weight /= ways
			x, y, z := 6+off[2], 6+off[3], 6+off[4]
			p.add(one, map[string]float64{"F=seen": indicator(x+y+off[0] == observed["F"]), "G=seen": indicator(y+z+off[1] == observed["G"])})
		})
	}
	r := New(p, faulttree.DefaultMeter(), func(fault string, _ faulttree.Place) Described { return Described{RepairBy: fault} }).Assuming(sure)
	suspects := believe(t, r, Evidence{Seen: &Seen{"F", "seen"}}, Evidence{Seen: &Seen{"G", "seen"}}).Suspects()
	minimal := map[string]float64{}
	for _, s := range suspects {
		least := s.Share > 0 && s.Faults[0] != NoFault
		for _, o := range suspects {
			inside := len(o.Faults) < len(s.Faults) && !slices.ContainsFunc(o.Faults, func(f string) bool { return !slices.Contains(s.Faults, f) })
			least = least && (o.Share == 0 || !inside)
		}
		if least {
			faults := slices.Clone(s.Faults)
			slices.Sort(faults)
			minimal[strings.Join(faults, ", ")] = s.Share
		}
	}
	for _, want := range []string{"A1", "M1", "A2, M2", "M2, M3"} {
		if minimal[want] == 0 {
			t.Errorf("%s is not among the minimal diagnoses %v", want, minimal)
		}
	}
	if len(minimal) != 4 || math.Abs(minimal["A1"]-minimal["M1"]) > 1e-9 || minimal["A1"] < 100*minimal["A2, M2"] {
		t.Errorf("the minimal diagnoses are %v; expected four, the single ones alike and far before the double ones", minimal)
	}
}

// offsets visits what faulty parts may add to their results, in whole numbers
// from -4 to 4 but for 0.
func offsets(set, n int, off []float64, visit func(off []float64, ways float64)) {
	if len(off) < n {
		if set>>len(off)&1 == 0 {
			offsets(set, n, append(off, 0), visit)
			return
		}
		for o := -4.0; o <= 4; o++ {
			if o != 0 {
				offsets(set, n, append(off, o), visit)
			}
		}
		return
	}
	ways := 1.0
	for i := range n {
		if set>>i&1 == 1 {
			ways *= 8
		}
	}
	visit(off, ways)
}

// The belief against exact integration: a divider of two unknown resistances on
// 120 V, of which the lower one's voltage and the whole resistance are read. Its
// density and its mixture of slips are written out here once more.
func TestBeliefAgainstQuadrature(t *testing.T) {
	const volts, from, to, limit = 120.0, 10.0, 1000.0, 100.0
	ohms := func(u float64) float64 { return from * math.Pow(to/from, u) }
	p := &table{}
	const steps = 141 // about 20,000 vehicles, none of whose resistances is a node of the integration
	for i := range steps {
		for j := range steps {
			upper, lower := ohms((float64(i)+0.5)/steps), ohms((float64(j)+0.5)/steps)
			c := Case{Weight: 1}
			if upper > limit {
				c.Faults = []PlacedFault{{Fault: "high-upper", Place: faulttree.Vehicle}}
			}
			p.add(c, map[string]float64{"panel.l1-n": volts * lower / (upper + lower), "ohm:plug.n-cord.n@unplugged": upper + lower})
		}
	}
	evidence := []Evidence{read(t, "panel.l1-n", "40.0 V"), read(t, "ohm:plug.n-cord.n@unplugged", "210.0 Ω")}
	for name, c := range map[string]struct{ wrong, none float64 }{"nothing wrong": {0, 0}, "one in ten wrong": {0.1, 0.01}} {
		b := believe(t, New(p, faulttree.DefaultMeter(), toyFaults).Assuming(Assumed{Wrong: c.wrong, NoneFits: c.none}), evidence...)
		high, none := integrate(c.wrong, c.none, func(u, v float64) (v1, r2 float64, counts bool) {
			return volts * ohms(v) / (ohms(u) + ohms(v)), ohms(u) + ohms(v), ohms(u) > limit
		})
		if got := shareOf(b, "high-upper", faulttree.Vehicle); math.Abs(got-high) > 0.003 {
			t.Errorf("%s: the upper one is high with %.4f; integration gives %.4f", name, got, high)
		}
		if got := b.NoneFits(); math.Abs(got-none) > 0.001*max(1, none) {
			t.Errorf("%s: none fits with %.5f; integration gives %.5f", name, got, none)
		}
	}
}

// integrate is the share of what counts, and of none, by Simpson's rule over both
// unknowns: 40.0 V and 210.0 Ω were read with the ordinary meter, ±(1.2 % + 5
// counts of 0.1 V) and ±(0.9 % + 1 count of 0.1 Ω), the model within 3 %, or 0.5 V
// and 0.2 Ω.
func integrate(wrong, none float64, at func(u, v float64) (volts, ohms float64, counts bool)) (share, noneShare float64) {
	student := func(z float64) float64 { return 2 / (math.Pi * math.Sqrt(3) * math.Pow(1+z*z/3, 2)) }
	density := func(read, half, least, x float64) float64 {
		deviation := math.Sqrt(half*half/3 + math.Pow(max(0.03*x, least), 2))
		return student((read-x)/deviation) / deviation
	}
	uv, ur := 0.012*40+0.5, 0.009*210+0.1
	broadV, broadR := 0.98/250, 0.7/((210+0.2)*math.Log(1+60e6/0.2))
	width := uv/math.Sqrt(3) + 0.5
	slipV, slipR := 0.25*student(40/width)/width+0.75*broadV, 0.75*broadR
	const n = 600
	simpson := func(i int) float64 {
		switch {
		case i == 0 || i == n:
			return 1.0 / (3 * n)
		case i%2 == 1:
			return 4.0 / (3 * n)
		}
		return 2.0 / (3 * n)
	}
	var all, counted, allV, allR float64
	for i := range n + 1 {
		for j := range n + 1 {
			volts, ohms, counts := at(float64(i)/n, float64(j)/n)
			w := simpson(i) * simpson(j)
			lv := (1-wrong)*density(40, uv, 0.5, volts) + wrong*slipV
			lr := (1-wrong)*density(210, ur, 0.2, ohms) + wrong*slipR
			all += w * lv * lr
			if counts {
				counted += w * lv * lr
			}
			if !counts { // sound
				allV, allR = allV+w*lv*2, allR+w*lr*2 // half of all are sound
			}
		}
	}
	unlike := (allV + broadV) / 2 * (allR + broadR) / 2
	total := (1-none)*all + none*unlike
	return (1 - none) * counted / total, none * unlike / total
}
