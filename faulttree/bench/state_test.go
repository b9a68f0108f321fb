package bench

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// ask is a quantity by its id, between points that are all known.
func ask(t *testing.T, id string, u faulttree.Unit) faulttree.Quantity {
	t.Helper()
	points := []string{"pedestal.l1", "pedestal.n", "pedestal.g", "adapter.out-l1", "adapter.out-n", "adapter.l1", "plug.l1", "plug.n", "cord.l1", "cord.n",
		"inlet.l1", "inlet.n", "panel.l1", "panel.n", "battery.pos", "battery.neg", "dc.pos", "dc.neg", "tow.aux", "tow.gnd", "body", "earth", "generator.n", "generator.g"}
	name, err := faulttree.ParseQuantityName(id, func(p string) bool { return slices.Contains(points, p) })
	if err != nil {
		t.Fatal(err)
	}
	return faulttree.Quantity{ID: id, Unit: u, Red: name.Red, Black: name.Black, Conditions: name.Conditions}
}

// One row for each rule, and for each pair of rules that meet.
func TestStateFor(t *testing.T) {
	const ac, dc, ohms, amps, directAmps = faulttree.VoltsAC, faulttree.VoltsDC, faulttree.Ohms, faulttree.AmpsAC, faulttree.AmpsDC
	tested := map[string]bool{}
	unplugged := "adapter converter engine generator inverter plug"
	for _, c := range []struct {
		id    string
		unit  faulttree.Unit
		off   string // switches, in order
		on    string
		loads bool
		rules string // by name, joined by "; "
	}{
		{"panel.l1-n", ac, "", "", false, ""},
		{"panel.l1-n@loaded", ac, "", "", true, ""},
		{"panel.l1-n@lowz", ac, "", "", false, ""},
		{"body-earth", ac, "", "", false, ""},
		{"body-pedestal.g", ac, "", "", false, ""}, // a spare receptacle: the vehicle stays plugged in
		{"body-earth@unplugged", ac, unplugged, "", false, "the plug pulled, nothing makes current aboard"},
		{"ohm:plug.l1-n@unplugged", ohms, unplugged, "", true, "the plug pulled, nothing makes current aboard"},
		{"plug.l1-n@unplugged", ac, unplugged, "", false, "the plug pulled, nothing makes current aboard"},
		{"ohm:generator.n-g@unplugged", ohms, unplugged, "", true, "the plug pulled, nothing makes current aboard"},
		{"pedestal.l1-n", ac, "plug", "", false, "nothing plugged in at the pedestal"},
		{"pedestal.l1-earth", ac, "plug", "", false, "nothing plugged in at the pedestal"},
		{"amp:pedestal.g", amps, "", "", false, ""}, // a clamp: the vehicle stays plugged in
		{"adapter.out-l1-out-n", ac, "adapter", "", false, "the adapter in the pedestal, nothing in the adapter"},
		{"ohm:adapter.l1-out-l1@unplugged", ohms, unplugged, "", true, "the plug pulled, nothing makes current aboard; the adapter in the pedestal, nothing in the adapter"},
		{"cord.l1-n", ac, "inlet", "", false, "the cord's end not in the inlet"},
		{"ohm:cord.l1-n@unplugged", ohms, "adapter converter engine generator inlet inverter plug", "", true, "the plug pulled, nothing makes current aboard; the cord's end not in the inlet"},
		{"inlet.l1-n@unplugged", ac, "adapter converter engine generator inlet inverter plug", "", false, "the plug pulled, nothing makes current aboard; the cord off the inlet"},
		{"ohm:plug.l1-cord.l1@unplugged", ohms, "adapter converter engine generator inlet inverter plug", "", true, "the plug pulled, nothing makes current aboard; the cord off at both ends"},
		{"body-earth@main-off", ac, "main", "", false, "the vehicle's main breaker off"},
		{"battery.pos-neg", dc, "", "", false, ""},
		{"battery.pos-neg@rest", dc, "converter engine", "", false, "the battery at rest"},
		{"ohm:battery.pos-neg", ohms, "disconnect", "", false, "the battery disconnected for ohms"},
		{"ohm:tow.gnd-body", ohms, "disconnect", "", false, "the battery disconnected for ohms"},
		{"tow.aux-gnd", dc, "converter", "engine", false, "the tow vehicle's engine running"},
		{"battery.pos-neg@loaded", dc, "converter engine", "", true, "12 V loads from the battery alone"},
		{"dc.pos-neg@loaded", dc, "converter engine", "", true, "12 V loads from the battery alone"},
		{"amp:battery.neg", directAmps, "converter engine", "", false, "12 V loads from the battery alone"},
	} {
		q := ask(t, c.id, c.unit)
		var rules []string
		for _, rule := range stateRules {
			if rule.fits(q) {
				rules = append(rules, rule.name)
				tested[rule.name] = true
			}
		}
		if got := strings.Join(rules, "; "); got != c.rules {
			t.Errorf("%s is read by the rules %q, want %q", c.id, got, c.rules)
		}
		st := StateFor(q, []string{"l1", "l2"})
		var off, on []string
		for _, name := range slices.Sorted(maps.Keys(st.Off)) {
			if st.Off[name] {
				off = append(off, name)
			} else {
				on = append(on, name)
			}
		}
		if strings.Join(off, " ") != c.off || strings.Join(on, " ") != c.on {
			t.Errorf("%s is read with %v off and %v on; want %q and %q", c.id, off, on, c.off, c.on)
		}
		if want := map[bool]int{true: 2, false: 0}[c.loads]; len(st.Loads) != want {
			t.Errorf("%s is read with the loads %v", c.id, st.Loads)
		}
	}
	for _, rule := range stateRules {
		if !tested[rule.name] {
			t.Errorf("no row is read with %s", rule.name)
		}
	}
	if st := StateFor(ask(t, "panel.l1-n@loaded", ac), []string{"l2"}); len(st.Loads) != 1 || !st.Loads["l2"] {
		t.Errorf("with the loads of one leg: %v", st.Loads)
	}
}
