package content_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
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
	lib := shipped()
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
	l := shipped().Forest.Trees["twelve-volt"].Limits["quarter"]
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
	l := shipped().Forest.Trees["twelve-volt"].Limits["too-much"]
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

// The correction for temperature that is printed beside the table of rest
// voltages is a hydrometer's, 0.004 for each 10 °F, times six cells. By the
// entropies of the cell's reaction a cold battery reads lower, not higher, by
// far less: dE/dT = ΔS / 2F. So no page tells to correct a rest voltage.
func TestRestVoltageIsNotCorrectedAsAHydrometer(t *testing.T) {
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	entropy := 0.0
	for _, r := range rows(t, "09_leadacid_entropy") {
		entropy += number(r["moles"]) * number(r["J_per_mol_K"])
	}
	const faraday, cells, table = 96485.0, 6.0, 26.7
	slope := cells * entropy / (2 * faraday) // volts for each degree
	if slope < 0.0006 || slope > 0.0025 {
		t.Fatalf("six cells change by %.4f V a degree; quoted figures have 0.0025 V, of the same sign", slope)
	}
	for _, r := range rows(t, "09_leadacid_temp") {
		colder, printed := table-number(r["electrolyte_C"]), number(r["add_to_voltmeter_V"])
		if hydrometer := -cells * 0.004 * colder * 9 / 50; math.Abs(printed-hydrometer) > 0.002 {
			t.Errorf("at %s °C the printed %.3f V is not a hydrometer's %.3f V", r["electrolyte_C"], printed, hydrometer)
		}
		if right := slope * colder; printed*right > 0 {
			t.Errorf("at %s °C the printed %.3f V has the sign of the right %.3f V", r["electrolyte_C"], printed, right)
		}
	}
	at4 := slope * (table - 4)
	for file, want := range map[string]string{
		"cards/battery-rest-voltage.md": fmt.Sprintf("%.2f V less at 4 °C", at4), "faults/battery-low.md": fmt.Sprintf("4 °C makes only some %.2f V", at4),
		"trees/twelve-volt.md": "Enter it as shown",
	} {
		text, err := os.ReadFile("handbook/" + file)
		if err != nil {
			t.Fatal(err)
		}
		for _, wrong := range []string{"−0.05 V", "take off 0", "take off about 0"} {
			if strings.Contains(string(text), wrong) || !strings.Contains(string(text), want) {
				t.Errorf("%s corrects a rest voltage (%q), or does not say %q", file, wrong, want)
			}
		}
	}
}
