package suspect

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// openNeutralSeen is what stands on a meter before an open neutral.
func openNeutralSeen(t testing.TB) []Evidence {
	return []Evidence{read(t, "panel.l1-n", "59 V"), read(t, "panel.l2-n", "180 V"), read(t, "panel.n-g", "61 V"), read(t, "panel.l1-l2", "239 V")}
}

func TestOpenNeutralIsNamed(t *testing.T) {
	r := New(toy(600, 1), faulttree.DefaultMeter(), toyFaults)
	all := believe(t, r, append(openNeutralSeen(t), read(t, "ohm:plug.n-cord.n@unplugged", "OL"))...).Suspects()
	first := all[0]
	if !slices.Equal(first.Faults, []string{"open-neutral"}) || !slices.Equal(first.Places, []faulttree.Place{faulttree.Cord}) {
		t.Fatalf("the first suspect is %v in %v; expected the cord's open neutral", first.Faults, first.Places)
	}
	if first.Likely != MostLikely || first.Share < 0.9 || first.Hazard != faulttree.Danger || first.Do != "mend open-neutral" || !reflect.DeepEqual(first.Repairs, []Repair{{"open-neutral", "owner"}}) {
		t.Errorf("it is %+v", first)
	}
	last := all[len(all)-1]
	if last.Worst == nil || last.Worst.Fit > 0.2 || last.Likely != Unlikely {
		t.Errorf("the last suspect %v is %v, and fits as well as %+v", last.Faults, last.Likely, last.Worst)
	}
}

// Every reading is as it is in a sound vehicle, and nothing is cleared.
func TestSoundReadingsClearNothing(t *testing.T) {
	r := New(toy(600, 1), faulttree.DefaultMeter(), toyFaults)
	b := believe(t, r, read(t, "panel.l1-n", "119 V"), read(t, "panel.l2-n", "121 V"), read(t, "panel.n-g", "0.2 V"), read(t, "ohm:plug.n-cord.n@unplugged", "0.1 Ω"))
	tested := map[string]bool{}
	for _, o := range b.Open() {
		tested[o.Fault+"@"+string(o.Place)] = o.Tested
		if o.Test == "" {
			t.Errorf("%s has no test", o.Fault)
		}
	}
	for _, want := range []string{"open-ground@cord", "rod-only@supply"} {
		if done, open := tested[want]; !open || done {
			t.Errorf("%s is open %v and tested %v; nothing so far could have shown it", want, open, done)
		}
	}
	if untested, open := tested["open-neutral@cord"]; open && !untested {
		t.Error("the cord's open neutral counts as untested, although its ohms were read")
	}
	if s := b.Suspects(); !slices.ContainsFunc(s, func(s Suspect) bool { return s.Title == noFaultShown }) {
		t.Error("a sound vehicle is not named as one whose readings would show no fault")
	}
}

// An open neutral explains all readings; a rod that no reading was a test for
// stays open beside it.
func TestUntestedDangerStaysOpenBesideWhatExplainsAll(t *testing.T) {
	r := New(toy(600, 1), faulttree.DefaultMeter(), toyFaults)
	b := believe(t, r, append(openNeutralSeen(t), read(t, "ohm:plug.n-cord.n@unplugged", "OL"))...)
	if !slices.ContainsFunc(b.Open(), func(o Open) bool { return o.Fault == "rod-only" && !o.Tested }) {
		t.Errorf("open are %+v; expected the rod among them", b.Open())
	}
}

func TestSharesSumToOne(t *testing.T) {
	r := New(toy(300, 2), faulttree.DefaultMeter(), toyFaults)
	for n, evidence := range [][]Evidence{nil, openNeutralSeen(t), {read(t, "battery.pos-neg", "11.2 V")}, append(openNeutralSeen(t), read(t, "battery.pos-neg", "11.2 V"))} {
		b := believe(t, r, evidence...)
		sums := map[string]float64{}
		for i, c := range b.Cases() {
			sums[c.System] += b.Shares()[i]
		}
		listed := map[string]float64{}
		for _, s := range b.Suspects() {
			if s.Faults[0] != NoFault {
				listed[s.System] += s.Share
			}
		}
		for _, s := range b.Systems() {
			if sum := sums[s.Name] + s.NoneFits; math.Abs(sum-1) > 1e-9 {
				t.Errorf("%d: %s sums to %v", n, s.Name, sum)
			}
			sound := 0.0
			for i, c := range b.Cases() {
				if c.System == s.Name && len(c.Faults) == 0 {
					sound += b.Shares()[i]
				}
			}
			if sum, ok := listed[s.Name]; ok && math.Abs(sum+sound+s.NoneFits-1) > 1e-9 {
				t.Errorf("%d: the suspects of %s sum to %v", n, s.Name, sum)
			}
			if _, ok := listed[s.Name]; ok != (s.Pieces > 0 || evidence == nil) {
				t.Errorf("%d: %s is listed %v with %d pieces of evidence", n, s.Name, ok, s.Pieces)
			}
		}
	}
}

// Sound is sound in every system: there is one line for it, with the product of
// what the systems say.
func TestSoundIsSoundInEverySystem(t *testing.T) {
	r := New(toy(300, 2), faulttree.DefaultMeter(), toyFaults)
	b := believe(t, r, read(t, "panel.l1-n", "120 V"), read(t, "battery.pos-neg", "12.6 V"))
	product, lines := 1.0, 0
	for _, name := range []string{"mains", "dc"} {
		sum := 0.0
		for i, c := range b.Cases() {
			if c.System == name && len(c.Faults) == 0 {
				sum += b.Shares()[i]
			}
		}
		product *= sum
	}
	for _, s := range b.Suspects() {
		if s.Faults[0] == NoFault {
			lines++
			if math.Abs(s.Share-product) > 1e-9 || s.System != "" {
				t.Errorf("it is sound with %v in %q; expected %v in all", s.Share, s.System, product)
			}
			if _, ok := b.Expected(s, b.pieces[1].column); !ok {
				t.Error("nothing is expected of its battery")
			}
		}
	}
	if lines != 1 {
		t.Errorf("no fault stands %d times", lines)
	}
}

// A quantity that both systems have speaks of the one where it differs from vehicle
// to vehicle: the other is not listed for it. Where it fits nothing there, it does.
func TestAQuantityOfTwoSystemsSpeaksOfOne(t *testing.T) {
	p := toy(300, 2)
	column := make([]float32, len(p.cases))
	random := rand.New(rand.NewPCG(4, 1))
	for i, c := range p.cases {
		column[i] = float32(random.Float64())
		switch {
		case c.System == "mains" && len(c.Faults) > 0 && c.Faults[0].Fault == "open-ground":
			column[i] = float32(20 + 80*random.Float64())
		case c.System == "dc" && len(c.Faults) > 0 && i%60 == 0:
			column[i] = float32(240 + random.Float64())
		}
	}
	p.columns["body-earth"] = column
	r := New(p, faulttree.DefaultMeter(), toyFaults).Assuming(Assumed{NoneFits: 0.01, Wrong: 0.02})
	for volts, want := range map[string][]string{"58 V": {"mains"}, "0.3 V": {"mains"}, "240.5 V": {"dc", "mains"}} {
		var told []string
		b := believe(t, r, read(t, "body-earth", volts))
		for _, s := range b.Systems() {
			if s.Pieces > 0 {
				told = append(told, s.Name)
			}
		}
		if slices.Sort(told); !slices.Equal(told, want) {
			t.Errorf("%s is about %v; expected %v", volts, told, want)
		}
		for _, s := range b.Suspects() {
			if s.System != "" && !slices.Contains(want, s.System) {
				t.Errorf("%s lists %s of %s", volts, s.Title, s.System)
			}
		}
	}
}

// What was seen speaks of no system of which every vehicle shows it alike, so that it
// brings no suspects of that up; where all do in every system, it speaks of each.
func TestWhatIsSeenAlikeSpeaksOfNoSystem(t *testing.T) {
	p := toy(300, 2)
	nobody, alike := make([]float32, len(p.cases)), make([]float32, len(p.cases))
	for i, c := range p.cases {
		nobody[i], alike[i] = 1, 1
		if c.System == "mains" && i%2 == 0 {
			nobody[i] = 0
		}
	}
	p.columns["tingle=nobody"], p.columns["sound=none"] = nobody, alike
	r := New(p, faulttree.DefaultMeter(), toyFaults)
	for seen, want := range map[Seen][]string{{"tingle", "nobody"}: {"mains"}, {"sound", "none"}: {"dc", "mains"}} {
		var about []string
		for _, s := range believe(t, r, Evidence{Seen: &seen}).Systems() {
			if s.Pieces > 0 {
				about = append(about, s.Name)
			}
		}
		if slices.Sort(about); !slices.Equal(about, want) {
			t.Errorf("%v is about %v; expected %v", seen, about, want)
		}
	}
}

// Readings of one system say nothing of the other.
func TestSystemsAreIndependent(t *testing.T) {
	r := New(toy(300, 2), faulttree.DefaultMeter(), toyFaults)
	low := read(t, "battery.pos-neg", "11.2 V")
	alone, both := believe(t, r, openNeutralSeen(t)...), believe(t, r, append(openNeutralSeen(t), low)...)
	for i, c := range alone.Cases() {
		if c.System == "mains" && math.Abs(alone.Shares()[i]-both.Shares()[i]) > 1e-12 {
			t.Fatalf("case %d has %v, and %v once the battery was read", i, alone.Shares()[i], both.Shares()[i])
		}
	}
	if s := shareOf(both, "battery-low", faulttree.DC); s < 0.9 {
		t.Errorf("the battery is low with %v", s)
	}
}

// What was said in whatever order says the same; what was taken back is as if it
// had never been said.
func TestOrderAndTakingBack(t *testing.T) {
	r := New(toy(300, 3), faulttree.DefaultMeter(), toyFaults)
	all := append(openNeutralSeen(t), read(t, "ohm:plug.g-cord.g@unplugged", "0.2 Ω"), read(t, "ohm:plug.n-cord.n@unplugged", "OL"))
	// with nothing wrong no display is frozen, and only such a one knows an order
	never := r.Assuming(Assumed{NoneFits: 0.01})
	want := believe(t, never, all...).Shares()
	random := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		mixed := slices.Clone(all)
		random.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		for i, got := range believe(t, never, mixed...).Shares() {
			if math.Abs(got-want[i]) > 1e-9 {
				t.Fatalf("case %d has %v in one order and %v in another", i, want[i], got)
			}
		}
	}
	before := believe(t, r, all[:4]...)
	believe(t, r, all...)
	if after := believe(t, r, all[:4]...); !reflect.DeepEqual(before.Shares(), after.Shares()) || !reflect.DeepEqual(before.Suspects(), after.Suspects()) {
		t.Error("taking two readings back does not restore the belief")
	}
}

func TestNotPossibleTellsNothing(t *testing.T) {
	r := New(toy(300, 3), faulttree.DefaultMeter(), toyFaults)
	with := append(openNeutralSeen(t), Evidence{Quantity: quantity(t, "ohm:plug.n-cord.n@unplugged"), Reading: faulttree.NotTaken("wet")})
	if a, b := believe(t, r, openNeutralSeen(t)...), believe(t, r, with...); !reflect.DeepEqual(a.Shares(), b.Shares()) {
		t.Error("a reading that was not possible changes shares")
	}
}

// A single reading that is wildly wrong, such as a probe that touched nothing,
// does not rule the truth out, and one marked doubtful weighs less.
func TestOneWrongReadingDoesNotRuleOutTheTruth(t *testing.T) {
	r := New(toy(600, 4), faulttree.DefaultMeter(), toyFaults)
	right := append(openNeutralSeen(t), read(t, "ohm:plug.n-cord.n@unplugged", "OL"))
	for i, text := range []string{"0.0 V", "0.0 V", "0.0 V", "0.0 V", "0.2 Ω"} {
		wrong := slices.Clone(right)
		wrong[i] = read(t, wrong[i].Quantity.ID, text)
		b := believe(t, r, wrong...)
		if !slices.ContainsFunc(b.Suspects()[:3], func(s Suspect) bool { return slices.Contains(s.Faults, "open-neutral") }) {
			t.Errorf("%s read %s: an open neutral is not among the first three", wrong[i].Quantity.ID, text)
		}
		doubted := slices.Clone(wrong)
		doubted[i].Doubtful = true
		at := faulttree.Cord
		if a, d := shareOf(b, "open-neutral", at), shareOf(believe(t, r, doubted...), "open-neutral", at); d < a && i < 4 || d <= a && i == 4 {
			t.Errorf("%s read %s: the cord has %v, and less once it is doubtful, %v", wrong[i].Quantity.ID, text, a, d)
		}
	}
}

func TestNoneFitsWinsWhereNothingFits(t *testing.T) {
	r := New(toy(600, 5), faulttree.DefaultMeter(), toyFaults)
	b := believe(t, r, read(t, "panel.l1-n", "35 V"), read(t, "panel.l2-n", "31 V"), read(t, "panel.n-g", "77 V"), read(t, "panel.l1-l2", "150 V"))
	if first := b.Suspects()[0]; b.NoneFits() < 0.5 || b.NoneFits() < first.Share || first.Likely == MostLikely {
		t.Errorf("none fits has %v, and %v is %v with %v", b.NoneFits(), first.Faults, first.Likely, first.Share)
	}
	if fits := believe(t, r, openNeutralSeen(t)...).NoneFits(); fits > 0.05 {
		t.Errorf("none fits has %v where an open neutral fits", fits)
	}
}

func TestABeliefIsOfOneRound(t *testing.T) {
	r := New(toy(300, 6), faulttree.DefaultMeter(), toyFaults)
	after := []Evidence{read(t, "panel.l1-n", "119 V"), read(t, "panel.n-g", "0.2 V")}
	for i := range after {
		after[i].Round = 1
	}
	b := believe(t, r, append(openNeutralSeen(t), after...)...)
	if b.Round() != 1 || len(b.Evidence()) != 2 {
		t.Fatalf("the belief is of round %d with %d readings", b.Round(), len(b.Evidence()))
	}
	if !reflect.DeepEqual(b.Shares(), believe(t, r, after...).Shares()) {
		t.Error("readings before the repair count after it")
	}
}

func TestMalformedEvidence(t *testing.T) {
	r := New(toy(10, 6), faulttree.DefaultMeter(), toyFaults)
	good := read(t, "panel.l1-n", "119 V")
	both := good
	both.Seen = &Seen{"lamps", "dim"}
	unitless := good
	unitless.Quantity.Unit = 0
	for _, c := range []struct {
		e    Evidence
		says string
	}{{Evidence{}, "evidence 2: it is 0 of"}, {both, "it is 2 of"}, {unitless, "panel.l1-n has no unit"}} {
		if _, err := r.Belief(context.Background(), []Evidence{good, c.e}); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("the error is %v; expected %q", err, c.says)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.Belief(ctx, []Evidence{good}); err == nil {
		t.Error("a belief whose asker has gone comes about")
	}
}

// unrelated is two dozen quantities, and draws of what they read that tell nothing
// of one another.
func unrelated(random *rand.Rand) (ids []string, reads func() map[string]float64) {
	for _, place := range []string{"pedestal", "panel", "plug", "cord"} {
		for _, pair := range []string{"l1-n", "l2-g", "l1-l2", "n-g", "l1-g", "l2-n"} {
			ids = append(ids, place+"."+pair)
		}
	}
	reads = func() map[string]float64 {
		out := map[string]float64{}
		for _, id := range ids {
			out[id] = 90 + 60*random.Float64()
		}
		return out
	}
	return ids, reads
}

// Two faults that read the same, of which few are drawn: which of them fits two dozen
// readings better is chance, and the shares say so. Of 200 vehicles about half have
// the likelier one.
func TestWhatChanceDecidesIsNotSure(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	ids, reads := unrelated(random)
	p := &table{}
	for _, fault := range []string{"one", "other"} {
		for range 12 {
			p.add(Case{System: "mains", Faults: []PlacedFault{{Fault: fault, Place: faulttree.Place(fault)}}, Weight: 1}, reads())
		}
	}
	r := New(p, faulttree.DefaultMeter(), toyFaults).Assuming(Assumed{Wrong: 0.02})
	said, right := 0.0, 0
	const vehicles = 200
	for i := range vehicles {
		var evidence []Evidence
		of := reads()
		for _, id := range ids {
			evidence = append(evidence, read(t, id, fmt.Sprintf("%.1f", of[id])))
		}
		s := believe(t, r, evidence...).Suspects()[0]
		said += s.Share
		if s.Faults[0] == []string{"one", "other"}[i%2] {
			right++
		}
	}
	if said/vehicles > float64(right)/vehicles+0.27 {
		t.Errorf("X the likelier of two is said to be it with %.2f; it is in %.2f", said/vehicles, float64(right)/vehicles)
	}
}

// What no reading shows stays open however much is read, and however few are drawn.
func TestManyReadingsDoNotAddUpToATest(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 1))
	ids, reads := unrelated(random)
	p := &table{}
	for range 40 {
		p.add(Case{System: "mains", Weight: 1}, reads())
		p.add(Case{System: "mains", Faults: []PlacedFault{{Fault: "rod-only", Place: faulttree.Supply}}, Weight: 0.001}, reads())
	}
	r := New(p, faulttree.DefaultMeter(), toyFaults).Assuming(Assumed{Wrong: 0.02})
	lost := 0
	for range 100 {
		var evidence []Evidence
		of := reads()
		for _, id := range ids {
			evidence = append(evidence, read(t, id, fmt.Sprintf("%.1f", of[id])))
		}
		if !slices.ContainsFunc(believe(t, r, evidence...).Open(), func(o Open) bool { return o.Fault == "rod-only" }) {
			lost++
		}
	}
	if lost > 0 {
		t.Errorf("in %d of 100 vehicles a danger is ruled out that no reading shows", lost)
	}
}

// What no reading was a test for is as likely as before, beside a sound vehicle: it
// is not named among what fits.
func TestWhatNothingTestedIsNotAmongWhatFits(t *testing.T) {
	p := &table{}
	for i := range 60 {
		volts := 116 + 8*float64(i)/60
		p.add(Case{Weight: 1}, map[string]float64{"pedestal.l1-n": volts})
		p.add(Case{Faults: []PlacedFault{{Fault: "inside", Place: faulttree.Vehicle}}, Weight: 1}, map[string]float64{"pedestal.l1-n": volts})
		p.add(Case{Faults: []PlacedFault{{Fault: "low", Place: faulttree.Supply}}, Weight: 1}, map[string]float64{"pedestal.l1-n": volts - 20})
	}
	r := New(p, faulttree.DefaultMeter(), toyFaults)
	words := func(typed string) map[string]Likely {
		out := map[string]Likely{}
		for _, s := range believe(t, r, read(t, "pedestal.l1-n", typed)).Suspects() {
			out[s.Faults[0]] = s.Likely
		}
		return out
	}
	if w := words("120 V"); w["inside"] != NotTested || w["low"] != Unlikely || w[NoFault] == NotTested {
		t.Errorf("at 120 V: %v", w)
	}
	if w := words("99 V"); w["low"] != MostLikely || w["inside"] != Unlikely {
		t.Errorf("at 99 V: %v", w)
	}
}

// A danger that reads as a sound vehicle does in one case of two thousand is not ruled
// out by readings that are sound, however seldom it is met.
func TestADangerThatMayReadAsSoundStaysOpen(t *testing.T) {
	p := &table{}
	for i := range 2000 {
		volts := 118.0
		p.add(Case{Weight: 1}, map[string]float64{"panel.l1-n": volts})
		if i > 0 {
			volts = 20 + 0.02*float64(i)
		}
		p.add(Case{Faults: []PlacedFault{{Fault: "open-neutral", Place: faulttree.Supply}}, Weight: 0.01}, map[string]float64{"panel.l1-n": volts})
	}
	b := believe(t, New(p, faulttree.DefaultMeter(), toyFaults).Assuming(sure), read(t, "panel.l1-n", "118 V"))
	open := b.Open()
	if share := shareOf(b, "open-neutral", faulttree.Supply); len(open) != 1 || open[0].Fault != "open-neutral" || share > stillOpen {
		t.Errorf("open are %v, an open neutral with %v; expected it below %v, and open", open, share, stillOpen)
	}
}
