package content_test

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// rows reads a table of testdata/reference. Its column "status" says how far
// a row can be trusted as evidence: published (the source's own text was
// read), quoted (by another publication), derived (computed here), common
// (practice of the trade, no source), memory (not verified).
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f := must.Have(os.Open("../testdata/reference/" + name + ".csv"))(t)
	defer f.Close()
	all := must.Have(csv.NewReader(f).ReadAll())(t)
	var out []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = record[i]
		}
		out = append(out, row)
	}
	return out
}

func row(t *testing.T, table, column, value string, more ...string) map[string]string {
	t.Helper()
next:
	for _, r := range rows(t, table) {
		if r[column] != value {
			continue
		}
		for i := 0; i+1 < len(more); i += 2 {
			if r[more[i]] != more[i+1] {
				continue next
			}
		}
		return r
	}
	t.Fatalf("%s has no row %s = %s", table, column, value)
	return nil
}

func volts(t *testing.T, text string) faulttree.Amount {
	t.Helper()
	return must.Have(faulttree.ParseAmount(text))(t)
}

// ANSI C84.1 service range B: 110 V to 127 V is quoted by a public repository;
// 104 V of utilization range B is from memory, not verified. Both are in whole volts what NEMA
// MG 1, as quoted, leaves a motor for 115 V: ten percent less or more. Two hots have twice
// 127 V. The stray voltage limit of 10 V is published (veterinary manual).
func TestLimitsEqualTheirSources(t *testing.T) {
	forest := shipped().Forest
	b120 := row(t, "02_voltage_ranges", "quantity", "Range B service", "nominal_V", "120")
	lowUse := row(t, "02_voltage_ranges", "quantity", "Range B utilization", "nominal_V", "120")
	b240 := row(t, "02_voltage_ranges", "quantity", "Range B service", "nominal_V", "240")
	stray := row(t, "07_stray", "item", "neutral-earth above this may indicate a wiring fault")
	for _, c := range []struct {
		tree, limit, want, source string
	}{
		{"pedestal", "service-high", b120["max_V"], "c84-1"},
		{"pedestal", "hots-high", b240["max_V"], "c84-1"},
		{"pedestal", "sagged", lowUse["min_V"], "nema-mg-1"},
		{"body-voltage", "shift", stray["value"], "stray-voltage-manual"},
	} {
		l, ok := forest.Trees[c.tree].Limits[c.limit]
		if !ok || l.Value != volts(t, c.want) || l.Source != c.source {
			t.Errorf("%s: limit %s is %v from %q; the source says %s V, %s", c.tree, c.limit, l.Value, l.Source, c.want, c.source)
		}
	}
	motor := row(t, "02_voltage_ranges", "standard", "NEMA MG 1 (as ANSI/NEMA basis)")
	limits := forest.Trees["pedestal"].Limits
	least, most := 115*0.9, 115*1.1
	if motor["min_V"] != "-10 %" || motor["max_V"] != "+10 %" || math.Ceil(least) != limits["sagged"].Value.Float() || math.Ceil(most) != limits["service-high"].Value.Float() {
		t.Errorf("a motor for 115 V has %v V to %v V, by %s and %s of its plate", least, most, motor["min_V"], motor["max_V"])
	}
	if limits["hots-high"].Value != 2*limits["service-high"].Value {
		t.Errorf("two hots: %v V", limits["hots-high"].Value.Float())
	}
}

// NAVEDTRA 14097, the Navy's page on electric shock, is published and records
// deaths from 30 V up; the handbook's touch limit stands there. 15 V for wet
// skin and 5 V are common practice, no source.
func TestTouchLimit(t *testing.T) {
	l := shipped().Forest.Trees["body-voltage"].Limits["touch"]
	if l.Value != 30*faulttree.One || l.Source != "navedtra-14097" {
		t.Errorf("touch limit %v from %q", l.Value, l.Source)
	}
}

// Two legs of a wye stand at 207.8 V (Lessons In Electric Circuits, AC/poly,
// published): 120·√3. Two legs of a split phase at 240 V.
func TestTwoSuppliesAreToldApart(t *testing.T) {
	wye := row(t, "06_split_and_wye", "case", "two 120 V legs 120 deg apart")["value"]
	split := row(t, "06_split_and_wye", "case", "two 120 V sources 180 deg")["value"]
	v, err := strconv.ParseFloat(wye, 64)
	if err != nil || math.Abs(v-120*math.Sqrt(3)) > 0.1 {
		t.Fatalf("the table says %s V, %v", wye, err)
	}
	if got := walk50(t, "120.0", "120.0", wye); got.Ref.Step != "wye" {
		t.Errorf("%s V between the legs ends in %s", wye, got.Ref)
	}
	if got := walk50(t, "120.0", "120.0", split); got.Ref.Step != "shown" {
		t.Errorf("%s V between the legs ends in %s", split, got.Ref)
	}
}

// Every worked example of an open neutral leads to DANGER naming it. The
// inputs are published (training slides: 144 Ω and 72 Ω), quoted (a textbook
// problem: 12 Ω and 24 Ω) and derived; the voltages follow from Ohm's law.
// Two equal loads leave 120 V on each leg: that reading cannot show it, and
// the finding says so.
func TestOpenNeutralExamples(t *testing.T) {
	for _, r := range rows(t, "06_open_neutral") {
		for _, supply := range []string{"240", "208"} {
			a, b := short(t, r["Va_open_"+supply]), short(t, r["Vb_open_"+supply])
			got := walk50(t, a, b, supply)
			if a == b && supply == "240" {
				if !excluded(got.Finding.CannotExclude, "open-neutral") {
					t.Errorf("%s / %s V of %s: %s claims to exclude an open neutral", a, b, supply, got.Ref)
				}
				continue
			}
			if got.Finding.Signal != faulttree.Danger || !has(got.Finding.Faults, "open-neutral") {
				t.Errorf("%s: %s / %s V of %s ends in %s, %s", r["loads"], a, b, supply, got.Ref, got.Finding.Signal)
			}
		}
	}
}

func short(t *testing.T, text string) string {
	t.Helper()
	v := must.Have(strconv.ParseFloat(text, 64))(t)
	return strconv.FormatFloat(v, 'f', 1, 64)
}

func has(list []string, id string) bool {
	return slices.Contains(list, id)
}

func excluded(list []faulttree.NotExcluded, id string) bool {
	return slices.ContainsFunc(list, func(x faulttree.NotExcluded) bool { return x.Fault == id })
}

// walk50 walks the 50 A pedestal with these leg voltages and everything else
// in order. The neutral contact is read to the spike only where it is in doubt.
func walk50(t *testing.T, leg1, leg2, between string) faulttree.Result {
	t.Helper()
	lib := shipped()
	supplied, diags := load.Readings(strings.NewReader(`
meter.known-source: 120
pedestal.l1-earth: 120
pedestal#look: whole
pedestal.cover-earth: 0.2
pedestal.g-earth: 0.2
pedestal.n-earth: 60
pedestal.l1-g: 120
pedestal.l2-n@lowz: 120
pedestal.l1-n: `+leg1+`
pedestal.l2-n: `+leg2+`
pedestal.l1-l2: `+between+`
`), "readings", lib.Forest)
	if diags.HasErrors() {
		t.Fatal(diags.Err())
	}
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "pedestal-50a"}, faulttree.Owner, faulttree.DefaultMeter()))(t)
	w, next, err := w.Supply(supplied)
	r, ended := w.Finding()
	if err != nil || !ended {
		t.Fatalf("%s / %s / %s V stops at %s wanting %s: %v", leg1, leg2, between, w.At(), next, err)
	}
	return r
}

// Thresholds of 60 Hz current for men and women: Lessons In Electric Circuits
// (published), mostly also MIL-HDBK-1025/10 Table 1 (published). Class A GFCI:
// no trip below 4 mA, trip at 6 mA and above (UL 943, quoted).
func TestCardsRepeatTheTables(t *testing.T) {
	lib := shipped()
	currents := document.Plain(lib.Cards["body-currents"].Body)
	for _, effect := range []string{"perception threshold", "painful, cannot let go (median)", "severe, breathing difficult"} {
		r := row(t, "03_current_effects", "effect", effect)
		for _, column := range []string{"ac60_men_mA", "ac60_women_mA"} {
			if !strings.Contains(currents, r[column]) {
				t.Errorf("card body-currents lacks %s: %s mA", effect, r[column])
			}
		}
	}
	gfci := document.Plain(lib.Cards["what-a-gfci-does"].Body)
	for _, want := range []string{"4 mA", "6 mA"} {
		if !strings.Contains(gfci, want) {
			t.Errorf("card what-a-gfci-does lacks %q", want)
		}
	}
}
