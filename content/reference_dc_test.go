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
	"faultwright/faulttree/must"
)

// dcWalk takes the tree for weak 12 V with a battery of this kind and these
// readings, and with those of a vehicle in order for what they leave open.
// Readings that come first count.
func dcWalk(t *testing.T, kind string, readings ...string) faulttree.Result {
	t.Helper()
	r, _ := dcTrail(t, kind, readings...)
	return r
}

// dcTrail is dcWalk with the way it took.
func dcTrail(t *testing.T, kind string, readings ...string) (faulttree.Result, []faulttree.Entry) {
	t.Helper()
	lib := shipped()
	lines := append(slices.Clone(readings), "twelve-volt#look: nothing", "twelve-volt#moves: moves", "twelve-volt#too-much: wrong", "twelve-volt#towed: none", "twelve-volt#fuse: whole",
		"meter.known-source: 119.8", "meter.known-battery: 12.60", "dc.pos-earth: 0.2", "dc.neg-earth: 0.2", "battery.pos-neg: 13.40", "dc.pos-neg: 13.80",
		"battery.pos-neg@loaded: 12.30", "dc.pos-neg@loaded: 12.10", "battery.pos-neg@rest: 12.60", "amp:battery.neg: -0.04")
	seen, text := map[string]bool{}, "facts: {battery: "+kind+"}\n"
	for _, l := range lines {
		if key := l[:strings.LastIndex(l, ": ")]; !seen[key] {
			seen[key] = true
			text += l + "\n"
		}
	}
	supplied, diags := load.Readings(strings.NewReader(text), "readings", lib.Forest)
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "twelve-volt"}, faulttree.Owner, faulttree.DefaultMeter()))(t)
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

// visited reports whether a trail stood at a step of the tree, or at a column of
// one that is a chart.
func visited(trail []faulttree.Entry, step string) bool {
	return slices.ContainsFunc(trail, func(e faulttree.Entry) bool {
		return e.Step.Step == step || strings.HasPrefix(e.Step.Step, step+"/")
	})
}

// less is a figure in volts that is so much smaller, as a meter shows it.
func less(t *testing.T, figure string, volts float64) string {
	t.Helper()
	v := must.Have(strconv.ParseFloat(figure, 64))(t)
	return fmt.Sprintf("%.2f", v-volts)
}

// The open-circuit voltages of a lead-acid battery are quoted, two pages that
// agree: 12.06 V is a quarter, where the tree calls it nearly empty. The half
// of 12.24 V and more is not called so, empty is. 10 A through 0.04 Ω is 0.4 V.
func TestRestVoltageByTheTable(t *testing.T) {
	quarter := row(t, "09_leadacid_ocv", "soc_pct", "25")["ocv_12V"]
	l := shipped().Forest.Trees["twelve-volt"].Limits["quarter"]
	if l.Value != volts(t, quarter) || l.Source != "lead-acid-ocv" {
		t.Errorf("the limit quarter is %v from %q; the table says %s V", l.Value, l.Source, quarter)
	}
	for _, c := range []struct{ charge, want string }{
		{"0", "battery-low"}, {"25", "battery-low"}, {"50", "no-fault-shown"}, {"75", "no-fault-shown"}, {"100", "no-fault-shown"},
	} {
		v := row(t, "09_leadacid_ocv", "soc_pct", c.charge)["ocv_12V"]
		loaded := less(t, v, 0.4)
		r := dcWalk(t, "flooded", "battery.pos-neg@rest: "+v, "battery.pos-neg@loaded: "+loaded, "dc.pos-neg@loaded: "+less(t, loaded, 0.1))
		if r.Ref.Step != c.want {
			t.Errorf("%s V, %s %%: ends in %s; want %s", v, c.charge, r.Ref.Step, c.want)
		}
	}
}

// Four tables give 12.8, 13.08, 13.2 and 13.6 V for one and the same charge of
// lithium iron phosphate, so no charge is read from it: its rest voltage is not
// asked for, and a figure given all the same changes nothing.
func TestNoChargeFromLithiumRestVoltage(t *testing.T) {
	for _, kind := range []string{"lithium", "unknown"} {
		for tenths := 100; tenths <= 136; tenths += 4 {
			v := fmt.Sprintf("%d.%d0", tenths/10, tenths%10)
			for loaded, want := range map[string]string{"12.60": "no-fault-shown", "11.30": "other-empty"} {
				r, trail := dcTrail(t, kind, "battery.pos-neg@rest: "+v, "battery.pos-neg@loaded: "+loaded, "dc.pos-neg@loaded: "+less(t, loaded, 0.1))
				if r.Ref.Step != want || visited(trail, "rest") {
					t.Errorf("%s: %s V at rest, %s V loaded ends in %s; want %s, without the step rest", kind, v, loaded, r.Ref.Step, want)
				}
			}
		}
	}
}

// Absorption is 2.40 V a cell at 25 °C, and each degree colder adds 5 mV a cell
// (quoted): 14.4 V, 14.7 V at 15 °C, 15.15 V at freezing. Between 14.2 V, where
// gel ends, and 15.3 V, right at -5 °C, kind and temperature decide.
func TestChargingLimitByKindAndTemperature(t *testing.T) {
	limit := func(celsius float64) string { return fmt.Sprintf("%.1f V", 6*2.40+6*0.005*(25-celsius)) }
	too := shipped().Forest.Step(faulttree.ParseRef("twelve-volt#too-much", ""))
	text, err := os.ReadFile("handbook/trees/twelve-volt.md")
	if err != nil || too == nil {
		t.Fatal(err, too)
	}
	for _, says := range []string{"At 25 °C " + limit(25) + " is right", limit(15) + " is right at 15 °C", limit(0) + " at freezing"} {
		if !strings.Contains(string(text), says) {
			t.Errorf("the tree does not say %q", says)
		}
	}
	for posts, want := range map[string]bool{"13.60": false, "14.10": false, "14.40": true, "14.90": true, "15.20": true, "15.30": false, "16.00": false} {
		r, trail := dcTrail(t, "flooded", "battery.pos-neg: "+posts)
		if asked := visited(trail, "too-much"); asked != want {
			t.Errorf("%s V: asks for kind and temperature %v; want %v", posts, asked, want)
		}
		if over := posts > "14.2"; (r.Ref.Step == "overcharged") != over {
			t.Errorf("%s V, not right for this battery, ends in %s", posts, r.Ref.Step)
		}
	}
	for _, posts := range []string{"14.40", "14.95", "15.15"} {
		if r := dcWalk(t, "flooded", "battery.pos-neg: "+posts, "dc.pos-neg: "+posts, "twelve-volt#too-much: right"); r.Ref.Step != "no-fault-shown" {
			t.Errorf("%s V, right for this battery, ends in %s", posts, r.Ref.Step)
		}
	}
}

// 46 CFR 183.340(p) allows 10 % on 12 V (published). A run that loses that
// much is never passed over, whichever side of the way it lies on.
func TestTenPercentOfTwelveVoltsIsFound(t *testing.T) {
	for _, c := range []struct{ feed, back, want string }{
		{"1.20", "-0.00", "one-side-loses"}, {"0.00", "-1.20", "one-side-loses"}, {"0.60", "-0.60", "both-sides-lose"},
	} {
		r := dcWalk(t, "flooded", "dc.pos-neg@loaded: 11.10", "battery.pos-dc.pos@loaded: "+c.feed, "battery.neg-dc.neg@loaded: "+c.back)
		if r.Ref.Step != c.want {
			t.Errorf("%s V and %s V end in %s; want %s", c.feed, c.back, r.Ref.Step, c.want)
		}
	}
}

// A drop tells by its size: 0.2 V on the feed and 2.0 V on the return are a
// loss in the return whichever way round the probes were, and by Kirchhoff's
// voltage law the panel is 2.2 V below the posts.
func TestDropsCompareBySize(t *testing.T) {
	for _, c := range []struct{ panel, feed, back, want, title string }{
		{"10.10", "0.20", "2.00", "one-side-loses", "the return"},
		{"10.10", "2.00", "0.20", "one-side-loses", "the feed"},
		{"10.30", "0.90", "1.10", "both-sides-lose", "both sides"},
		{"12.10", "0.10", "0.10", "no-fault-shown", "little lost"},
	} {
		for _, signs := range [][2]string{{"", ""}, {"", "-"}, {"-", ""}, {"-", "-"}} {
			r := dcWalk(t, "flooded", "dc.pos-neg@loaded: "+c.panel, "battery.pos-dc.pos@loaded: "+signs[0]+c.feed, "battery.neg-dc.neg@loaded: "+signs[1]+c.back)
			if r.Ref.Step != c.want {
				t.Errorf("feed %s%s V and return %s%s V, %s, end in %s; want %s", signs[0], c.feed, signs[1], c.back, c.title, r.Ref.Step, c.want)
			}
		}
	}
}

// What the way loses is looked for at once, on the battery alone with loads on:
// nobody is sent to let the battery rest overnight.
func TestALossIsFoundWithoutARest(t *testing.T) {
	for _, c := range []struct{ panel, feed, back, want string }{
		{"9.90", "2.30", "0.10", "one-side-loses"},
		{"9.90", "0.10", "-2.30", "one-side-loses"},
		{"9.90", "1.20", "-1.20", "both-sides-lose"},
		{"0.00", "0.02", "12.28", "return-open"},
		{"0.00", "12.28", "0.02", "feed-open"},
	} {
		r, trail := dcTrail(t, "flooded", "battery.pos-neg: 13.60", "dc.pos-neg: 11.20", "dc.pos-neg@loaded: "+c.panel, "battery.pos-dc.pos@loaded: "+c.feed, "battery.neg-dc.neg@loaded: "+c.back)
		if r.Ref.Step != c.want || visited(trail, "rest") {
			t.Errorf("%s V at the panel, %s V and %s V on the way end in %s; want %s, without a rest", c.panel, c.feed, c.back, r.Ref.Step, c.want)
		}
	}
}

// The meter is proved on each function by a limit of its own: 12.6 V is right
// on a battery and far too low on a receptacle.
func TestMeterIsProvedOnEachFunction(t *testing.T) {
	for _, c := range []struct{ live, battery, want string }{
		{"119.8", "12.60", "no-fault-shown"}, {"119.8", "-12.60", "no-fault-shown"},
		{"12.6", "12.60", "proof-ac.meter-reads-low"}, {"119.8", "9.80", "proof-ac.meter-reads-low"}, {"119.8", "99.8", "proof-ac.meter-doubtful"},
	} {
		r := dcWalk(t, "flooded", "meter.known-source: "+c.live, "meter.known-battery: "+c.battery)
		if r.Ref.Step != c.want {
			t.Errorf("%s V AC and %s V DC end in %s; want %s", c.live, c.battery, r.Ref.Step, c.want)
		}
	}
}

// One wrong reading, such as a tip that missed the metal or a display that kept
// the figure before, does not hide that nothing charges.
func TestOneWrongReadingDoesNotHideADeadConverter(t *testing.T) {
	for _, wrong := range []string{"battery.pos-neg: 0.00", "dc.pos-neg: 0.00", "battery.pos-neg: 13.01", "dc.pos-neg: 13.01", "converter.pos-neg: 0.00", "converter.pos-neg: 13.60"} {
		r := dcWalk(t, "flooded", wrong, "battery.pos-neg: 12.40", "dc.pos-neg: 12.39", "converter.pos-neg: 12.39", "battery.pos-neg@loaded: 12.10", "dc.pos-neg@loaded: 12.00")
		if len(r.Finding.Clears) > 0 {
			t.Errorf("%s beside 12.40 V at posts and panel ends in %s", wrong, r.Ref.Step)
		}
	}
}

// The correction for temperature that is printed beside the table of rest
// voltages is a hydrometer's, 0.004 for each 10 °F, times six cells. By the
// entropies of the cell's reaction a cold battery reads lower, not higher, by
// far less: dE/dT = ΔS / 2F. So no page tells to correct a rest voltage.
func TestRestVoltageIsNotCorrectedAsAHydrometer(t *testing.T) {
	number := func(text string) float64 {
		return must.Have(strconv.ParseFloat(text, 64))(t)
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
		text := must.Have(os.ReadFile("handbook/" + file))(t)
		for _, wrong := range []string{"−0.05 V", "take off 0", "take off about 0"} {
			if strings.Contains(string(text), wrong) || !strings.Contains(string(text), want) {
				t.Errorf("%s corrects a rest voltage (%q), or does not say %q", file, wrong, want)
			}
		}
	}
}
