package scenes_test

import (
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// What a trainee is asked about as live is what the handbook says of the exposure of each
// quantity, on every rig, in the state in which it is read. The 12 V rig has no plug
// to pull, so what is read there of its panel and body unplugged counts as live.
func TestATraineeIsAskedAboutWhatTheHandbookCallsLive(t *testing.T) {
	lib := load.Shipped()
	asked := map[bool]int{}
	for _, r := range lib.Rigs {
		b := must.Have(bench.New(r))(t)
		for _, q := range lib.Forest.Quantities {
			if q.OfMeter() || !r.HasNode(q.Red) || q.Black != "" && !r.HasNode(q.Black) {
				continue
			}
			c := practice.NewCase("x", r)
			for _, s := range r.Switches {
				c.May = append(c.May, s.Name)
			}
			v := must.Have(c.BeginAs(practice.Attempt{Role: faulttree.Qualified, Supervised: true, Meter: faulttree.DefaultMeter(), Rules: practice.Rules}))(t)
			off := b.StateFor(q, r.Legs()).Off
			for _, s := range slices.Backward(r.Switches) { // a plug out before the breaker is no matter here
				if to, said := off[s.Name]; said && to != v.Off(s.Name) {
					must.Have(v.Do(practice.Act{Kind: practice.Throw, Name: s.Name, On: !to, Asked: true}))(t)
				}
			}
			act := practice.Act{Kind: practice.Read, Red: q.Red, Black: q.Black}
			if why := v.Hindered(act); why != "" {
				continue
			}
			question, _ := v.Asks(act)
			live := strings.Contains(question, "Live: is a qualified person beside you?")
			if want := q.Exposure.Live() || c.Direct() && q.Has(faulttree.Unplugged) && slices.Contains([]string{"panel", "body"}, rig.Group(q.Red)); live != want {
				t.Errorf("%s on %s: exposure %v, asked %q", q.ID, r.ID, q.Exposure, question)
			}
			asked[live]++
		}
	}
	if asked[true] < 100 || asked[false] < 100 {
		t.Errorf("only %d live and %d other readings were looked at", asked[true], asked[false])
	}
}
