package load

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// sameScenario compares what two files say, not where they say it.
func sameScenario(a, b *content.Scenario) string {
	return cmp.Diff(a, b, cmpopts.IgnoreTypes(source.Pos{}, []document.Block{}), cmp.Comparer(func(x, y *rig.Rig) bool { return x == y }), cmp.Comparer(func(x, y *rig.Fault) bool { return x == y }),
		cmpopts.EquateEmpty())
}

// Whatever a scenario says, a file written of it says the same.
func TestAScenarioIsWrittenAndReadBack(t *testing.T) {
	libraries := map[string]*content.Library{"shipped": Shipped(), "small": FS(context.Background(), folder(archive(t, "testdata/base.txtar")))}
	read := 0
	for name, l := range libraries {
		for id, s := range l.Scenarios {
			read++
			text := ScenarioText(l, s)
			back, diags := Scenario(context.Background(), l, "saved.md", strings.NewReader(text), nil)
			if back == nil {
				t.Fatalf("%s %s: %v\n%s", name, id, diags, text)
			}
			if diff := sameScenario(s, back); diff != "" {
				t.Errorf("%s %s: want (-) and got (+) differ:\n%s\n%s", name, id, diff, text)
			}
			if again := ScenarioText(l, back); again != text {
				t.Errorf("%s %s: written again it is\n%s\nbefore\n%s", name, id, again, text)
			}
		}
	}
	if read < 15 {
		t.Errorf("%d scenarios were written", read)
	}
}

// Words that mean something in YAML are quoted, long ones folded.
func TestAScenarioWithAwkwardWords(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	s := *l.Scenarios["bite"]
	s.Title = `No: "it" bites # again`
	s.Lesson = "yes"
	s.Answer = strings.Repeat("A tingle: \"no\", # he said, 'yes' {at} [once] & again. ", 8) + "End"
	s.Story = "A first line.\n\n- one\n- two\n\n> **NOTICE** Nothing."
	s.Expect = content.Expectation{Place: "supply", Do: "Breaker off: now.", RepairBy: "the site's electrician", Open: nil}
	back, diags := Scenario(context.Background(), l, "saved.md", strings.NewReader(ScenarioText(l, &s)), nil)
	if back == nil {
		t.Fatalf("%v\n%s", diags, ScenarioText(l, &s))
	}
	if diff := sameScenario(&s, back); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// Numbers are written as one would, and read back to the last bit.
func TestNumbersAreWritten(t *testing.T) {
	for _, x := range []struct {
		value float64
		unit  rig.ParamUnit
		want  string
	}{
		{0.25, rig.Ohms, "0.25 Ω"}, {2000, rig.Ohms, "2 kΩ"}, {0.3, rig.Ohms, "0.3 Ω"}, {0.002, rig.Ohms, "2 mΩ"}, {4.7e-8, rig.Farads, "47 nF"}, {1500, rig.Watts, "1500 W"},
		{0, rig.Gauge, "1/0 AWG"}, {14, rig.Gauge, "14 AWG"}, {-120, rig.Degrees, "-120°"}, {0.95, rig.Ratio, "0.95"}, {12.1, rig.Volts, "12.1 V"}, {7.6, rig.Metres, "7.6 m"}, {0, rig.Ohms, "0 Ω"},
	} {
		got := NumberText(x.value, x.unit)
		back, err := ParseValue(got, x.unit)
		if got != x.want || err != nil || back != x.value {
			t.Errorf("%g is written %q and read as %g, %v; expected %q", x.value, got, back, err, x.want)
		}
	}
	for x := 1e-11; x < 1e11; x *= math.Pi {
		for u := rig.Volts; u <= rig.Ratio; u++ {
			if u == rig.Gauge {
				continue
			}
			back, err := ParseValue(NumberText(x, u), u)
			if err != nil || math.Abs(back-x) > 1e-9*x+1e-12 {
				t.Errorf("%g %s is written %q and read as %g, %v", x, u.Symbol(), NumberText(x, u), back, err)
			}
		}
	}
}
