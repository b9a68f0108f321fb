package content_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// dcWalk takes the tree for weak 12 V with these readings, and with those of a
// vehicle in order for what they leave open. Readings that come first count.
func dcWalk(t *testing.T, kind string, readings ...string) faulttree.Result {
	t.Helper()
	r, _ := dcTrail(t, kind, readings...)
	return r
}

// dcTrail is dcWalk with the way it took.
func dcTrail(t *testing.T, kind string, readings ...string) (faulttree.Result, []faulttree.Entry) {
	t.Helper()
	lib := load.Shipped()
	lines := append(slices.Clone(readings), "twelve-volt#felt: nothing", "twelve-volt#battery-case: whole", "twelve-volt#kind: "+kind,
		"meter.known-source: 119.8", "meter.known-battery: 12.60", "dc.pos-earth: 0.2", "battery.pos-neg: 13.40", "dc.pos-neg: 13.80",
		"dc.pos-neg@loaded: 12.0", "battery.pos-dc.pos@loaded: 0.10", "battery.neg-dc.neg@loaded: -0.10",
		"amp:battery.pos@loaded: 10.0", "amp:battery.neg: -0.04", `tow.aux-gnd: "not possible: no tow vehicle"`, `"ohm:tow.gnd-body@unplugged": "not possible: no tow vehicle"`)
	seen, text := map[string]bool{}, ""
	for _, l := range lines {
		key := l[:strings.LastIndex(l, ": ")]
		if strings.Contains(l, "not possible") {
			key = l[:strings.Index(l, ": ")]
		}
		if !seen[key] {
			seen[key] = true
			text += l + "\n"
		}
	}
	supplied, diags := load.Readings(strings.NewReader(text), "readings", lib.Forest)
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "twelve-volt"}, faulttree.Owner, faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	w, next, err := w.Supply(supplied)
	if err != nil {
		t.Fatal(err)
	}
	r, ended := w.Finding()
	if !ended {
		t.Fatalf("the walk stops at %s and wants %s", w.At(), next)
	}
	return r, w.Trail()
}

// The open-circuit voltages of a lead-acid battery are quoted, two pages that
// agree: 12.06 V is a quarter, where the tree calls it nearly empty. The half
// of 12.24 V and more is not called so, empty is.
func TestRestVoltageByTheTable(t *testing.T) {
	quarter := row(t, "09_leadacid_ocv", "soc_pct", "25")["ocv_12V"]
	l := load.Shipped().Forest.Trees["twelve-volt"].Limits["quarter"]
	if l.Value != volts(t, quarter) || l.Source != "lead-acid-ocv" {
		t.Errorf("the limit quarter is %v from %q; the table says %s V", l.Value, l.Source, quarter)
	}
	for _, c := range []struct{ charge, want string }{
		{"0", "battery-flat"}, {"25", "battery-flat"}, {"50", "no-fault-shown"}, {"75", "no-fault-shown"}, {"100", "no-fault-shown"},
	} {
		v := row(t, "09_leadacid_ocv", "soc_pct", c.charge)["ocv_12V"]
		if r := dcWalk(t, "lead-acid", "battery.pos-neg@rest: "+v, "battery.pos-neg@loaded: "+v); r.Ref.Step != c.want {
			t.Errorf("%s V, %s %%: ends in %s; want %s", v, c.charge, r.Ref.Step, c.want)
		}
	}
}

// Four tables give 12.8, 13.08, 13.2 and 13.6 V for one and the same charge of
// lithium iron phosphate, so no charge is read from it: between the cut-off
// and the end of charge every rest voltage leads to the same finding.
func TestNoChargeFromLithiumRestVoltage(t *testing.T) {
	for tenths := 115; tenths <= 136; tenths++ {
		v := fmt.Sprintf("%d.%d0", tenths/10, tenths%10)
		r := dcWalk(t, "lithium", "battery.pos-neg@rest: "+v, "battery.pos-neg@loaded: "+v, "dc.pos-neg: 14.4")
		if r.Ref.Step != "no-fault-shown" {
			t.Errorf("%s V at rest ends in %s", v, r.Ref.Step)
		}
	}
}

// Charging above 14.7 V is too much: absorption is 2.40 V a cell, and ten
// degrees below 25 °C add 5 mV for each cell and degree (quoted).
func TestChargingLimit(t *testing.T) {
	cell := faulttree.One * 240 / 100
	most := 6*cell + 6*10*5*faulttree.One/1000
	l := load.Shipped().Forest.Trees["twelve-volt"].Limits["too-much"]
	if l.Value != most || l.Source != "lead-acid-ocv" {
		t.Errorf("the limit is %v from %q; want %v", l.Value, l.Source, most)
	}
	if r := dcWalk(t, "lead-acid", "battery.pos-neg: 14.40", "battery.pos-neg@rest: 12.60", "battery.pos-neg@loaded: 12.30"); r.Ref.Step == "overcharged" {
		t.Error("absorption at 25 °C is called too much")
	}
	if r := dcWalk(t, "lead-acid", "battery.pos-neg: 14.70"); r.Ref.Step != "overcharged" {
		t.Errorf("14.70 V ends in %s", r.Ref.Step)
	}
}

// 46 CFR 183.340(p) allows 10 % on 12 V (published). A run that loses that
// much is never passed over, whichever side of the way it lies on.
func TestTenPercentOfTwelveVoltsIsFound(t *testing.T) {
	for _, c := range []struct{ feed, back, want string }{
		{"1.20", "-0.00", "one-side-loses"}, {"0.00", "-1.20", "one-side-loses"}, {"0.60", "-0.60", "both-sides-lose"},
	} {
		r := dcWalk(t, "lead-acid", "battery.pos-neg@rest: 12.60", "battery.pos-neg@loaded: 12.30", "battery.pos-dc.pos@loaded: "+c.feed, "battery.neg-dc.neg@loaded: "+c.back)
		if r.Ref.Step != c.want {
			t.Errorf("%s V and %s V end in %s; want %s", c.feed, c.back, r.Ref.Step, c.want)
		}
	}
}

// A drop tells by its size: 0.2 V on the feed and 2.0 V on the return are a
// loss in the return whichever way round the probes were, and by Kirchhoff's
// voltage law the panel is 2.2 V below the posts.
func TestDropsCompareBySize(t *testing.T) {
	for _, c := range []struct{ feed, back, want, label string }{
		{"0.20", "2.00", "one-side-loses", "the return"},
		{"2.00", "0.20", "one-side-loses", "the feed"},
		{"0.90", "1.10", "both-sides-lose", "both sides"},
		{"0.10", "0.10", "no-fault-shown", "little lost"},
	} {
		for _, signs := range [][2]string{{"", ""}, {"", "-"}, {"-", ""}, {"-", "-"}} {
			r, trail := dcTrail(t, "lead-acid", "battery.pos-neg@rest: 12.60", "battery.pos-neg@loaded: 12.30",
				"battery.pos-dc.pos@loaded: "+signs[0]+c.feed, "battery.neg-dc.neg@loaded: "+signs[1]+c.back)
			if r.Ref.Step != c.want {
				t.Errorf("feed %s%s V and return %s%s V end in %s; want %s", signs[0], c.feed, signs[1], c.back, r.Ref.Step, c.want)
			}
			for _, e := range trail {
				if e.Step.Step == "drops" && e.Outcome.Label != c.label {
					t.Errorf("feed %s%s V and return %s%s V are called %q; want %q", signs[0], c.feed, signs[1], c.back, e.Outcome.Label, c.label)
				}
			}
		}
	}
}

// 13.6 V at the posts and 11.2 V at the panel lose 2.4 V on the way now; that
// is looked for at once, and nobody is sent to let the battery rest overnight.
func TestLossUnderChargeIsFoundWithoutARest(t *testing.T) {
	for _, c := range []struct{ panel, feed, back, want string }{
		{"11.20", "2.30", "0.10", "one-side-loses"},
		{"11.20", "0.10", "-2.30", "one-side-loses"},
		{"11.20", "1.20", "-1.20", "both-sides-lose"},
		{"0.00", "0.02", "13.58", "return-open"},
	} {
		r, trail := dcTrail(t, "lead-acid", "battery.pos-neg: 13.60", "dc.pos-neg: "+c.panel, "battery.pos-dc.pos: "+c.feed, "battery.neg-dc.neg: "+c.back)
		if r.Ref.Step != c.want {
			t.Errorf("13.60 V at the posts, %s V at the panel, %s V and %s V on the way end in %s; want %s", c.panel, c.feed, c.back, r.Ref.Step, c.want)
		}
		for _, e := range trail {
			if e.Step.Step == "supply-off" {
				t.Errorf("%s V at the panel is sent to rest", c.panel)
			}
		}
	}
}

// The meter is proved on each function by a limit of its own: 12.6 V is right
// on a battery and far too low on a receptacle.
func TestMeterIsProvedOnEachFunction(t *testing.T) {
	for _, c := range []struct{ live, battery, want string }{
		{"119.8", "12.60", "no-fault-shown"}, {"119.8", "-12.60", "no-fault-shown"},
		{"12.6", "12.60", "meter-reads-low"}, {"119.8", "9.80", "meter-reads-low"}, {"119.8", "99.8", "meter-doubtful"},
	} {
		r := dcWalk(t, "lead-acid", "meter.known-source: "+c.live, "meter.known-battery: "+c.battery, "battery.pos-neg@rest: 12.60", "battery.pos-neg@loaded: 12.30")
		if r.Ref.Step != c.want {
			t.Errorf("%s V AC and %s V DC end in %s; want %s", c.live, c.battery, r.Ref.Step, c.want)
		}
	}
}
