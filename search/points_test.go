package search

import (
	"strings"
	"testing"

	"faultwright/faulttree/lists"
)

// offered lists what a query is offered as: quantity and figure, of each
// quantity once.
func offered(x *Index, text string) []string {
	var out []string
	for _, h := range x.Find(Query{Text: text}).Hits {
		if h.Quantity != "" {
			out = lists.With(out, strings.TrimSpace(h.Quantity+" "+h.Reading))
		}
	}
	return out
}

// TestOfferedOnlyForThePointsSaid holds that a reading is offered for the two
// points that were said and for no others. With a lost ground and a hot on the
// body the body stands at 120 V to the soil and at 0 V to the ground pin, so a
// zero between those two must not be filled in as the body to the spike.
func TestOfferedOnlyForThePointsSaid(t *testing.T) {
	x := shippedIndex(t)
	for _, text := range []string{
		"0 volts between bumper and ground pin", "0 volts between bumper and panel ground", "0 V bumper to outlet ground",
		"0 volts from the frame to the ground wire", "0 V door to green wire", "0 V body to earth pin", "zero volts between chassis and grounding conductor",
		"0.0 V step to protective earth", "0 volts bumper to neutral", "0 V from hot of the outlet to hot of the pedestal", "0 V plug to frame",
		"0 V frame to the ground pin of the outlet", "0 V between the ladder and the ground contact of the panel",
		// The other point is said, and is none that a step measures.
		"120 V pedestal hot to the sink", "0 V bumper to the water tap", "120 V L1 to the lamp post", "0 V between the frame and the shower tray",
		"mains live to neutral 231V consumer unit",
		// A body, but not that of the vehicle.
		"2 V metal box of the pedestal to the spike", "2 V generator frame to the spike", "2 V frame of the generator to spike", "3 V from the metal fence to the spike",
		"120 V hot to neutral at the neighbour's pedestal", "2 V body to spike, plug pulled", "2 V body to spike with the main breaker off",
		// What was not read.
		"not 120 V hot to neutral", "isn't 120 V hot to neutral", "more than 30 V body to spike", "should be 120 V hot to neutral", "no 120 V hot to neutral",
		"120 hot to ground and bumper", "0 volts ground pin to panel ground",
	} {
		if got := offered(x, text); len(got) != 0 {
			t.Errorf("%q is offered as %v", text, got)
		}
	}
	// Nobody said the soil, or where another figure was read: the step is offered, but a harmless figure is not
	// filled in. One that means danger is.
	for _, text := range []string{"bumper reads 3 volts to the spike and 60 with the air con on", "0 volts bumper to ground", "0 V on the bumper", "0.3 V on the door handle", "0 volts between body and body"} {
		for _, got := range offered(x, text) {
			if strings.Contains(got, " ") {
				t.Errorf("%q fills in %s", text, got)
			}
		}
	}
	for text, want := range map[string]string{
		"58 volts on the bumper":              "body-earth 58 V",
		"at the pedestal the bumper reads 58": "body-earth 58 V",
		"body to spike 3 V not under load":    "body-earth 3 V",
		"12.6 V battery negative to positive": "battery.pos-neg",
		"58 V bumper to ground":               "body-earth 58 V",
		"0 V bumper to spike":                 "body-earth 0 V",
		"0 V frame to wet ground":             "body-earth 0 V",
		"0.3 V body to earth":                 "body-earth 0.3 V",
		"0.2 ohm plug ground to frame":        "ohm:plug.g-body@unplugged 0.2 Ω",
		"0.2 ohm outlet ground to body":       "ohm:outlet.g-body@unplugged 0.2 Ω",
	} {
		if got := offered(x, text); len(got) == 0 || got[0] != want {
			t.Errorf("%q is offered as %v, want %s", text, got, want)
		}
	}
}

// TestEarthIsTheContact holds that earth and the names of the grounding
// conductor behind "neutral to" or "hot to" mean the contact, and mean the soil
// only where a word for it is said.
func TestEarthIsTheContact(t *testing.T) {
	x := shippedIndex(t)
	for _, earth := range []string{"earth", "ground", "ground wire", "green wire", "grounding conductor", "the earth pin", "earth wire"} {
		for text, want := range map[string]string{"3 V neutral to " + earth: "n-g 3 V", "118 V hot to " + earth: "-g 118 V", "118 V live to " + earth: "-g 118 V"} {
			got := offered(x, text)
			if len(got) == 0 {
				t.Errorf("%q is not offered", text)
			}
			for _, g := range got {
				if !strings.HasSuffix(g, want) {
					t.Errorf("%q is offered as %s", text, g)
				}
			}
		}
	}
	for _, soil := range []string{"spike", "the soil", "dirt", "a stake", "ground rod", "earth rod", "earth spike"} {
		got := offered(x, "3 V neutral to "+soil)
		if len(got) == 0 {
			t.Errorf("neutral to %s is not offered", soil)
		}
		for _, g := range got {
			if !strings.HasSuffix(g, "n-earth 3 V") {
				t.Errorf("neutral to %s is offered as %s", soil, g)
			}
		}
	}
}

// TestTwoReadingsKeepTheirValues holds that each of two figures goes with its
// own words.
func TestTwoReadingsKeepTheirValues(t *testing.T) {
	x := shippedIndex(t)
	for _, c := range []struct{ text, one, two, never string }{
		{"100 V leg 1 and 140 V leg 2", "l1-n 100 V", "l2-n 140 V", "l1-n 140 V,l2-n 100 V"},
		{"leg 1 100 V and leg 2 140 V", "l1-n 100 V", "l2-n 140 V", "l1-n 140 V,l2-n 100 V"},
		{"leg 1 is 100 volts, 140 volts on leg 2", "l1-n 100 V", "l2-n 140 V", "l1-n 140 V,l2-n 100 V"},
		{"120 hot to ground but 0 hot to neutral", "-g 120 V", "-n 0 V", "-g 0 V,-n 120 V"},
		{"hot to ground 120, hot to neutral 0", "-g 120 V", "-n 0 V", "-g 0 V,-n 120 V"},
		{"between hot and ground 120 and between hot and neutral 0", "-g 120 V", "-n 0 V", "-g 0 V,-n 120 V"},
		{"outlet: 118 V hot to neutral; neutral to ground 3 V", "outlet.h-n 118 V", "outlet.n-g 3 V", "n-g 118 V,h-n 3 V"},
		{"reads 83 on L1 and 157 on L2", "l1-n 83 V", "l2-n 157 V", "l1-n 157 V,l2-n 83 V"},
	} {
		got := offered(x, c.text)
		has := func(end string) bool {
			for _, g := range got {
				if strings.HasSuffix(strings.Replace(g, ".h-", ".l1-", 1), strings.Replace(end, ".h-", ".l1-", 1)) {
					return true
				}
			}
			return false
		}
		if !has(c.one) || !has(c.two) {
			t.Errorf("%q is offered as %v, want %s and %s", c.text, got, c.one, c.two)
		}
		for _, never := range strings.Split(c.never, ",") {
			if has(never) {
				t.Errorf("%q is offered as %v: the values have changed places", c.text, got)
			}
		}
	}
}

// TestNoReading holds that what is not said as a reading is not offered as one,
// and that numbers in words are left rather than half read.
func TestNoReading(t *testing.T) {
	x := shippedIndex(t)
	for _, text := range []string{
		"open neutral 50", "floating neutral 208", "60ish volts on the bumper", "60-ish on the bumper", "two hundred 40 volts hot to hot",
		"zero point odd volts on the frame", "3 or 4 volts on the bumper", "hot and neutral reversed 50", "generator 60 Hz", "30 feet of cord neutral hot",
		"50 amp hot neutral", "fifty 8 volts on the bumper", "one of 2 bumpers",
		"legs read 83 and 157", "meter says zero so the trailer isn't live", "83 and 157 on the hots", "battery 80% full", "sixty 5 volts on the bumper",
	} {
		for _, got := range offered(x, text) {
			t.Errorf("%q is offered as %s", text, got)
		}
	}
}

// TestOhmsWithoutANumber holds that ohms or continuity, and OL beside them,
// mean an ohm reading.
func TestOhmsWithoutANumber(t *testing.T) {
	x := shippedIndex(t)
	for text, want := range map[string]string{
		"no continuity between plug ground and frame":        "ohm:plug.g-body@unplugged OL",
		"no continuity between plug neutral and body":        "ohm:plug.n-body@unplugged", // which would look harmless
		"OL ohms neutral of the plug to the body":            "ohm:plug.n-body@unplugged OL",
		"continuity hot pin of the plug to body":             "ohm:plug.l1-body@unplugged",
		"OL resistance plug ground to frame":                 "ohm:plug.g-body@unplugged OL",
		"infinity ohms from the plug neutral to the body OL": "ohm:plug.n-body@unplugged OL",
		"ohms from the outlet ground to the frame":           "ohm:outlet.g-body@unplugged",
		"cord neutral end to end 0.3 ohm":                    "ohm:plug.n-cord.n@unplugged 0.3 Ω",
		"resistance generator neutral to ground":             "ohm:generator.n-g@unplugged",
	} {
		if got := offered(x, text); len(got) == 0 || got[0] != want {
			t.Errorf("%q is offered as %v, want %s", text, got, want)
		}
	}
}

// TestDirectVoltages holds that direct voltages in ordinary words are offered.
func TestDirectVoltages(t *testing.T) {
	x := shippedIndex(t)
	for text, want := range map[string]string{
		"battery 12.2 rested":                           "battery.pos-neg@rest 12.2 V",
		"14.4 volts at the converter":                   "converter.pos-neg 14.4 V",
		"-12.6 volts":                                   "battery.pos-neg -12.6 V",
		"-12.6 volts at the battery":                    "battery.pos-neg -12.6 V",
		"battery reads 11.9":                            "battery.pos-neg 11.9 V",
		"13.6 V at the battery posts":                   "battery.pos-neg 13.6 V",
		"12 volt panel 11.2 V loaded":                   "dc.pos-neg@loaded 11.2 V",
		"battery positive to panel positive 0.8 V":      "battery.pos-dc.pos@loaded 0.8 V",
		"0.3 V battery negative to panel negative":      "battery.neg-dc.neg@loaded 0.3 V",
		"11.4 volts DC positive to negative at battery": "battery.pos-neg 11.4 V",
	} {
		got := offered(x, text)
		found := false
		for _, g := range got {
			found = found || g == want
		}
		if !found {
			t.Errorf("%q is offered as %v, want %s", text, got, want)
		}
		for _, g := range got {
			if strings.Contains(g, "pedestal") || strings.Contains(g, "outlet") {
				t.Errorf("%q is offered as %s", text, g)
			}
		}
	}
}

// TestPairsThatNoStepMeasures holds that such a pair is said to be none, and
// that the card which tells why it proves nothing comes first.
func TestPairsThatNoStepMeasures(t *testing.T) {
	x := shippedIndex(t)
	for text, want := range map[string]string{
		"0 volts between bumper and ground pin":  "the body against the grounding contact in volts",
		"0 V bumper to panel ground":             "the body against the grounding contact of the panel in volts",
		"0 V from the outlet ground to the body": "the body against the grounding contact of the outlet in volts",
		"0 V body to neutral":                    "the body against the neutral contact in volts",
	} {
		a := x.Find(Query{Text: text})
		if len(a.NoStep) != 1 || a.NoStep[0] != want || len(a.Hits) == 0 || a.Hits[0].ID != unmeasuredCard {
			t.Errorf("%q: said %q and found %s; want %q and the card first", text, a.NoStep, list(a.Hits), want)
		}
	}
	for _, text := range []string{"58 V on the bumper", "0 V hot to neutral", "tingle", "0.2 ohm plug ground to frame", "open neutral 50"} {
		if a := x.Find(Query{Text: text}); len(a.NoStep) != 0 {
			t.Errorf("%q: said %q", text, a.NoStep)
		}
	}
}

// TestStatesThatSpoilAReading holds that a reading is not offered at a step
// that asks for it with the power on, or off, where the words say the other: a
// body is at 0 V to the spike in every vehicle whose breaker is off.
func TestStatesThatSpoilAReading(t *testing.T) {
	x := shippedIndex(t)
	for _, text := range []string{
		"0 V body to soil power off", "0 V body to spike breaker off", "0 V body to spike, the breaker is off", "body to spike 0 volts with the pedestal breaker off",
		"0 volts frame to dirt inverter turned off", "0 V hot to neutral at the pedestal breaker off", "0 V body to spike not plugged in", "0 V body to spike and it isn't plugged in",
		"body to spike 0 V before I plugged in", "0 V body to spike in dry sand", "0 V body to spike main breaker is off",
		"0 V body to spike, no power at the site", "0 V body to spike, breaker tripped", "0 V painted body to spike", "0 V body to spike, meter hold on", "0 V body to spike on ohms setting",
		"0.1 ohm plug ground to body with power on", "0.1 ohms plug ground to frame while plugged in",
	} {
		if got := offered(x, text); len(got) != 0 {
			t.Errorf("%q is offered as %v", text, got)
		}
	}
	for text, want := range map[string]string{
		"0 V body to spike all loads off":          "body-earth 0 V",
		"2 V body to spike plugged in":             "body-earth 2 V",
		"60 volts off the bumper to the spike":     "body-earth 60 V",
		"0.1 ohm plug ground to body disconnected": "ohm:plug.g-body@unplugged 0.1 Ω",
		"12.6 V battery generator off":             "battery.pos-neg 12.6 V",
	} {
		if got := offered(x, text); len(got) == 0 || got[0] != want {
			t.Errorf("%q is offered as %v; want %s", text, got, want)
		}
	}
}

// TestNothingHarmlessIsGuessed holds that a harmless figure is not filled in
// where a leg, a place, a state or the reading itself was not said.
func TestNothingHarmlessIsGuessed(t *testing.T) {
	x := shippedIndex(t)
	for _, text := range []string{
		"should I get 0 volts from body to spike", "what if body to spike reads 0 V", "breaker off: hot to neutral 0 V and body to spike 0 V",
		"OL hot to body", "OL ohms hot to ground", "body to spike 1 2 0 volts", "no volts between body and spike", "nothing at all between the frame and the dirt",
		"door frame to step 0 V", ".5 V drop from battery to converter positive", "0 volts outlet to spike", "cord end hot to neutral 0 V", "L1 to L1 0 V",
		"0 V body to spike with meter on DC",
	} {
		for _, got := range offered(x, text) {
			if strings.Contains(got, " ") {
				t.Errorf("%q fills in %s", text, got)
			}
		}
	}
	for _, text := range []string{"120 V hot to neutral at the pedestal", "120 volts between the live and the earth on the pedestal"} {
		for _, got := range offered(x, text) {
			if strings.HasPrefix(got, "pedestal.l2") && strings.Contains(got, " ") {
				t.Errorf("%q fills in %s: nobody said L2", text, got)
			}
		}
	}
	for _, got := range offered(x, "13.6 at the battery and 11.2 at the fuse panel") {
		if strings.HasPrefix(got, "panel.") {
			t.Errorf("a fuse panel is taken for that of the line voltage: %s", got)
		}
	}
	for text, want := range map[string]string{
		"hot to neutral 120 volts at the 30 amp outlet":        "pedestal.l1-n 120 V",
		"no volts between body and spike":                      "body-earth",
		"97 volts L1 to neutral at the 50 amp receptacle":      "pedestal.l1-n 97 V",
		"nothing between hot and neutral at the pedestal":      "pedestal.l1-n",
		"13.6 at the battery and 11.2 at the fuse panel":       "battery.pos-neg 13.6 V",
		"about sixty volts from the bumper to the dirt":        "body-earth 60 V",
		"one hundred and nineteen volts outlet hot to neutral": "outlet.h-n 119 V",
	} {
		if got := offered(x, text); len(got) == 0 || got[0] != want {
			t.Errorf("%q is offered as %v; want %s", text, got, want)
		}
	}
}
