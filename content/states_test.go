package content_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// What the reader is told in a quantity's title and what the model does are the
// same state: both stand in the handbook, the titles for the reader, the states
// for drawn vehicles.
func TestTitlesSayTheStateThatIsRead(t *testing.T) {
	says := []struct {
		words string
		off   []string // switches
		on    []string
	}{
		{"cord off at both ends", []string{"plug", "inlet"}, nil},
		{"pulled plug", []string{"plug", "generator", "inverter"}, nil},
		{"not in the inlet", []string{"inlet"}, []string{"plug", "pedestal"}},
		{"adapter in the pedestal", []string{"adapter"}, []string{"plug"}},
		{"adapter in the hand", []string{"adapter", "plug"}, nil},
		{"inlet pins, cord off", []string{"inlet", "plug"}, nil},
		{"main breaker off", []string{"main"}, []string{"plug"}},
		{"plug pulled, generator and inverter off", []string{"plug", "generator", "inverter"}, nil},
		{"generator running", nil, []string{"generator"}},
		{"generator stopped", []string{"generator"}, nil},
		{"inverter running", nil, []string{"inverter"}},
		{"inverter off", []string{"inverter"}, nil},
		{"across the main breaker", nil, []string{"main", "plug"}},
	}
	lib := shipped()
	rules := stands(t, lib)
	met := map[string]bool{}
	for id, q := range lib.Forest.Quantities {
		title, st := strings.ToLower(q.Title), rules.StateFor(q, []string{"l1"})
		for _, s := range says {
			if !strings.Contains(title, s.words) {
				continue
			}
			met[s.words] = true
			for _, name := range s.off {
				if !st.Off[name] {
					t.Errorf("%s, %q, is read with the %s on", id, q.Title, name)
				}
			}
			for _, name := range s.on {
				if st.Off[name] {
					t.Errorf("%s, %q, is read with the %s off", id, q.Title, name)
				}
			}
		}
		if strings.Contains(title, "loads on") && !st.Loads["l1"] {
			t.Errorf("%s, %q, is read with the loads off", id, q.Title)
		}
	}
	for _, s := range says {
		if !met[s.words] {
			t.Errorf("no title says %q", s.words)
		}
	}
}

// stands is a vehicle by which states are asked: their rules are the same for
// every rig of a handbook.
func stands(t *testing.T, lib *content.Library) *bench.Bench {
	t.Helper()
	return must.Have(bench.New(lib.Rigs["coach-50a"]))(t)
}

// One row for each state of the handbook, and for each pair of them that meet.
func TestTheStatesThatQuantitiesAreReadIn(t *testing.T) {
	const ac, dc, ohms, amps, directAmps = faulttree.VoltsAC, faulttree.VoltsDC, faulttree.Ohms, faulttree.AmpsAC, faulttree.AmpsDC
	lib := shipped()
	b := stands(t, lib)
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
		{"ohm:plug.l1-n@unplugged", ohms, unplugged, "", true, "the plug pulled, nothing makes current aboard; the loads connected, for ohms on a pulled plug"},
		{"plug.l1-n@unplugged", ac, unplugged, "", false, "the plug pulled, nothing makes current aboard"},
		{"ohm:generator.n-g@unplugged", ohms, unplugged, "", true, "the plug pulled, nothing makes current aboard; the loads connected, for ohms on a pulled plug"},
		{"pedestal.l1-n", ac, "plug", "", false, "nothing plugged in at the pedestal"},
		{"pedestal.l1-earth", ac, "plug", "", false, "nothing plugged in at the pedestal"},
		{"amp:pedestal.g", amps, "", "", false, ""}, // a clamp: the vehicle stays plugged in
		{"adapter.out-l1-out-n", ac, "adapter", "", false, "the adapter in the pedestal, nothing in the adapter"},
		{"ohm:adapter.l1-out-l1@unplugged", ohms, unplugged, "", true, "the plug pulled, nothing makes current aboard; the loads connected, for ohms on a pulled plug; the adapter in the pedestal, nothing in the adapter"},
		{"cord.l1-n", ac, "inlet", "", false, "the cord's end not in the inlet"},
		{"ohm:cord.l1-n@unplugged", ohms, "adapter converter engine generator inlet inverter plug", "", true, "the plug pulled, nothing makes current aboard; the loads connected, for ohms on a pulled plug; the cord's end not in the inlet"},
		{"inlet.l1-n@unplugged", ac, "adapter converter engine generator inlet inverter plug", "", false, "the plug pulled, nothing makes current aboard; the cord off the inlet"},
		{"ohm:plug.l1-cord.l1@unplugged", ohms, "adapter converter engine generator inlet inverter plug", "", true, "the plug pulled, nothing makes current aboard; the loads connected, for ohms on a pulled plug; the cord off at both ends"},
		{"body-earth@main-off", ac, "main", "", false, "the vehicle's main breaker off"},
		{"battery.pos-neg", dc, "", "", false, ""},
		{"battery.pos-neg@rest", dc, "converter engine", "", false, "the battery at rest"},
		{"ohm:battery.pos-neg", ohms, "disconnect", "", false, "the battery disconnected for ohms"},
		{"ohm:tow.gnd-body", ohms, "disconnect", "", false, "the battery disconnected for ohms"},
		{"tow.aux-gnd", dc, "converter", "engine", false, "the tow vehicle's engine running"},
		{"battery.pos-neg@loaded", dc, "converter engine", "", true, "12 V loads from the battery alone"},
		{"dc.pos-neg@loaded", dc, "converter engine", "", true, "12 V loads from the battery alone"},
		{"amp:battery.neg", directAmps, "converter engine", "", false, "everything off, the battery alone"},
	} {
		name := must.Have(faulttree.ParseQuantityName(c.id, func(p string) bool { _, ok := lib.Points[p]; return ok }))(t)
		q := faulttree.Quantity{ID: c.id, Unit: c.unit, Red: name.Red, Black: name.Black, Conditions: name.Conditions}
		var rules []string
		for _, rule := range b.Rig().States {
			if rule.Fits(q) {
				rules = append(rules, rule.Text)
				tested[rule.Text] = true
			}
		}
		if got := strings.Join(rules, "; "); got != c.rules {
			t.Errorf("%s is read by the rules %q, want %q", c.id, got, c.rules)
		}
		st := b.StateFor(q, []string{"l1", "l2"})
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
	for _, rule := range b.Rig().States {
		if !tested[rule.Text] {
			t.Errorf("no row is read with %s", rule.Text)
		}
	}
}

// What rests on the supply of the vehicle although nothing is live there is what is read
// with the converter on; an ohmmeter brings its own current.
func TestWhatIsReadOfTheConverter(t *testing.T) {
	lib := shipped()
	b := must.Have(bench.New(lib.Rigs["house-12v"]))(t)
	fed := 0
	for _, id := range lib.Forest.Quantities.IDs() {
		q := lib.Forest.Quantities[id]
		if !slices.Contains([]string{"battery", "dc", "converter"}, rig.Group(q.Red)) {
			continue
		}
		want := q.Unit != faulttree.Ohms && !b.StateFor(q, nil).Off["converter"]
		if q.Fed != want || q.NeedsPlug() != want {
			t.Errorf("%s rests on the supply: %v; want %v", id, q.Fed, want)
		}
		if want {
			fed++
		}
	}
	if fed < 5 || lib.Forest.Quantities["battery.pos-neg@rest"].Fed {
		t.Errorf("%d readings do", fed)
	}
}
