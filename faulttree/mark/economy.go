package mark

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
)

// verified is whether what had shown the fault was read again after the repair, and
// reads as in a sound vehicle.
func (g *marker) verified(j *judged) error {
	if !j.alters {
		g.give(rubric.Verified, j.nothing(), nil, "There was nothing to repair.%s", g.asHeld())
		return nil
	}
	if g.a.Repaired == 0 {
		g.give(rubric.Verified, 0, nil, "Nothing was repaired and read again.")
		return nil
	}
	still, err := g.showing(1)
	if err != nil {
		return err
	}
	shows := map[int]bool{}
	for _, i := range still {
		shows[i] = true
	}
	best := -1
	for i := g.a.Repaired; i < len(g.acts); i++ {
		for _, before := range j.shows {
			if again(g.acts[before], g.acts[i]) {
				if !shows[i] {
					g.give(rubric.Verified, 1, []int{before, i}, "Act %d had read %s, and after the repair act %d read %s there.", practice.Number(before), g.display(before), practice.Number(i), g.display(i))
					return nil
				}
				best = i
			}
		}
	}
	if best >= 0 {
		g.give(rubric.Verified, 0, []int{best}, "Act %d read again what had shown the fault, and it still shows it: %s.", practice.Number(best), g.display(best))
		return nil
	}
	g.give(rubric.Verified, 0, nil, "After the repair nothing was read again that had shown the fault.")
	return nil
}

// again reports whether an act reads what another has read.
func again(a, b moment) bool {
	return a.Kind == b.Kind && a.Red == b.Red && a.Black == b.Black && a.Setting.Function == b.Setting.Function && (b.Shown != "" || b.Kind == practice.Prove)
}

// economy is what the readings cost beside the best order, once what was concluded
// is right and held: haste is no merit.
func (g *marker) economy(j *judged) error {
	counted := 0
	var acts []int
	for _, e := range j.read {
		if c := g.costOf(e); c > 0 {
			g.out.Cost += c
			counted++
			acts = append(acts, e.acts...)
		}
	}
	if !j.right || j.held == 0 {
		g.give(rubric.Economy, 0, nil, "Nothing is saved where the readings do not hold the conclusion.")
		return nil
	}
	best, err := g.best()
	if err != nil {
		return err
	}
	r := g.b.Rubric
	full, none := r.FullAt*float64(max(1, best.Cost)), r.NoneFrom*float64(max(1, best.Cost))
	share := (none - float64(g.out.Cost)) / (none - full)
	text := "%s cost %d by the exposures of the handbook; the best order costs %d. Proofs, checks that exclude a danger and the test after the repair are not counted."
	text += g.asHeld()
	share = min(1, max(0, share)) * j.held
	if n := len(g.a.Hints); n > 0 {
		share -= float64(n*r.Hint) / float64(max(1, r.Part(rubric.Economy).Points))
		text += fmt.Sprintf(" Hints that you asked for: %d; each takes %d.", n, r.Hint)
	}
	g.give(rubric.Economy, share, acts, text, readings(counted), g.out.Cost, best.Cost)
	return nil
}

func readings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}

// costOf is what a piece of evidence cost: nothing where it is a proof or a check
// that excludes a danger. What the handbook has not, costs what the nearest of its
// quantities does.
func (g *marker) costOf(e taken) int {
	q := e.Quantity
	if len(e.acts) == 0 {
		return 0
	}
	if e.stand == nil {
		if g.free(q) {
			return 0
		}
		return g.b.Forest.Weights.Of(q)
	}
	m := g.acts[e.acts[0]]
	near, _ := g.quantityOf(m)
	switch {
	case ofBody(m.Act), near.ID != "" && g.free(near):
		return 0
	case dead(g.c.Rig, m.before) && !near.OffVehicle:
		near.Exposure = faulttree.DeadTest
	case near.ID == "":
		near.Exposure = faulttree.InsideBody
	}
	return g.b.Forest.Weights.Of(near)
}

// indistinct is what no learner would take for a difference, whatever the meter
// resolves: no two vehicles are that equal. Common practice, no source.
var indistinct = map[faulttree.Unit]faulttree.Amount{
	faulttree.VoltsAC: faulttree.One, faulttree.VoltsDC: faulttree.One / 20, faulttree.Ohms: 3 * faulttree.One / 10,
	faulttree.AmpsAC: faulttree.One / 10, faulttree.AmpsDC: faulttree.One / 10,
}

// sameDisplay reports whether two displays say the same as far as the meter can
// tell.
func sameDisplay(a, b practice.Act, model faulttree.Meter) bool {
	if !a.Numeric() || !b.Numeric() {
		return a.Shown == b.Shown && a.Hazard == b.Hazard
	}
	q := faulttree.Quantity{Unit: a.Setting.Function.Unit()}
	if a.Setting.Function == meter.Continuity {
		q.Unit = faulttree.Ohms
	}
	x, y := (a.Reading().Low+a.Reading().High)/2, (b.Reading().Low+b.Reading().High)/2
	room := (model.Uncertainty(a.Reading(), q) + model.Uncertainty(b.Reading(), q)) / 2
	return (x - y).Abs() <= max(room, x.Abs()/50, indistinct[q.Unit])
}
