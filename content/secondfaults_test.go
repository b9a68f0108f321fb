package content_test

import (
	"context"
	"flag"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

var (
	secondVehicles  = flag.Int("second", 600, "how many vehicles of the second model the suspects are judged on")
	secondQualified = flag.Bool("second-qualified", false, "read half of them as a qualified person does, which takes long")
)

// wrong is something that can be wrong with a vehicle of the second model.
type wrong struct {
	truth []string // "fault@place"; none: sound
	legs  int      // 0: any
	do    func(*drawing)
}

// cut opens a joint or conductor, or gives it so many ohms.
func cut(truth string, ohms [2]float64, parts ...string) []wrong {
	var out []wrong
	for _, part := range parts {
		out = append(out, wrong{truth: []string{truth}, do: func(d *drawing) { d.ohms[part] = between(d, ohms) }})
	}
	return out
}

func between(d *drawing, ohms [2]float64) float64 {
	if math.IsInf(ohms[0], 1) {
		return ohms[0]
	}
	return d.over(ohms[0], ohms[1])
}

// join joins two nodes.
func join(truth, a, b string, ohms [2]float64) []wrong {
	return []wrong{{truth: []string{truth}, do: func(d *drawing) { d.joins = append(d.joins, element{a: a, b: b, ohms: between(d, ohms)}) }}}
}

// swap puts contacts on other conductors: "n on l1, l1 on n" at a place.
func swap(truth, at, on string) []wrong {
	return []wrong{{truth: []string{truth}, do: func(d *drawing) {
		for _, s := range strings.Split(on, ", ") {
			contact, wire, _ := strings.Cut(s, " on ")
			d.from[at+" "+contact] = wire
		}
	}}}
}

func set(truth string, do func(*drawing)) []wrong { return []wrong{{[]string{truth}, 0, do}} }

// both has something of each wrong at once.
func both(a, b []wrong) []wrong {
	return []wrong{{truth: append(slices.Clone(a[0].truth), b[0].truth...), do: func(d *drawing) { a[0].do(d); b[0].do(d) }}}
}

// on is for vehicles with so many legs.
func on(legs int, all []wrong) []wrong {
	for i := range all {
		all[i].legs = legs
	}
	return all
}

var (
	open   = [2]float64{math.Inf(1), 0}
	poor   = [2]float64{.6, 6}
	leaks  = [2]float64{1e3, 5e4}
	shorts = [2]float64{.05, 3}
)

// leak is from the first leg, short a dead one.
func leak() []wrong { return join("leakage-to-body@vehicle", "bus.l1", "body", leaks) }

// faultsOfSecond is what can be wrong, each as often as the next.
var faultsOfSecond = [][]wrong{
	cut("open-neutral@supply", open, "pedestal n", "tap n", "feeder n", "drop n"),
	cut("open-neutral@cord", open, "cord n"),
	cut("open-neutral@vehicle", open, "transfer n", "main n"),
	cut("high-resistance-neutral@supply", poor, "pedestal n", "feeder n"),
	cut("high-resistance-neutral@cord", poor, "cord n"),
	cut("high-resistance-neutral@vehicle", poor, "transfer n"),
	cut("high-resistance-hot@supply", poor, "pedestal l1"),
	cut("high-resistance-hot@vehicle", poor, "transfer l1"),
	cut("open-ground@supply", open, "pedestal g", "tap g", "feeder g"),
	cut("open-ground@cord", open, "cord g"),
	cut("open-ground@vehicle", open, "transfer g"),
	cut("body-bond-open@vehicle", open, "bond"),
	leak(), on(2, join("leakage-to-body@vehicle", "bus.l2", "body", leaks)),
	join("hot-to-body-short@vehicle", "bus.l1", "body", shorts),
	both(cut("open-ground@cord", open, "cord g"), leak()),
	both(cut("open-ground@supply", open, "pedestal g"), leak()),
	both(cut("body-bond-open@vehicle", open, "bond"), leak()),
	join("vehicle-bond@vehicle", "bus.n", "bus.g", shorts),
	swap("reversed-polarity@supply", "pedestal", "l1 on n, n on l1"),
	swap("hot-ground-swapped@supply", "pedestal", "l1 on g, g on l1"),
	swap("bootleg-ground@supply", "pedestal", "g on n"),
	swap("bootleg-ground-reversed@supply", "pedestal", "g on l1, n on l1, l1 on n"),
	set("rod-only-ground@supply", func(d *drawing) { d.ownRod, d.ohms["tap g"] = true, math.Inf(1) }),
	set("missing-main-bond@supply", func(d *drawing) { d.noBond = true }),
	set("low-supply@supply", func(d *drawing) { v := complex(d.even(94, 105), 0); d.volts, d.second = v, -v }),
	set("high-supply@supply", func(d *drawing) { v := complex(d.even(131, 139), 0); d.volts, d.second = v, -v }),
	set("supply-dead@supply", func(d *drawing) { d.dead = true }),
	on(2, set("same-leg@supply", func(d *drawing) { d.from["pedestal l2"] = "l1" })),
	on(1, swap("240-on-30a@supply", "pedestal", "n on l2")),
	on(2, cut("open-hot-l1@supply", open, "tap l1", "pedestal l1")),
	cut("open-hot-l1@cord", open, "cord l1"),
	on(2, cut("open-hot-l2@supply", open, "tap l2")),
	swap("neutral-ground-swapped@cord", "cord", "n on g, g on n"),
	join("wet-cord@cord", "cord.l1", "cord.g", [2]float64{2e3, 2e5}),
	swap("reversed-outlet@vehicle", "outlet", "l1 on n, n on l1"),
	cut("open-ground-inside@vehicle", open, "branch g"),
	cut("open-neutral-inside@vehicle", open, "branch n"),
	set("backfed-plug@vehicle", func(d *drawing) { d.backfed, d.contactor = 120, false }),
	cut("breaker-tripped@vehicle", open, "branch l1"),
	// The 12 V side.
	set("battery-low@dc", func(d *drawing) { d.battery = d.even(11, 12) }),
	set("battery-weak@dc", func(d *drawing) { d.inner = d.over(.12, .5) }),
	set("converter-dead@dc", func(d *drawing) { d.charger = 0 }),
	set("overcharge@dc", func(d *drawing) { d.charger = d.even(15.2, 17) }),
	cut("dc-fuse-open@dc", open, "dc fuse"),
	cut("disconnect-open@dc", open, "dc disconnect"),
	cut("dc-high-resistance@dc", [2]float64{.1, 1}, "dc clamp", "dc feed", "dc strap", "dc return"),
	cut("dc-open-return@dc", open, "dc strap", "dc return"),
}

// Vehicles of the second model, read as an owner and as a qualified person would
// read them: what is wrong is among the first three suspects, or a danger still
// open; what nobody could have noticed is not called faulty.
func TestSuspectsOfSecondModel(t *testing.T) {
	lib := shipped()
	var y secondTally
	roles := []faulttree.Role{faulttree.Owner}
	if *secondQualified {
		roles = append(roles, faulttree.Qualified)
	}
	for legs, facts := range map[int]map[string]string{1: {"service": "30a", "source": "shore", "adapter": "none"}, 2: {"service": "50a", "source": "shore", "adapter": "none"}} {
		p := drawnOf(t, drawn.Options{Facts: facts, Seed: 1, Tree: ""})
		assumed := suspect.CommonPractice()
		assumed.More = 0
		r := suspect.New(p, faulttree.DefaultMeter(), scenes.Described(lib)).Assuming(assumed)
		u := &unseen{t: t, facts: facts}
		asked := map[faulttree.Role][]faulttree.Quantity{faulttree.Owner: u.asked(faulttree.Owner), faulttree.Qualified: u.asked(faulttree.Qualified)}
		for i := range *secondVehicles / 2 {
			d := draw(uint64(1000*legs+i), legs)
			var w wrong
			if i%5 > 0 {
				of := faultsOfSecond[(i-i/5-1)%len(faultsOfSecond)]
				w = of[d.IntN(len(of))]
			}
			if w.legs != 0 && w.legs != legs || w.direct() && legs == 2 { // the rig with a battery is of 30 A
				continue
			}
			if w.do != nil {
				w.do(d)
			}
			role := roles[i%len(roles)]
			var evidence []suspect.Evidence
			for _, q := range asked[role] {
				if ofBattery(q) != w.direct() {
					continue // who comes for one side does not read the other
				}
				if x := d.read(q); x.Quality != faulttree.NotPossible {
					evidence = append(evidence, suspect.Evidence{Quantity: q, Reading: x})
				}
			}
			b := must.Have(r.Belief(context.Background(), evidence))(t)
			y.add(t, w, b, legs, role)
		}
	}
	t.Logf("%d with faults: %d among the first three or open (%d first, %d in three, %d open only); %d sound: %d called faulty", y.faulty, y.found, y.first, y.three, y.found-y.three, y.sound, y.alarms)
	if found, alarms := secondBounds(); y.found*100 < y.faulty*found || y.alarms*100 > y.sound*alarms {
		t.Errorf("the truth is found in %d of %d; of %d sound ones %d are called faulty", y.found, y.faulty, y.sound, y.alarms)
	}
}

// What holds today of owners, in a hundred: the aim, 97 and 5, is reached. Of qualified
// people, who take three times as many readings, fewer sound vehicles are left alone:
// with half of them qualified 96 and 11 hold.
func secondBounds() (found, alarms int) {
	if *secondQualified {
		return 95, 12
	}
	return 98, 4
}

// direct reports whether the fault is of the 12 V side.
func (w wrong) direct() bool { return len(w.truth) > 0 && strings.HasSuffix(w.truth[0], "@dc") }

type secondTally struct{ faulty, found, first, three, sound, alarms int }

// add judges one vehicle. A sound one is called faulty where a suspect other than
// a sound vehicle is the likeliest and said to be most likely.
func (y *secondTally) add(t *testing.T, w wrong, b *suspect.Belief, legs int, role faulttree.Role) {
	suspects := b.Suspects()
	own := "120 V"
	if w.direct() {
		own = "12 V"
	}
	none := 0.0
	for _, s := range b.Systems() {
		if s.Name == own {
			none = s.NoneFits
		}
	}
	suspects = slices.DeleteFunc(suspects, func(s suspect.Suspect) bool { return s.System != own && s.System != "" })
	if len(w.truth) == 0 {
		y.sound++
		if s := suspects[0]; s.Faults[0] != suspect.NoFault && s.Likely == suspect.MostLikely && none < .5 {
			y.alarms++
			t.Log("sound, but " + describeBelief(legs, role, suspects, none))
		}
		return
	}
	y.faulty++
	at := -1
	for i, s := range suspects {
		if holds(s, w.truth) {
			at = i
			break
		}
	}
	open := slices.ContainsFunc(b.Open(), func(o suspect.Open) bool {
		return slices.Contains(w.truth, o.Fault+"@"+string(o.Place)) && o.Share > 0.001
	})
	switch {
	case at == 0:
		y.first++
		y.three++
		y.found++
	case at > 0 && at < 3:
		y.three++
		y.found++
	case open:
		y.found++
	default:
		t.Log(strings.Join(w.truth, " ") + ": " + describeBelief(legs, role, suspects, none))
	}
}

// holds reports whether a suspect holds one of the faults, in its place.
func holds(s suspect.Suspect, truth []string) bool {
	return slices.ContainsFunc(s.Parts, func(p suspect.Part) bool { return slices.Contains(truth, p.At.String()) && p.Share >= 0.05*s.Share })
}

func describeBelief(legs int, role faulttree.Role, suspects []suspect.Suspect, none float64) string {
	out := role.String() + []string{"", " 30 A", " 50 A"}[legs] + ", none fits " + fmt.Sprintf("%.2f", none)
	for _, s := range suspects[:min(3, len(suspects))] {
		out += " | " + fmt.Sprintf("%.3f", s.Share) + " " + strings.Join(s.Faults, ",") + " " + fmt.Sprint(s.Places)
		if s.Worst != nil {
			out += " (worst " + s.Worst.Evidence.Quantity.ID + "=" + s.Worst.Evidence.Reading.Text + " of " + s.Worst.Expected.Show(s.Worst.Evidence.Quantity, faulttree.DefaultMeter()) + ")"
		}
	}
	return out
}
