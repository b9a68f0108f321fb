package content_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// What a practitioner's sheet of a pedestal ends at in the walk, readings by themselves
// say as well, in whatever order they were taken: a supply that ends at DANGER is not
// plugged into, and one that ends milder may be. Those of which the meter is in doubt are
// left out of it.
func TestWhichReadingsForbidThePlug(t *testing.T) {
	lib := shipped()
	for _, c := range pedestalWalks {
		w, _ := walkFile(t, lib, c.file)
		var read []faulttree.Sample
		for _, e := range w.Trail() {
			for q, r := range w.Asked(e.Step).Readings(e.Answer) {
				read = append(read, faulttree.Sample{Quantity: q, Reading: r})
			}
		}
		slices.Reverse(read)
		if strings.HasPrefix(c.finding, "prove-meter") {
			continue
		}
		unfit := []string{"pedestal-50a-leg-2-hangs", "pedestal-30a-high"} // too few volts for anything, and too many
		want := c.signal == faulttree.Danger || slices.Contains(unfit, c.file)
		n, got := lib.Forest.NoPlug(read, faulttree.DefaultMeter(), w.Fact)
		if got != want {
			t.Errorf("%s, which ends at %s: the plug is forbidden %v; want %v: %+v", c.file, c.finding, got, want, n)
		}
	}
}

// 119 V from neutral to ground say it alone; a volt between them, or a supply in the other
// service, does not. What was over the range says nothing more once it was read on a higher one.
func TestOneReadingThatForbidsThePlug(t *testing.T) {
	f := shipped().Forest
	for _, c := range []struct {
		service string
		read    []string
		forbids bool
	}{
		{"50a", []string{"pedestal.n-g", "119"}, true},
		{"30a", []string{"pedestal.n-g", "119"}, true},
		{"50a", []string{"pedestal.n-g", "1.0"}, false},
		{"50a", []string{"pedestal.n-g", "29.8"}, true}, // within the meter's error of 30 V
		{"50a", []string{"pedestal.l2-n", "208"}, true},
		{"30a", []string{"pedestal.l1-n", "240"}, true},
		{"50a", []string{"pedestal.l1-l2", "208"}, false}, // two legs of a wye
		{"50a", []string{"pedestal.l1-n", "0"}, false},    // the breaker may be off
		{"50a", []string{"pedestal.l1-n", "88"}, true},    // motors stall on it: 104 V is the least at an outlet (ANSI C84.1), 103.5 V at a motor for 115 V (NEMA MG 1)
		{"30a", []string{"pedestal.l1-n", "60"}, true},
		{"50a", []string{"pedestal.l2-n", "103.9"}, true},
		{"50a", []string{"pedestal.l1-n", "104.5"}, false},                      // low, and the figure shown decides
		{"50a", []string{"pedestal.l1-n", "88", "pedestal.l1-n", "118"}, false}, // it sags by the hour
		{"50a", []string{"pedestal.l1-n", "118", "pedestal.l1-n", "88"}, true},
		{"50a", []string{"pedestal.l1-n", "88", "pedestal.l2-n", "118"}, true},
		// Above 127 V service range B of ANSI C84.1 ends; 126.5 V is what NEMA MG 1 leaves a motor for 115 V.
		{"30a", []string{"pedestal.l1-n", "118"}, false},
		{"30a", []string{"pedestal.l1-n", "126"}, false},
		{"30a", []string{"pedestal.l1-n", "127.0"}, false}, // the bound belongs to the range
		{"30a", []string{"pedestal.l1-n", "127.1"}, true},
		{"30a", []string{"pedestal.l1-n", "128"}, true},
		{"50a", []string{"pedestal.l1-n", "126", "pedestal.l2-n", "126", "pedestal.l1-l2", "252"}, false},
		{"50a", []string{"pedestal.l1-n", "131", "pedestal.l2-n", "131"}, true},
		{"50a", []string{"pedestal.l1-n", "118", "pedestal.l2-n", "131"}, true},
		{"50a", []string{"pedestal.l2-n", "133"}, true},
		{"50a", []string{"pedestal.l1-n", "140"}, true},
		{"50a", []string{"pedestal.l2-n", "180"}, true},
		{"50a", []string{"pedestal.l1-l2", "254"}, false},
		{"50a", []string{"pedestal.l1-l2", "264"}, true},
		{"50a", []string{"pedestal.l1-n", "131", "pedestal.l1-n", "121"}, false}, // high at night, gone by noon
		{"50a", []string{"pedestal.l1-n", "121", "pedestal.l1-n", "131"}, true},
		{"50a", []string{"pedestal.l1-n", "180", "pedestal.l1-n", "121"}, true}, // no level of a supply: a neutral that moves
		{"50a", []string{"pedestal.l1-n", "OL"}, true},
		{"50a", []string{"pedestal.l1-n", "OL", "pedestal.l1-n", "120.1"}, false},
		{"50a", []string{"pedestal.l1-n", "208", "pedestal.l1-n", "120.1"}, true},
		{"30a", []string{"pedestal.l1-n", "120", "pedestal.l1-g", "0", "pedestal.g-earth", "0", "pedestal.l1-earth", "120"}, true},
	} {
		var read []faulttree.Sample
		for i := 0; i < len(c.read); i += 2 {
			q := f.Quantities[c.read[i]]
			read = append(read, faulttree.Sample{Quantity: q, Reading: must.Have(faulttree.ParseReading(c.read[i+1], q))(t)})
		}
		known := func(fact string) string {
			return map[string]string{"service": c.service, "source": "shore", "adapter": "no"}[fact]
		}
		if n, got := f.NoPlug(read, faulttree.DefaultMeter(), known); got != c.forbids {
			t.Errorf("%v on %s: the plug is forbidden %v; want %v: %+v", c.read, c.service, got, c.forbids, n)
		}
	}
}

// Of drawn vehicles, no supply without a fault forbids the plug, whatever else is wrong
// aboard or in the cord; and no walk asks for a contact on a live vehicle after readings
// of the supply that forbid it.
func TestWalksPlugIntoNothingThatReadDangerous(t *testing.T) {
	f := shipped().Forest
	for _, service := range []string{"50a", "30a"} {
		u := newUnseen(t, map[string]string{"service": service, "source": "shore"}, 5, 0)
		dangers, caught, asked := 0, 0, 0
		for i := range 800 {
			o := u.next()
			o.meter = meter.New(meter.NewFace(faulttree.DefaultMeter()), nil) // what it is off by in percent is the same in every reading, and differences rest on that
			if o.truth.System == "12 V" {
				continue
			}
			shown := map[string]faulttree.Reading{}
			read := func(_ faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error) {
				if _, known := shown[q.ID]; !known {
					shown[q.ID] = o.read(q)
				}
				return shown[q.ID], nil
			}
			var all []faulttree.Sample
			for _, id := range f.Quantities.IDs() {
				if q := f.Quantities[id]; q.OfSupply() && !q.Needs.Unmet(o.vehicle.Fact) && o.vehicle.Rig().HasNode(q.Red) && o.vehicle.Rig().HasNode(q.Black) {
					r, _ := read(faulttree.Walk{}, q)
					all = append(all, faulttree.Sample{Quantity: q, Reading: r})
				}
			}
			n, forbids := f.NoPlug(all, faulttree.DefaultMeter(), o.vehicle.Fact)
			ofSupply := lists.Where(o.truth.Faults, func(p suspect.PlacedFault) bool { return p.Place == faulttree.Supply })
			bad := slices.ContainsFunc(ofSupply, func(p suspect.PlacedFault) bool { return u.describe(p.Fault, p.Place).Hazard == faulttree.Danger })
			switch {
			case len(ofSupply) == 0 && i < 150 && must.Have(u.reasoner.Belief(context.Background(), evidence(all)))(t).NoPlug(f, o.vehicle.Fact):
				t.Errorf("%s: nothing is wrong at the supply of %v, and readings of it make it most likely dangerous", service, o.truth.Faults)
			case forbids && len(ofSupply) == 0:
				t.Errorf("%s: nothing is wrong at the supply of %v, and %s forbids the plug: %+v", service, o.truth.Faults, all[n.At].Quantity.ID, n)
			case bad:
				dangers++
				if forbids {
					caught++
				}
			}
			for _, tree := range o.vehicle.Rig().Trees {
				at, err := faulttree.Begin(f, faulttree.Ref{Tree: tree}, faulttree.Qualified, faulttree.DefaultMeter())
				if err != nil {
					t.Fatal(err)
				}
				for _, end := range must.Have(vehicle.Walker{Read: read, Value: o.vehicle.Taken, Vehicle: o.vehicle}.Ends(at))(t) {
					asked += live(t, f, end, service)
				}
			}
		}
		t.Logf("%s: of %d dangerous supplies, readings of them all forbid the plug at %d; %d live readings on vehicles", service, dangers, caught, asked)
	}
}

// After readings that call the supply dangerous nothing is proposed for which the vehicle must
// be plugged in: not after one that a limit decides, nor after some that make it most likely.
func TestNothingIsProposedThatPlugsIntoADangerousSupply(t *testing.T) {
	f := shipped().Forest
	known := func(fact string) string {
		return map[string]string{"service": "50a", "source": "shore", "adapter": "no"}[fact]
	}
	u := newUnseen(t, map[string]string{"service": "50a", "source": "shore"}, 5, 0)
	rules := suspect.NewRules(f, faulttree.Qualified)
	live := func(q faulttree.Quantity) bool { return q.NeedsPlug() || q.OfSupply() }
	for _, c := range []struct {
		read   []string
		forbid bool
	}{
		{[]string{"pedestal.cover-earth", "0", "pedestal.n-g", "1.0"}, false},
		{[]string{"pedestal.cover-earth", "0", "pedestal.n-g", "119"}, true},
		{[]string{"pedestal.cover-earth", "0", "pedestal.l1-n", "88"}, true},
		{[]string{"pedestal.cover-earth", "0", "pedestal.l1-n", "131"}, true},
		{[]string{"pedestal.cover-earth", "0", "pedestal.l1-earth", "120", "panel.l1-n@loaded", "60", "panel.l2-n@loaded", "178", "ohm:plug.n-cord.n@unplugged", "0.0", "ohm:plug.l1-n@unplugged", "9.6", "ohm:plug.l2-n@unplugged", "25"}, true},
	} {
		var read []faulttree.Sample
		for i := 0; i < len(c.read); i += 2 {
			q := f.Quantities[c.read[i]]
			read = append(read, faulttree.Sample{Quantity: q, Reading: must.Have(faulttree.ParseReading(c.read[i+1], q))(t)})
		}
		b := must.Have(u.reasoner.Belief(context.Background(), evidence(read)))(t)
		next := must.Have(b.Next(context.Background(), rules, suspect.Reader{Known: known, Can: live}))(t)
		asks := slices.ContainsFunc(next, func(n suspect.Next) bool { return n.Quantity != nil && n.Quantity.NeedsPlug() })
		if asks == c.forbid || b.NoPlug(f, known) != c.forbid {
			t.Errorf("after %v contacts on a live vehicle are proposed %v, the plug is forbidden %v; want that forbidden %v", c.read, asks, b.NoPlug(f, known), c.forbid)
		}
	}
}

// Nor is a reading of the 12 V side that rests on the converter, and so on the cord,
// although nothing is live near who takes it. What the battery alone makes is.
func TestNothingOfTheConverterIsProposedAtADangerousSupply(t *testing.T) {
	f := shipped().Forest
	facts := map[string]string{"service": "30a", "source": "shore", "adapter": "none", "battery": "flooded"}
	u := newUnseen(t, facts, 5, 0)
	rules := suspect.NewRules(f, faulttree.Qualified)
	of12V := func(q faulttree.Quantity) bool {
		return slices.Contains([]string{"battery", "dc", "converter"}, rig.Group(q.Red))
	}
	for neutral, forbid := range map[string]bool{"1.0": false, "119": true} {
		var read []faulttree.Sample
		for id, text := range map[string]string{"pedestal.n-g": neutral, "dc.pos-neg@loaded": "10.9"} {
			read = append(read, faulttree.Sample{Quantity: f.Quantities[id], Reading: must.Have(faulttree.ParseReading(text, f.Quantities[id]))(t)})
		}
		b := must.Have(u.reasoner.Belief(context.Background(), evidence(read)))(t)
		next := must.Have(b.Next(context.Background(), rules, suspect.Reader{Known: func(id string) string { return facts[id] }, Can: of12V}))(t)
		fed, alone := 0, 0
		for _, n := range next {
			if n.Quantity == nil {
				continue
			}
			if n.Quantity.NeedsPlug() {
				fed++
			} else {
				alone++
			}
		}
		if alone == 0 || fed > 0 == forbid {
			t.Errorf("with %s V from neutral to ground %d readings are proposed that rest on the converter, %d that do not", neutral, fed, alone)
		}
	}
}

func evidence(read []faulttree.Sample) []suspect.Evidence {
	return lists.Each(read, func(s faulttree.Sample) suspect.Evidence {
		return suspect.Evidence{Quantity: s.Quantity, Reading: s.Reading}
	})
}

// live counts the contacts on a live vehicle that a walk took, none of them after readings
// of the supply that forbid the plug.
func live(t *testing.T, f *faulttree.Forest, w faulttree.Walk, of string) int {
	t.Helper()
	var read []faulttree.Sample
	n := 0
	for _, e := range w.Trail() {
		s := w.Asked(e.Step)
		if s == nil {
			continue
		}
		for q, r := range s.Readings(e.Answer) {
			if q.NeedsPlug() && r.Quality != faulttree.NotPossible {
				n++
				if why, forbids := f.NoPlug(read, faulttree.DefaultMeter(), w.Fact); forbids {
					t.Errorf("%s: the walk %s asks for %s after %s forbade the plug (%+v)", of, e.Step.Tree, q.ID, read[why.At].Quantity.ID, why)
				}
			}
			read = append(read, faulttree.Sample{Quantity: q, Reading: r})
		}
	}
	return n
}

// What is graver decides: a supply that read too low, and then 119 V from neutral to ground,
// is no matter of too little.
func TestTheGraverReasonForbidsThePlug(t *testing.T) {
	f := shipped().Forest
	read := []faulttree.Sample{
		{Quantity: f.Quantities["pedestal.l1-n"], Reading: must.Have(faulttree.ParseReading("88", f.Quantities["pedestal.l1-n"]))(t)},
		{Quantity: f.Quantities["pedestal.n-g"], Reading: must.Have(faulttree.ParseReading("119", f.Quantities["pedestal.n-g"]))(t)},
	}
	known := func(fact string) string { return map[string]string{"service": "50a"}[fact] }
	if n, _ := f.NoPlug(read[:1], faulttree.DefaultMeter(), known); !n.Low || n.Limit != 104*faulttree.One {
		t.Errorf("88 V: %+v", n)
	}
	if n, _ := f.NoPlug(read, faulttree.DefaultMeter(), known); n.Low || n.At != 1 {
		t.Errorf("88 V, and the neutral live: %+v", n)
	}
	read[0].Reading = must.Have(faulttree.ParseReading("131", read[0].Quantity))(t)
	if n, _ := f.NoPlug(read[:1], faulttree.DefaultMeter(), known); !n.High || n.Limit != 127*faulttree.One {
		t.Errorf("131 V: %+v", n)
	}
}

// What forbids the plug and was given beside another walk is told there, and leads to the
// walk that judges it; nothing is found to be milder than DANGER beside it.
func TestWhatForbidsThePlugIsToldBesideAWalk(t *testing.T) {
	lib := shipped()
	for _, c := range []struct {
		quantity, text string
		told           bool
	}{{"pedestal.n-g", "119", true}, {"pedestal.n-g", "29.9", true}, {"pedestal.n-g", "1.2", false}, {"pedestal.l2-n", "88", true}, {"pedestal.l2-n", "117", false},
		{"pedestal.l2-n", "131", true}, {"pedestal.l1-l2", "271", true}, {"pedestal.l2-n", "126", false}} {
		text, told := c.text, c.told
		q := lib.Forest.Quantities[c.quantity]
		r := must.Have(faulttree.ParseReading(text, q))(t)
		for _, start := range []faulttree.Ref{{Tree: "body-voltage"}, {Tree: "half-dead", Step: "outlet-alive"}} {
			w := must.Have(faulttree.Begin(lib.Forest, start, faulttree.Owner, faulttree.DefaultMeter()))(t)
			w, _, err := w.Supply(faulttree.Supplied{Readings: map[string][]faulttree.Reading{q.ID: {r}}})
			if err != nil {
				t.Fatal(err)
			}
			all := view.GivenOf(lib, w)
			if len(all) == 1 != told || told && (all[0].Walk.ID != "pedestal" || !strings.Contains(all[0].Text, "begin there first")) {
				t.Errorf("%s V beside %s is told as %+v", text, start.Tree, all)
			}
			if f, ended := w.Finding(); ended && told && (f.Finding.Signal != faulttree.Danger || !strings.HasPrefix(f.Finding.FirstAction, "First begin the walk")) {
				t.Errorf("%s V beside %s: %+v", text, start, f.Finding)
			}
		}
	}
}
