package suspect

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// manyLoads is vehicles with one of several faults, half of which are told by the
// voltage at the panel, and with loads that have nothing to do with any.
func manyLoads(t testing.TB) (p *table, f *faulttree.Forest, volts string, loads []Evidence) {
	volts = "panel.l1-n"
	ids := []string{"ohm:plug.l1-n@unplugged", "ohm:plug.l2-n@unplugged", "ohm:plug.l1-g@unplugged", "ohm:plug.l2-g@unplugged"}
	qs := []faulttree.Quantity{exposed(t, volts, faulttree.AtSupply)}
	for _, id := range ids {
		qs = append(qs, exposed(t, id, faulttree.DeadTest))
		loads = append(loads, read(t, id, "46.6 Ω"))
	}
	f = handbook(qs, append([]string{volts}, ids...))
	random := rand.New(rand.NewPCG(5, 6))
	p = &table{}
	for k := range 12 {
		for range 60 {
			reads := map[string]float64{volts: 40 + 75*float64(k%2) + 10*random.Float64()}
			for _, id := range ids {
				reads[id] = 10 * math.Pow(100, random.Float64())
			}
			p.add(Case{Rig: "coach", System: "mains", Weight: 1, Faults: []PlacedFault{{Fault: fmt.Sprint("fault-", k), Place: []faulttree.Place{faulttree.Cord, faulttree.Vehicle}[k%2]}}}, reads)
		}
	}
	return p, f, volts, loads
}

// However many readings fit a handful of drawn vehicles alone, what is still to be
// read tells what it told before: loads have nothing to do with it.
func TestReadingsThatFewFitLeaveTheNextOneTelling(t *testing.T) {
	p, f, volts, loads := manyLoads(t)
	b := believe(t, New(p, faulttree.DefaultMeter(), told).Assuming(sure), loads...)
	if size := b.size(0, b.Shares()).cases(); size >= few {
		t.Fatalf("the readings leave as many as %.0f cases", size)
	}
	wantNext(t, must.Have(b.Next(context.Background(), NewRules(f, faulttree.Qualified), Reader{}))(t), volts)
	b = believe(t, New(p, faulttree.DefaultMeter(), told).Assuming(sure), loads[1:]...)
	if got := must.Have(b.Telling(context.Background(), NewRules(f, faulttree.Qualified), f.Quantities[volts]))(t); len(got) != 1 {
		t.Errorf("%v tells enough; want the volts", got)
	}
	b = believe(t, New(p, faulttree.DefaultMeter(), told).Assuming(sure))
	if got := must.Have(b.Telling(context.Background(), NewRules(f, faulttree.Qualified), loads[0].Quantity, f.Quantities[volts]))(t); len(got) != 1 || got[0].ID != volts {
		t.Errorf("%v tell enough; want the volts alone", got)
	}
}

// However few fit, a reading that alone carries a suspect is read once more, and the
// loads beside it are not.
func TestWhatFewFitIsReadOnceMore(t *testing.T) {
	neutral, loads := "ohm:plug.n-cord.n@unplugged", []string{"ohm:plug.l1-n@unplugged", "ohm:plug.l2-n@unplugged", "ohm:plug.l1-g@unplugged", "ohm:plug.l2-g@unplugged"}
	qs := []faulttree.Quantity{exposed(t, neutral, faulttree.DeadTest)}
	evidence := []Evidence{read(t, neutral, "3.0 ohm")}
	for _, id := range loads {
		qs, evidence = append(qs, exposed(t, id, faulttree.DeadTest)), append(evidence, read(t, id, "46.6 ohm"))
	}
	random, p := rand.New(rand.NewPCG(5, 6)), &table{}
	for n := range 120 {
		one, reads := Case{Rig: "coach", System: "mains", Weight: 10}, map[string]float64{neutral: 0.1}
		if n >= 60 {
			one.Weight, one.Faults = 1, []PlacedFault{{Fault: "poor-neutral", Place: faulttree.Cord}}
			reads[neutral] = 0.5 * math.Pow(20, random.Float64())
			one.Faults[0].Severity = reads[neutral]
		}
		for _, id := range loads {
			reads[id] = 10 * math.Pow(100, random.Float64())
		}
		p.add(one, reads)
	}
	b := believe(t, New(p, faulttree.DefaultMeter(), told), evidence...)
	if size := b.size(0, b.Shares()).cases(); size >= few {
		t.Fatalf("the readings leave as many as %.0f cases", size)
	}
	got := must.Have(b.Next(context.Background(), NewRules(handbook(qs, append([]string{neutral}, loads...)), faulttree.Qualified), Reader{}))(t)
	wantNext(t, got, neutral)
	if !got[0].Again {
		t.Errorf("it is %+v", got[0])
	}
}

// A reading that parts many suspects roughly, half of them between 40 and 100 V and half
// between 60 and 120 V, tells a third of a bit. That is worth taking however few of the
// drawn vehicles fit the loads.
func TestAReadingThatPartsManySuspectsIsWorthTaking(t *testing.T) {
	p, f, volts, loads := manyLoads(t)
	random := rand.New(rand.NewPCG(7, 8))
	p.columns[volts] = nil
	for i := range p.cases {
		p.columns[volts] = append(p.columns[volts], float32(40+20*float64(i/60%2)+60*random.Float64()))
	}
	each := func(fault string, place faulttree.Place) Described {
		d := told(fault, place)
		d.RepairBy = fault
		return d
	}
	b := believe(t, New(p, faulttree.DefaultMeter(), each).Assuming(sure), loads...)
	wantNext(t, must.Have(b.Next(context.Background(), NewRules(f, faulttree.Qualified), Reader{}))(t), volts)
}

// Sharing more evenly what a cell has takes nothing from it, and changes nothing where
// enough cases fit.
func TestEvenedSharesAreThoseOfTheCells(t *testing.T) {
	p, _, _, loads := manyLoads(t)
	for n := range len(loads) + 1 {
		b := believe(t, New(p, faulttree.DefaultMeter(), told).Assuming(sure), loads[:n]...)
		out := b.evened[0]()
		for _, cell := range b.pool.cells {
			was, is := 0.0, 0.0
			for _, i := range cell.cases {
				was, is = was+b.share[i], is+out[i]
			}
			if math.Abs(was-is) > 1e-9 {
				t.Errorf("%d readings: a cell has %v, and evened %v", n, was, is)
			}
		}
		if size := b.size(0, out).cases(); size < few*0.95 {
			t.Errorf("%d readings: evened they are %.0f cases", n, size)
		}
		if n == 0 && &out[0] != &b.share[0] {
			t.Error("without a reading something is evened")
		}
	}
}

// Evened likelihoods are the likelihoods to one power for all cases, by Neal's formula
// for tempering taken at its word, and that to the next 256th is too high.
func TestEvenedLikelihoodsAreToOnePower(t *testing.T) {
	p, _, _, loads := manyLoads(t)
	b := believe(t, New(p, faulttree.DefaultMeter(), told).Assuming(sure), loads...)
	out := b.evened[0]()
	temper := func(power float64) (all []float64, off float64) {
		all = make([]float64, len(out))
		for _, cell := range b.pool.cells {
			whole, sum := 0.0, 0.0
			for _, i := range cell.cases {
				all[i] = b.pool.prior[i] * math.Pow(b.share[i]/b.pool.prior[i], power)
				whole, sum = whole+b.share[i], sum+all[i]
			}
			for _, i := range cell.cases {
				all[i] *= whole / sum
				off = max(off, math.Abs(all[i]-out[i]))
			}
		}
		return all, off
	}
	for n := range 256 {
		if _, off := temper(float64(n) / 256); off > 1e-12 {
			continue
		}
		if next, _ := temper(float64(n+1) / 256); n == 0 || b.size(0, next).cases() >= few {
			t.Errorf("the power is %d/256", n)
		}
		return
	}
	t.Error("no power gives the evened shares")
}

// What cannot be read as things are holds nothing up that can: a dead test of a plug
// that may not be pulled.
func TestWhatCannotBeReadHoldsNothingUp(t *testing.T) {
	dead, live := "ohm:plug.l1-g@unplugged", "pedestal.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, dead, faulttree.DeadTest), exposed(t, live, faulttree.AtSupply)}, []string{dead}, []string{live})
	p := twoFaults("a", "b", map[string][3]float64{dead: {20, math.Inf(1), math.Inf(1)}, live: {0, 60, 118}})
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}), dead)
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{Can: func(q faulttree.Quantity) bool { return q.ID != dead }}), live)
}

// A fault that stays within one branch forbids loads, and is found by reading inside
// with the loads off.
func TestAFaultOfOneBranchIsReadInside(t *testing.T) {
	loaded, inside := "panel.l1-n@loaded", "panel.l1-n"
	f := handbook([]faulttree.Quantity{exposed(t, loaded, faulttree.InsideBody), exposed(t, inside, faulttree.InsideBody)}, []string{loaded}, []string{inside})
	reads := map[string][3]float64{loaded: {0, 60, 118}, inside: {0, 60, 118}}
	wantNext(t, nexts(t, twoFaults("branch-neutral", "b", reads), f, faulttree.Qualified, Reader{}), inside)
	wantNext(t, nexts(t, twoFaults("open-neutral", "b", reads), f, faulttree.Qualified, Reader{}))
}

// A danger too seldom met to count for what is to be done is looked for all the same
// where a dead test shows it, before the readings end; no live contact is made for its
// sake, and what is settled is left at that.
func TestADangerThatNothingTestedIsLookedFor(t *testing.T) {
	told, dead, live := "panel.l1-n", "ohm:plug.n-cord.n@unplugged", "pedestal.l1-g"
	f := handbook([]faulttree.Quantity{exposed(t, told, faulttree.AtSupply), exposed(t, dead, faulttree.DeadTest), exposed(t, live, faulttree.AtSupply)}, []string{told}, []string{dead}, []string{live})
	of := func(loose float64) *table {
		sound := map[string]float64{told: 120, dead: 0.1, live: 120}
		return known(kindOf{1, nil, sound}, kindOf{loose, []string{"poor-contact@vehicle"}, sound},
			kindOf{0.002, []string{"open-neutral@cord"}, map[string]float64{told: 120, dead: math.Inf(1), live: 120}},
			kindOf{0.002, []string{"open-ground@cord"}, map[string]float64{told: 120, dead: 0.1, live: 0}})
	}
	wantNext(t, nexts(t, of(1), f, faulttree.Qualified, Reader{}, read(t, told, "120 V")), dead)
	wantNext(t, nexts(t, of(1), f, faulttree.Qualified, Reader{}, read(t, told, "120 V"), read(t, dead, "0.1 Ω")))
	wantNext(t, nexts(t, of(0), f, faulttree.Qualified, Reader{}, read(t, told, "120 V")))
}
