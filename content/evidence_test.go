package content_test

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// drawnFault is a vehicle with one fault, or none.
type drawnFault struct {
	setup rig.Setup
	ids   []string
	text  string
}

// drawFaults is every fault of the catalogue in every variant that fits in a rig,
// some vehicles of each, and sound ones.
func drawFaults(l *content.Library, r *rig.Rig, each int) []drawnFault {
	rng := rand.New(rand.NewPCG(11, 7))
	var out []drawnFault
	draw := func(d drawnFault, f *rig.Fault, variant int) {
		for range each {
			d.setup = rig.Setup{Values: r.Draw(rng), Varieties: r.DrawVarieties(rng)}
			if f != nil {
				a := f.Ordinary(variant)
				if f.Severity != nil {
					a.Severity = f.Severity.At(rng.Float64())
				}
				d.setup.Faults = []rig.Applied{a}
			}
			out = append(out, d)
		}
	}
	draw(drawnFault{text: "sound"}, nil, 0)
	for _, id := range slices.Sorted(maps.Keys(l.Faults)) {
		f := l.Faults[id].Edits
		if f == nil {
			continue
		}
		for i, v := range f.Variants {
			if v.FitsIn(r) {
				draw(drawnFault{ids: append([]string{id}, v.With...), text: id + "@" + string(v.Place) + " " + v.Text}, f, i)
			}
		}
	}
	return out
}

// rigsOf are the rigs of a handbook in order.
func rigsOf(l *content.Library) []*rig.Rig {
	return lists.Each(slices.Sorted(maps.Keys(l.Rigs)), func(id string) *rig.Rig { return l.Rigs[id] })
}

// Of every choice there is a vehicle that it is likely to be made of, and one of
// which it is less than half as likely: none is dead text, none tells nothing.
func TestEveryChoiceTellsSomething(t *testing.T) {
	l := load.Shipped()
	type span struct{ low, high float64 }
	seen := map[[2]string]span{}
	for _, r := range rigsOf(l) {
		v := must.Have(vehicle.New(r))(t)
		for _, d := range drawFaults(l, r, 2) {
			must.Do(t, v.Put(d.setup))
			for i := range l.Forest.Observations {
				o := &l.Forest.Observations[i]
				chances := must.Have(vehicle.Walker{Value: v.Taken, Vehicle: v}.Seen(o, d.ids))(t)
				for k, p := range chances {
					at := [2]string{o.ID, o.Choices[k].ID}
					s, known := seen[at]
					if !known {
						s = span{1, 0}
					}
					seen[at] = span{min(s.low, p), max(s.high, p)}
				}
			}
		}
	}
	for _, o := range l.Forest.Observations {
		for _, c := range o.Choices {
			s, known := seen[[2]string{o.ID, c.ID}]
			if !known || s.high < 0.2 || s.low > s.high/2 {
				t.Errorf("%s, %s: made of drawn vehicles with %.3f to %.3f", o.ID, c.ID, s.low, s.high)
			}
		}
	}
	if len(l.Forest.Observations) < 10 {
		t.Errorf("%d observations", len(l.Forest.Observations))
	}
}

// The 120 V side and the 12 V side are vehicles of different rigs: what is seen on
// one tells nothing of the other. A tingle may come of both.
func TestAnObservationIsOfOneSide(t *testing.T) {
	l := load.Shipped()
	for i := range l.Forest.Observations {
		o := &l.Forest.Observations[i]
		side := map[bool]bool{} // whether it is the 12 V side
		for _, r := range rigsOf(l) {
			v := must.Have(vehicle.New(r))(t)
			chances := must.Have(vehicle.Walker{Value: v.Taken, Vehicle: v}.Seen(o, nil))(t)
			if chances != nil {
				side[r.ID == "house-12v"] = true
			}
		}
		if len(side) != 1 && o.ID != "tingle" {
			t.Errorf("%s tells of %d sides", o.ID, len(side))
		}
	}
}

// tries is an intervention tried on every vehicle of the draw that has the
// complaint of a tree of its rig, by how it ends.
type tries struct{ gone, still int }

// Every intervention ends the complaint of some faulty vehicle and leaves that of
// another.
func TestEveryInterventionTellsSomething(t *testing.T) {
	l := load.Shipped()
	rigs := rigsOf(l)
	sums := map[string]tries{}
	for _, r := range rigs {
		v := must.Have(vehicle.New(r))(t)
		draws := drawFaults(l, r, 4) // a single one may be too mild for a complaint
		for i := range l.Forest.Interventions {
			in := &l.Forest.Interventions[i]
			try := must.Have(vehicle.NewTry(in, r, rigs))(t)
			for k := 0; try != nil && k < len(draws); k++ {
				must.Do(t, v.Put(draws[k].setup))
				for _, name := range r.Trees {
					gone, had, err := try.Gone(vehicle.Walker{Vehicle: v, Value: v.Taken}, draws[k].setup, l.Forest.Tree(name))
					if err != nil {
						t.Fatalf("%s, %s in %s: %v", in.ID, draws[k].text, r.ID, err)
					}
					sum := sums[in.ID]
					switch {
					case had && gone:
						sum.gone++
					case had:
						sum.still++
					}
					sums[in.ID] = sum
				}
			}
		}
	}
	for _, in := range l.Forest.Interventions {
		if sum := sums[in.ID]; sum.gone == 0 || sum.still == 0 {
			t.Errorf("%s: ends %d complaints and leaves %d", in.ID, sum.gone, sum.still)
		}
	}
}

// What a technician expects of a try, by where the current's way is broken or
// joined: what lies in the part that is exchanged goes with it, nothing else does.
func TestTriesAsATechnicianExpects(t *testing.T) {
	l := load.Shipped()
	rigs := rigsOf(l)
	for _, test := range []struct{ rig, fault, place, text, tree, tried, want string }{
		{"coach-50a", "open-ground", "cord", "in the cord, L1 leaks", "body-voltage", "another-cord", "gone"},
		{"coach-50a", "open-ground", "cord", "in the cord, L1 leaks", "body-voltage", "another-receptacle", "still there"},
		{"coach-50a", "open-ground", "cord", "in the cord, L1 leaks", "body-voltage", "main-off", "gone"},
		{"coach-50a", "open-ground", "cord", "in the cord, L1 leaks", "body-voltage", "another-adapter", "cannot be tried"},
		{"coach-50a", "open-ground", "vehicle", "behind the inlet, L1 leaks", "body-voltage", "another-cord", "still there"},
		{"coach-50a", "open-ground", "vehicle", "behind the inlet, L1 leaks", "body-voltage", "another-site", "still there"},
		{"coach-50a", "body-bond-open", "vehicle", "the bond is gone, L1 leaks", "body-voltage", "another-cord", "still there"},
		{"coach-50a", "body-bond-open", "vehicle", "the bond is gone, a load on L1 leaks", "body-voltage", "appliances-unplugged", "gone"},
		{"coach-50a", "hot-ground-swapped", "supply", "L1 and ground exchanged at the receptacle", "body-voltage", "main-off", "still there"},
		{"coach-50a", "hot-ground-swapped", "supply", "L1 and ground exchanged at the receptacle", "body-voltage", "another-receptacle", "gone"},
		{"trailer-30a-on-50a", "ground-defeating-adapter", "cord", "L1 leaks", "body-voltage", "another-cord", "still there"},
		{"trailer-30a-on-50a", "ground-defeating-adapter", "cord", "L1 leaks", "body-voltage", "another-adapter", "gone"},
		{"trailer-30a-on-50a", "ground-defeating-adapter", "cord", "L1 leaks", "body-voltage", "no-adapter", "gone"},
		{"coach-50a", "open-neutral", "cord", "in the cord", "half-dead", "another-cord", "gone"},
		{"coach-50a", "open-neutral", "supply", "in the feeder", "half-dead", "another-receptacle", "still there"},
		{"coach-50a", "open-neutral", "supply", "in the feeder", "half-dead", "another-site", "gone"},
		{"coach-50a", "open-neutral", "supply", "in the feeder", "half-dead", "on-generator", "gone"},
		{"coach-50a", "open-neutral", "vehicle", "at the panel", "half-dead", "on-generator", "still there"},
		{"trailer-30a", "low-supply", "supply", "both legs", "half-dead", "on-generator", "cannot be tried"},
		{"coach-50a", "gfci-tripped", "vehicle", "something plugged in leaks to ground", "trips", "appliances-unplugged", "gone"},
		{"coach-50a", "hot-to-body-short", "vehicle", "L1 touches the body", "trips", "branches-off", "gone"},
		{"coach-50a", "hot-to-body-short", "vehicle", "L1 touches the body", "trips", "another-cord", "still there"},
		{"coach-generator", "generator-floating", "vehicle", "no join of neutral and frame", "own-source", "on-shore", "no complaint"},
		{"coach-generator", "generator-low-frequency", "vehicle", "of a portable set, the governor low and the voltage lower", "own-source", "on-shore", "gone"},
		{"coach-generator", "breaker-tripped", "vehicle", "the branch's breaker", "own-source", "on-shore", "still there"},
		{"house-12v", "overcharge", "dc", "regulation lost, the battery full", "twelve-volt", "converter-off", "gone"},
		{"house-12v", "battery-weak", "dc", "worn plates", "twelve-volt", "another-battery", "gone"},
		{"house-12v", "dc-high-resistance", "dc", "in the feed to the panel", "twelve-volt", "another-battery", "still there"},
		{"house-12v", "converter-dead", "dc", "its fuses are open", "twelve-volt", "engine-running", "gone"},
		{"house-12v", "disconnect-open", "dc", "the switch or relay does not make", "twelve-volt", "engine-running", "still there"},
	} {
		r, f := l.Rigs[test.rig], l.Faults[test.fault].Edits
		at := slices.IndexFunc(f.Variants, func(v rig.Variant) bool {
			return string(v.Place) == test.place && v.Text == test.text && v.FitsIn(r)
		})
		if at < 0 {
			t.Errorf("%s has no %s@%s, %s", test.rig, test.fault, test.place, test.text)
			continue
		}
		s := rig.Setup{Faults: []rig.Applied{f.Ordinary(at)}}
		v, err := vehicle.New(r)
		if err == nil {
			err = v.Put(s)
		}
		if err != nil {
			t.Fatal(err)
		}
		try := must.Have(vehicle.NewTry(l.Forest.Intervention(test.tried), r, rigs))(t)
		got := "cannot be tried"
		if try != nil {
			gone, had, err := try.Gone(vehicle.Walker{Vehicle: v, Value: v.Taken}, s, l.Forest.Tree(test.tree))
			switch {
			case err != nil:
				t.Fatal(err)
			case !had:
				got = "no complaint"
			case gone:
				got = "gone"
			default:
				got = "still there"
			}
		}
		if got != test.want {
			t.Errorf("%s, %s@%s %s: %s: %s; expected %s", test.rig, test.fault, test.place, test.text, test.tried, got, test.want)
		}
	}
}

// Nobody is asked to try something on a vehicle that shocks, and no owner to put
// one on a supply again.
func TestNoInterventionInvitesDanger(t *testing.T) {
	f := load.Shipped().Forest
	for _, in := range f.Interventions {
		for _, tree := range in.Offer {
			if tree == "body-voltage" || tree == "half-dead" || tree == "own-source" || tree == "heat" {
				t.Errorf("%s is offered in %s", in.ID, tree)
			}
			if in.Exposure.Live() && in.Offered(tree, faulttree.Owner, func(string) string { return "" }) {
				t.Errorf("%s is offered to an owner", in.ID)
			}
		}
		if in.Exposure.Live() && !strings.Contains(in.Before, "tingle") {
			t.Errorf("%s does not say that it is not for a vehicle with a tingle: %s", in.ID, in.Before)
		}
	}
}
