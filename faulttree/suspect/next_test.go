package suspect

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// exposed is a quantity of the tables with how it is taken.
func exposed(t testing.TB, id string, e faulttree.Exposure) faulttree.Quantity {
	q := quantity(t, id)
	q.Exposure, q.OffVehicle = e, strings.HasPrefix(id, "pedestal.") || strings.HasPrefix(id, "plug.")
	q.Title = "reading " + id
	if strings.HasPrefix(id, "amp:") {
		q.Unit = faulttree.AmpsAC
	}
	return q
}

// handbook is trees of measure steps, one after the other, over some quantities.
func handbook(qs []faulttree.Quantity, chains ...[]string) *faulttree.Forest {
	f := &faulttree.Forest{Quantities: faulttree.Quantities{}, Trees: map[string]*faulttree.Tree{}, Weights: faulttree.DefaultWeights()}
	for _, q := range qs {
		f.Quantities[q.ID] = q
	}
	for n, chain := range chains {
		tree := &faulttree.Tree{ID: fmt.Sprint("tree-", n), Start: chain[0], Danger: map[string]string{}, Limits: map[string]faulttree.Limit{}}
		for i, id := range chain {
			s := &faulttree.Step{Tree: tree.ID, ID: id, Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "x", Quantity: f.Quantities[id]}}}
			if i+1 < len(chain) {
				s.Branches = []faulttree.Branch{{Exit: faulttree.Exit{Text: chain[i+1], To: faulttree.Ref{Tree: tree.ID, Step: chain[i+1]}}}}
			}
			tree.Steps = append(tree.Steps, s)
		}
		tree.Index()
		f.Trees[tree.ID] = tree
	}
	return f
}

// limited gives a quantity a danger limit.
func limited(f *faulttree.Forest, id string, volts int) {
	for _, t := range f.Trees {
		t.Danger[id], t.Limits[id] = id, faulttree.Limit{Name: id, Value: faulttree.Amount(volts) * faulttree.One, Unit: faulttree.VoltsAC}
		return
	}
}

// known is a population in which each kind of vehicle reads the same always.
func known(kinds ...kindOf) *table {
	p := &table{}
	for _, k := range kinds {
		for range 100 {
			c := Case{Rig: "coach", System: "mains", Weight: k.weight}
			for _, f := range k.faults {
				fault, place, _ := strings.Cut(f, "@")
				c.Faults = append(c.Faults, PlacedFault{Fault: fault, Place: faulttree.Place(place)})
			}
			p.add(c, k.reads)
		}
	}
	return p
}

type kindOf struct {
	weight float64
	faults []string // fault@place
	reads  map[string]float64
}

// told describes toy faults: those whose id says neutral forbid loads, and one says that it
// stays within a branch.
func told(fault string, place faulttree.Place) Described {
	d := toyFaults(fault, place)
	d.NoLoads, d.OneBranch = strings.Contains(fault, "neutral"), strings.Contains(fault, "branch")
	return d
}

// nexts is what is proposed to a role.
func nexts(t testing.TB, p Population, f *faulttree.Forest, role faulttree.Role, reader Reader, evidence ...Evidence) []Next {
	t.Helper()
	b := believe(t, New(p, faulttree.DefaultMeter(), told), evidence...)
	return must.Have(b.Next(context.Background(), NewRules(f, role), reader))(t)
}

// wantNext checks what is proposed, the best first.
func wantNext(t *testing.T, got []Next, want ...string) {
	t.Helper()
	var ids []string
	for _, n := range got {
		ids = append(ids, n.ID())
	}
	if !slices.Equal(ids, want) {
		t.Errorf("proposed is %v; want %v", ids, want)
	}
}

func TestTheReasonNamesTheTwoThatItTellsApart(t *testing.T) {
	id := "cord.n-g"
	f := handbook([]faulttree.Quantity{exposed(t, id, faulttree.AtSupply)}, []string{id})
	p := known(
		kindOf{3, []string{"open-ground@cord"}, map[string]float64{id: 118}},
		kindOf{3, []string{"poor-contact@vehicle"}, map[string]float64{id: 0.23}},
		kindOf{1, nil, map[string]float64{id: 0.26}})
	got := nexts(t, p, f, faulttree.Owner, Reader{})
	wantNext(t, got, id)
	if why := got[0].Why(); why != "tells “open-ground” (cord) from “poor-contact” (vehicle): 118 V against 0.2 V" {
		t.Errorf("why: %s", why)
	}
	if h := entropy(3.0/7, 4.0/7); math.Abs(got[0].Bits-h) > 0.01 || math.Abs(got[0].Cost-3) > 1e-9 {
		t.Errorf("it tells %v bits for %v; want %v for 3", got[0].Bits, got[0].Cost, h)
	}
}

// gone is a table of vehicles of which somebody knows what they read before.
type gone struct{ *table }

func (p gone) Sound() Population {
	before := &table{cases: p.cases, columns: map[string][]float32{}}
	for key := range p.columns {
		before.columns[key] = p.columns["before "+key]
	}
	return before
}

// What a fault leaves alone cannot tell it, whatever load the few drawn vehicles that have
// it happen to have: an element by its resistance, power = voltage² / resistance, is 14.4 Ω
// at 1000 W and 28.8 Ω at 500 W. Nor can what another fault of the same repair shows.
func TestTheReasonNamesNoFaultThatLeavesTheReadingAlone(t *testing.T) {
	load := "ohm:plug.l1-n@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, load, faulttree.DeadTest)}, []string{load})
	p := known(
		kindOf{5, []string{"poor-contact@cord"}, map[string]float64{load: 14.4, "before " + load: 14.4}},
		kindOf{4, []string{"rod-only@supply"}, map[string]float64{load: 28.8, "before " + load: 28.8}},
		kindOf{2, []string{"body-bond@vehicle"}, map[string]float64{load: 14.4, "before " + load: 14.4}},
		kindOf{1, []string{"branch-open@vehicle"}, map[string]float64{load: math.Inf(1), "before " + load: 14.4}})
	for _, c := range []struct {
		p    Population
		want string
	}{
		{p, "tells “poor-contact” (cord) from “rod-only” (supply): 14.4 Ω against 28.8 Ω"}, // nobody knows what they read before
		{gone{p}, "tells “poor-contact” (cord) from “branch-open” (vehicle): 14.4 Ω against OL"},
	} {
		got := nexts(t, c.p, f, faulttree.Owner, Reader{})
		wantNext(t, got, load)
		if why := got[0].Why(); why != c.want {
			t.Errorf("why: %s; want it %s", why, c.want)
		}
	}
	alone := known(
		kindOf{1, []string{"poor-contact@cord"}, map[string]float64{load: 14.4, "before " + load: 14.4}},
		kindOf{1, []string{"rod-only@supply"}, map[string]float64{load: 28.8, "before " + load: 28.8}})
	if why := nexts(t, gone{alone}, f, faulttree.Owner, Reader{})[0].Why(); why != "tells a little of what is to be done" {
		t.Errorf("of no fault's making, why: %s", why)
	}
}

// entropy is that of two shares, in bits.
func entropy(p, q float64) float64 { return -p*math.Log2(p) - q*math.Log2(q) }

// Two faults that one person repairs in one place are not told apart; the same two
// in two places are.
func TestWhatOnePersonRepairsInOnePlaceIsNotSplit(t *testing.T) {
	id := "pedestal.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, id, faulttree.AtSupply)}, []string{id})
	for place, want := range map[string][]string{"supply": nil, "cord": {id}} {
		p := known(
			kindOf{1, []string{"low-supply@supply"}, map[string]float64{id: 100}},
			kindOf{1, []string{"poor-hot@" + place}, map[string]float64{id: 118}})
		wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), want...)
	}
}

// twoFaults is vehicles with one of two faults in two places, or sound, and what
// each reads.
func twoFaults(fault, other string, reads map[string][3]float64) *table {
	of := func(i int) map[string]float64 {
		out := map[string]float64{}
		for id, r := range reads {
			out[id] = r[i]
		}
		return out
	}
	return known(kindOf{1, []string{fault + "@cord"}, of(0)}, kindOf{1, []string{other + "@vehicle"}, of(1)}, kindOf{1, nil, of(2)})
}

func TestAnOwnerIsAskedOnlyForWhatATreeAsks(t *testing.T) {
	asked, unasked := "pedestal.l1-n", "panel.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, asked, faulttree.AtSupply), exposed(t, unasked, faulttree.InsideBody)}, []string{asked})
	p := twoFaults("a", "b", map[string][3]float64{asked: {0, 60, 118}, unasked: {0, 60, 118}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), asked)
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), asked, unasked)
	f.Trees["tree-0"].Step(asked).For = faulttree.Qualified
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}))
}

func TestDeadBeforeLive(t *testing.T) {
	dead, live := "ohm:plug.n-cord.n@unplugged", "pedestal.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, dead, faulttree.DeadTest), exposed(t, live, faulttree.AtSupply)}, []string{dead}, []string{live})
	// the dead test tells one of three, the live one tells all
	p := twoFaults("a", "b", map[string][3]float64{dead: {math.Inf(1), 0.1, 0.1}, live: {0, 60, 118}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), dead)
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, dead, "0.1 ohm")), live)
	// what is only looked at holds no reading up
	f.Observations = []faulttree.Observation{{ID: "lamps", Choices: []faulttree.Sight{{ID: "on", Text: "on"}, {ID: "off", Text: "off"}}}}
	for id, lamps := range map[string][3]float64{"lamps=on": {0, 1, 1}, "lamps=off": {1, 0, 0}} {
		p.columns[id] = twoFaults("a", "b", map[string][3]float64{id: lamps}).columns[id]
	}
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), dead, "lamps")
	p = twoFaults("a", "b", map[string][3]float64{dead: {0.1, 0.1, 0.1}, live: {0, 60, 118}, "lamps=on": {0, 1, 1}, "lamps=off": {1, 0, 0}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), "lamps", live)
	f.Observations = nil
	// the dead test tells nothing
	p = twoFaults("a", "b", map[string][3]float64{dead: {0.1, 0.1, 0.1}, live: {0, 60, 118}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), live)
}

// After a reading over a danger limit an owner is asked for nothing live, and
// nobody for anything live on the vehicle.
func TestAfterAStop(t *testing.T) {
	dead, supply, body := "ohm:plug.n-cord.n@unplugged", "pedestal.l1-n", "body-earth"
	f := handbook([]faulttree.Quantity{exposed(t, dead, faulttree.DeadTest), exposed(t, supply, faulttree.AtSupply), exposed(t, body, faulttree.AtBody), exposed(t, "panel.n-g", faulttree.InsideBody)},
		[]string{dead}, []string{supply}, []string{body}, []string{"panel.n-g"})
	limited(f, body, 30)
	p := twoFaults("a", "b", map[string][3]float64{dead: {0.1, 0.1, 0.1}, supply: {0, 60, 118}, body: {60, 58, 50}, "panel.n-g": {0, 30, 60}})
	high := read(t, body, "58 V")
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, body, "2 V")), supply, "panel.n-g")
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, high))
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}, high), supply)
	p = twoFaults("a", "b", map[string][3]float64{dead: {math.Inf(1), 0.1, 0.1}, supply: {0, 60, 118}, body: {60, 58, 50}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, high), dead)
	// within the meter's error of the limit counts as over it
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, body, "29.8 V")), dead)
}

// While an open neutral is not unlikely no load is switched on, and nothing live
// is touched inside.
func TestNoLoadsWhileTheNeutralIsInDoubt(t *testing.T) {
	loaded, inside, supply := "pedestal.l1-n@loaded", "panel.l1-n", "pedestal.l2-n"
	f := handbook([]faulttree.Quantity{exposed(t, loaded, faulttree.AtSupply), exposed(t, inside, faulttree.InsideBody), exposed(t, supply, faulttree.AtSupply)}, []string{loaded}, []string{inside}, []string{supply})
	reads := map[string][3]float64{loaded: {0, 60, 118}, inside: {0, 60, 118}, supply: {0, 60, 118}}
	wantNext(t, nexts(t, twoFaults("a", "b", reads), f, faulttree.Qualified, Reader{}), loaded, supply, inside)
	p := twoFaults("open-neutral", "b", reads)
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), supply)
	for i := range p.cases { // unlikely: less than one in twenty
		if i < 100 {
			p.cases[i].Weight = 0.09
		}
	}
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), loaded, supply, inside)
	for i := range p.cases {
		if i < 100 {
			p.cases[i].Weight = 0.11
		}
	}
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), supply)
}

// Pins are read in volts before ohms; ohms are not proposed where they were not
// dead, or could not be read.
func TestPinsInVoltsBeforeOhms(t *testing.T) {
	volts, ohms, other := "plug.l1-n@unplugged", "ohm:plug.l1-n@unplugged", "ohm:plug.l1-g@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, volts, faulttree.DeadTest), exposed(t, ohms, faulttree.DeadTest), exposed(t, other, faulttree.DeadTest)}, []string{volts, ohms})
	limited(f, volts, 5)
	p := twoFaults("a", "b", map[string][3]float64{volts: {0, 0, 0}, ohms: {20, math.Inf(1), 300}, other: {20, math.Inf(1), math.Inf(1)}})
	got := nexts(t, p, f, faulttree.Owner, Reader{})
	wantNext(t, got, volts)
	if n := got[0]; n.For == nil || n.For.ID != ohms || math.Abs(n.Cost-2) > 1e-9 || !strings.HasPrefix(n.Why(), "comes before “reading "+ohms+"”, which tells “") {
		t.Errorf("it is proposed for %v at a cost of %v: %s", n.For, n.Cost, n.Why())
	}
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, volts, "0.0 V")), ohms)
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, volts, "58 V")))
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, volts, "58 V"), read(t, volts, "0.0 V")))
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, Evidence{Quantity: f.Quantities[volts], Reading: faulttree.NotTaken("covered")}))
	// a quantity that no tree asks is gated by the volts of its plug
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), volts)
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}, read(t, volts, "0.0 V")), ohms, other)
}

// Where trees read no volts on a plug, the same pair is read in volts first.
func TestTheSamePairInVoltsBeforeOhms(t *testing.T) {
	volts, ohms := "cord.l1-g@unplugged", "ohm:cord.l1-g@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, volts, faulttree.DeadTest), exposed(t, ohms, faulttree.DeadTest), exposed(t, "pedestal.l1-n", faulttree.AtSupply)}, []string{"pedestal.l1-n"})
	p := twoFaults("a", "b", map[string][3]float64{volts: {0, 0, 0}, ohms: {20, math.Inf(1), 300}})
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), volts)
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}, read(t, volts, "0.0 V")), ohms)
}

// What lies within what the model knows of a value is not told apart, however fine
// the meter.
func TestNoFinerThanTheModel(t *testing.T) {
	id := "ohm:plug.n-cord.n@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, id, faulttree.DeadTest)}, []string{id})
	for _, c := range []struct {
		one, other float64
		apart      bool
	}{{0.01, 0.03, false}, {0.1, 1.2, true}, {52, 53, false}, {52, 60, true}, {20e6, 21e6, false}, {2e6, 20e6, true}, {20e6, math.Inf(1), true}} {
		p := twoFaults("a", "b", map[string][3]float64{id: {c.one, c.other, c.one}})
		if got := len(nexts(t, p, f, faulttree.Owner, Reader{})) > 0; got != c.apart {
			t.Errorf("%v Ω and %v Ω are told apart: %v", c.one, c.other, got)
		}
	}
	s := scales[faulttree.Ohms]
	for x, last := 0.001, -1.0; x < 1e9; x *= 1.1 { // ever more, without a leap
		steps := s.steps(x, true)
		if steps < last || steps > last+4 && last >= 0 {
			t.Fatalf("%v Ω is %v steps from 0, after %v", x, steps, last)
		}
		last = steps
	}
}

// Metal that is touched on the way is read before a live contact, and the spike is
// tried before the body is read to it.
func TestWhatIsTouchedAndTheSpikeComeFirst(t *testing.T) {
	cover, spike, hot, body, more := "pedestal.g-earth", "pedestal.l1-earth", "pedestal.l1-n", "body-earth", "pedestal.l2-n"
	var qs []faulttree.Quantity
	for _, id := range []string{cover, spike, hot, more} {
		qs = append(qs, exposed(t, id, faulttree.AtSupply))
	}
	qs[1].Proves = faulttree.ProvesSpike
	f := handbook(append(qs, exposed(t, body, faulttree.AtBody)), []string{cover, spike, hot}, []string{body})
	limited(f, cover, 30)
	f.Touch = faulttree.Touch{Point: "body", From: 30 * faulttree.One}
	p := twoFaults("a", "b", map[string][3]float64{cover: {0, 0, 0}, spike: {118, 118, 118}, hot: {0, 60, 118}, body: {0, 3, 20}, more: {0, 60, 118}})
	want := func(role faulttree.Role, first, sake string, evidence ...Evidence) {
		t.Helper()
		for _, n := range nexts(t, p, f, role, Reader{}, evidence...) {
			if n.ID() == first && (n.For == nil && sake == "" || n.For != nil && n.For.ID == sake) {
				return
			}
		}
		t.Errorf("%s for the sake of %q is not proposed", first, sake)
	}
	none := func(role faulttree.Role, ids []string, evidence ...Evidence) {
		t.Helper()
		for _, n := range nexts(t, p, f, role, Reader{}, evidence...) {
			if slices.Contains(ids, n.ID()) {
				t.Errorf("%s is proposed", n.ID())
			}
		}
	}
	none(faulttree.Owner, []string{hot, body})
	none(faulttree.Qualified, []string{hot, body, more})
	want(faulttree.Owner, cover, hot)
	coverRead, spikeRead := read(t, cover, "0.1 V"), read(t, spike, "118 V")
	none(faulttree.Owner, []string{body}, coverRead)
	want(faulttree.Owner, spike, body, coverRead)
	want(faulttree.Owner, hot, "", coverRead)
	want(faulttree.Qualified, more, "", coverRead)
	want(faulttree.Owner, body, "", coverRead, spikeRead)
	// there may be no metal to touch; a spike that could not be tried is another matter
	noCover := Evidence{Quantity: f.Quantities[cover], Reading: faulttree.NotTaken("plastic")}
	noSpike := Evidence{Quantity: f.Quantities[spike], Reading: faulttree.NotTaken("paved")}
	want(faulttree.Owner, hot, "", noCover)
	none(faulttree.Owner, []string{body}, coverRead, noSpike)
	none(faulttree.Owner, []string{body}, coverRead, read(t, spike, "3 V")) // a spike in dry soil proves nothing
	want(faulttree.Owner, body, "", coverRead, read(t, spike, "3 V"), spikeRead)
}

func TestToolsFactsAndWhatIsRead(t *testing.T) {
	lowz, plain := "pedestal.l1-n@lowz", "pedestal.l1-n"
	clamp := faulttree.Quantity{ID: "amp:panel.n", Unit: faulttree.AmpsAC, Red: "panel.n", Exposure: faulttree.AtSupply}
	second := exposed(t, "pedestal.l2-n", faulttree.AtSupply)
	second.Needs = faulttree.Needs{"service": {"50a"}}
	f := handbook([]faulttree.Quantity{exposed(t, lowz, faulttree.AtSupply), exposed(t, plain, faulttree.AtSupply), clamp, second}, []string{lowz}, []string{plain}, []string{clamp.ID}, []string{second.ID})
	reads := [3]float64{0, 60, 118}
	p := twoFaults("a", "b", map[string][3]float64{lowz: {0, 30, 118}, plain: reads, clamp.ID: {0, 5, 20}, second.ID: reads})
	fact := func(choice string) Reader { return Reader{Known: func(string) string { return choice }} }
	wantNext(t, nexts(t, p, f, faulttree.Owner, fact("30a")), plain)
	wantNext(t, nexts(t, p, f, faulttree.Owner, fact("50a")), plain, second.ID)
	with := fact("30a")
	with.Tools = Clamp | LowImpedance
	wantNext(t, nexts(t, p, f, faulttree.Owner, with), clamp.ID, plain, lowz)
	with.Tools = ClampDC // reads alternating current too
	wantNext(t, nexts(t, p, f, faulttree.Owner, with), clamp.ID, plain)
	f.Quantities[clamp.ID] = faulttree.Quantity{ID: "amp:panel.n", Unit: faulttree.AmpsDC, Red: "panel.n", Exposure: faulttree.AtSupply}
	wantNext(t, nexts(t, p, f, faulttree.Owner, with), clamp.ID, plain)
	with.Tools = Clamp
	wantNext(t, nexts(t, p, f, faulttree.Owner, with), plain)
	with.Tools = LowImpedance
	wantNext(t, nexts(t, p, f, faulttree.Owner, with, read(t, plain, "90 V")), lowz)
}

// What shows in every vehicle what something that was read shows tells nothing more,
// however many vehicles that are not near to that reading stand in for too few that are.
func TestWhatAnotherReadingForesees(t *testing.T) {
	blade, pin, cord := "ohm:plug.n-body@unplugged", "ohm:plug.n-g@unplugged", "ohm:plug.n-cord.n@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, blade, faulttree.DeadTest), exposed(t, pin, faulttree.DeadTest), exposed(t, cord, faulttree.DeadTest)}, []string{blade}, []string{pin}, []string{cord})
	reads := [3]float64{1, 30, 300}
	p := twoFaults("a", "b", map[string][3]float64{blade: reads, pin: reads, cord: reads})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}), blade, cord, pin)
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, blade, "100 Ω")))
	p = twoFaults("a", "b", map[string][3]float64{blade: reads, pin: reads, cord: {1, 300, 30}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, blade, "100 Ω")), cord)
}

// What is seen and what can be tried is proposed as readings are.
func TestObservationsAndInterventions(t *testing.T) {
	live := "pedestal.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, live, faulttree.AtSupply)}, []string{live})
	f.Observations = []faulttree.Observation{{ID: "lamps", Choices: []faulttree.Sight{{ID: "bright", Text: "some bright, some dim"}, {ID: "normal", Text: "as ever"}}}}
	f.Interventions = []faulttree.Intervention{{ID: "cord", Exposure: faulttree.AtSupply, Effort: 1, Offer: []string{"tree-0"}}, {ID: "outlet", Exposure: faulttree.DeadTest, Effort: 3, Offer: []string{"tree-0"}}}
	limited(f, live, 200)
	p := twoFaults("a", "b", map[string][3]float64{
		live: {118, 118, 118}, "lamps=bright": {0.95, 0.05, 0.05}, "lamps=normal": {0.05, 0.95, 0.95},
		"cord/tree-0": {1, 0, math.NaN()}, "outlet/tree-0": {1, 0, math.NaN()}})
	came := Reader{Tree: "tree-0"}
	got := nexts(t, p, f, faulttree.Owner, came)
	wantNext(t, got, "lamps", "outlet")
	if got[0].Observation == nil || got[1].Intervention == nil {
		t.Fatalf("proposed is %+v", got)
	}
	if why := got[0].Why(); !strings.Contains(why, ": “some bright, some dim” against “as ever”") {
		t.Errorf("why: %s", why)
	}
	if why := got[1].Why(); why != "tells “a” (cord) from “b” (vehicle): gone against still there" {
		t.Errorf("why: %s", why)
	}
	seen, tried := Evidence{Seen: &Seen{"lamps", "normal"}}, Evidence{Tried: &Tried{"outlet", "tree-0", false}}
	wantNext(t, nexts(t, p, f, faulttree.Owner, came, seen), "outlet")
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, seen))                               // came with no complaint
	wantNext(t, nexts(t, p, f, faulttree.Owner, came, seen, read(t, live, "240 V")), "outlet") // nothing is energised after a STOP
	f.Interventions = f.Interventions[:1]
	wantNext(t, nexts(t, p, f, faulttree.Owner, came, seen), "cord")
	wantNext(t, nexts(t, p, f, faulttree.Owner, came, seen, tried)) // the same was told already
	wantNext(t, nexts(t, p, f, faulttree.Owner, came, seen, read(t, live, "240 V")))
	p = twoFaults("open-neutral", "b", map[string][3]float64{"cord/tree-0": {1, 0, math.NaN()}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, came)) // nor while the neutral is in doubt
}

// What a rig does not have tells nothing about which rig it is.
func TestWhatARigDoesNotHaveTellsNothing(t *testing.T) {
	id := "pedestal.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, id, faulttree.AtSupply)}, []string{id})
	p := twoFaults("a", "b", map[string][3]float64{id: {118, math.NaN(), 118}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}))
}

// The systems are chosen for apart: what is read of the battery tells nothing of
// the mains, and what is known of the mains does not hold it up.
func TestEachSystemByItself(t *testing.T) {
	p := toy(200, 5)
	f := handbook([]faulttree.Quantity{exposed(t, "battery.pos-neg", faulttree.DeadTest), exposed(t, "ohm:plug.n-cord.n@unplugged", faulttree.DeadTest), exposed(t, "panel.l1-n", faulttree.InsideBody)},
		[]string{"battery.pos-neg"}, []string{"ohm:plug.n-cord.n@unplugged"}, []string{"panel.l1-n"})
	got := nexts(t, p, f, faulttree.Owner, Reader{})
	wantNext(t, got, "battery.pos-neg", "ohm:plug.n-cord.n@unplugged")
	if got[0].System != "dc" || got[1].System != "mains" {
		t.Errorf("the systems are %s, %s", got[0].System, got[1].System)
	}
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, "ohm:plug.n-cord.n@unplugged", "0.1 ohm")))
}

// BenchmarkNext is the next reading among 40 quantities and 60 faults in 20,000
// vehicles; beside it, to compare machines, as many logarithms as cases.
func BenchmarkNext(b *testing.B) {
	r, evidence := manyCases(b)
	var qs []faulttree.Quantity
	var chains [][]string
	for _, e := range evidence {
		q := e.Quantity
		q.Exposure = faulttree.DeadTest
		qs, chains = append(qs, q), append(chains, []string{q.ID})
	}
	rules := NewRules(handbook(qs, chains...), faulttree.Owner)
	belief := believe(b, r)
	b.Run("next", func(b *testing.B) {
		for b.Loop() {
			must.Have(belief.Next(context.Background(), rules, Reader{}))(b)
		}
	})
	b.Run("logarithms", func(b *testing.B) {
		for b.Loop() {
			sum := 0.0
			for i := range 1_000_000 {
				sum += math.Log(float64(i + 1))
			}
		}
	})
}
