package figure

import (
	"strings"

	"faultwright/faulttree/rig"
)

// testRig builds rigs from lines "kind name A B [switch|leg]" for the tests of
// the drawing; its numbers do not matter.
func testRig(columns, lines string) *rig.Rig {
	kinds := map[string]rig.Kind{}
	for k := rig.Source; k <= rig.Charger; k++ {
		kinds[k.String()] = k
	}
	r := &rig.Rig{ID: "test", Title: "a test rig", Columns: strings.Fields(columns)}
	for _, line := range strings.Split(strings.TrimSpace(lines), "\n") {
		f := strings.Fields(line)
		p := rig.NewPart(f[1], kinds[f[0]], f[2], f[3])
		p.Run, p.Wire, _ = strings.Cut(f[1], ".")
		if len(f) > 4 && p.Kind == rig.Load {
			p.Leg = f[4]
		} else if len(f) > 4 {
			p.Switch = f[4]
		}
		if p.Kind == rig.Load {
			p.Params[rig.AttrWatts] = len(r.Params)
			r.Params = append(r.Params, rig.Param{Name: f[1] + ".watts", Unit: rig.Watts, Value: 1500, From: 300, To: 2400})
		}
		r.Parts = append(r.Parts, p)
	}
	return r
}

func coach() *rig.Rig {
	return testRig("transformer site row pedestal plug cord inlet feed panel outlet body", `
source source.l1 transformer.l1 transformer.n
source source.l2 transformer.n transformer.l2
resistance utility-earth transformer.n 0
conductor drop.l1 transformer.l1 site.l1
conductor drop.n transformer.n site.n
conductor drop.l2 transformer.l2 site.l2
joint main-bond site.n site.g
resistance site-rod site.g 0
conductor feeder.l1 site.l1 row.l1
conductor feeder.n site.n row.n
conductor feeder.l2 site.l2 row.l2
conductor feeder.g site.g row.g
breaker pedestal-breaker.l1 row.l1 pedestal.l1 pedestal
conductor tap.n row.n pedestal.n
breaker pedestal-breaker.l2 row.l2 pedestal.l2 pedestal
conductor tap.g row.g pedestal.g
joint mating.l1 pedestal.l1 plug.l1 plug
joint mating.n pedestal.n plug.n plug
joint mating.l2 pedestal.l2 plug.l2 plug
joint mating.g pedestal.g plug.g plug
conductor cord.l1 plug.l1 cord.l1
conductor cord.n plug.n cord.n
conductor cord.l2 plug.l2 cord.l2
conductor cord.g plug.g cord.g
joint entry.l1 cord.l1 inlet.l1 inlet
joint entry.n cord.n inlet.n inlet
joint entry.l2 cord.l2 inlet.l2 inlet
joint entry.g cord.g inlet.g inlet
joint transfer.l1 inlet.l1 feed.l1
joint transfer.n inlet.n feed.n
joint transfer.l2 inlet.l2 feed.l2
breaker main.l1 feed.l1 panel.l1 main
joint main-n feed.n panel.n
breaker main.l2 feed.l2 panel.l2 main
joint ground-bus inlet.g panel.g
joint body-bond panel.g body
load load-l1 panel.l1 panel.n l1
load load-l2 panel.l2 panel.n l2
load load-l1l2 panel.l1 panel.l2 l1l2
capacitance filter-l1 panel.l1 body
capacitance filter-l2 panel.l2 body
resistance insulation-l1 panel.l1 body
breaker branch-breaker panel.l1 outlet.h
conductor branch-n panel.n outlet.n
conductor branch-g panel.g outlet.g
resistance tyres body 0
resistance spike earth 0
capacitance cord.coupling-l1-n.a plug.l1 plug.n
`)
}

func trailer() *rig.Rig {
	return testRig("transformer site pedestal plug inlet panel body", `
source source.l1 transformer.l1 transformer.n
conductor feeder.l1 transformer.l1 site.l1
conductor feeder.n transformer.n site.n
joint main-bond site.n site.g
breaker pedestal-breaker.l1 site.l1 pedestal.l1 pedestal
conductor tap.n site.n pedestal.n
conductor tap.g site.g pedestal.g
joint mating.l1 pedestal.l1 plug.l1 plug
joint mating.n pedestal.n plug.n plug
joint mating.g pedestal.g plug.g plug
conductor cord.l1 plug.l1 inlet.l1
conductor cord.n plug.n inlet.n
conductor cord.g plug.g inlet.g
breaker main.l1 inlet.l1 panel.l1 main
joint main-n inlet.n panel.n
joint ground-bus inlet.g panel.g
joint body-bond panel.g body
load load-l1 panel.l1 panel.n l1
capacitance filter-l1 panel.l1 body
capacitance filter-n panel.n body
resistance tyres body 0
resistance spike earth 0
`)
}

func house() *rig.Rig {
	return testRig("tow battery dc converter", `
source battery battery.pos battery.neg
conductor feed.pos battery.pos dc.pos
conductor return.neg battery.neg dc.neg
load load-dc dc.pos dc.neg dc
charger charger converter.pos converter.neg converter
conductor charge.pos dc.pos converter.pos
conductor charge.neg dc.neg converter.neg
source alternator tow.aux tow.gnd engine
conductor charge-line tow.aux battery.pos
joint tow-return tow.gnd battery.neg
joint frame battery.neg body
`)
}

// touchable holds for nodes a person can reach with a probe.
func touchable(node string) bool {
	switch g, _ := splitNode(node); g {
	case "transformer", "site", "row", "0":
		return false
	}
	return true
}
