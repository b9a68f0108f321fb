package load

import (
	"bytes"
	"context"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
)

// What a scenario says is kept, and a bench takes it.
func TestScenarioIsReadForItsRig(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	s := l.Scenarios["bite"]
	if s == nil {
		t.Fatal(l.Diagnostics)
	}
	r := l.Rigs["small"]
	if s.Rig != r || s.Tree != "tingle" || len(s.Meter) != 1 || s.Meter[0] != rig.HoldLeftOn || len(s.May) != 1 || s.May[0] != "plug" || len(s.Body) != 1 {
		t.Errorf("the scenario is %+v", s)
	}
	if len(s.Faults) != 1 || s.Faults[0].Fault != l.Faults["lost-ground"].Edits || s.Faults[0].Variant != 1 || s.Faults[0].Severity != 10 {
		t.Errorf("its faults are %+v", s.Faults)
	}
	want := map[int]float64{r.Param("cord.length"): 12, r.Param("tyres.ohms"): 200e3, r.Param("load-l1.watts"): 1000}
	if diff := cmp.Diff(want, s.Values); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
	setup := s.Setup()
	if setup.Values[r.Param("load-l1.watts")] != 1000 || setup.Values[r.Hertz] != 60 || r.Values()[r.Param("load-l1.watts")] != 1500 {
		t.Errorf("its setup is %+v", setup)
	}
}

// A scenario that says little takes the first variant that fits, at the
// ordinary value of its severity, 3 Ω.
func TestScenarioDefaults(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	s, diags := Scenario(context.Background(), l, "handed out.md", strings.NewReader("---\nscenario: mine\ntitle: T\nrig: small\nfaults: [{fault: lost-ground}]\nanswer: A.\n---\r\nText.\n"), nil)
	if s == nil {
		t.Fatal(diags)
	}
	if s.ID != "mine" || s.Faults[0].Variant != 0 || s.Faults[0].Severity != 3 {
		t.Errorf("%s has %+v", s.ID, s.Faults)
	}
	if place := s.Faults[0].Fault.Variants[0].Place; place != faulttree.Supply {
		t.Errorf("it lies in %s", place)
	}
	if len(l.Scenarios) != 1 {
		t.Error("the library was changed")
	}
}

// A file that was handed out is read within bounds, and says what is wrong.
func TestHandedOutFilesAreBounded(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	for _, test := range []struct{ name, text, want string }{
		{"large", strings.Repeat("a ", MostScenario), "x.md: error: the scenario is larger than 256 KiB; it is not read"},
		{"lines", strings.Repeat("\n", mostLines+1), "x.md: error: the file has more than 50000 lines; it is not read"},
		{"bytes", "\xff\xfe", "x.md:1:1: error: this byte is not UTF-8; save the file as UTF-8"},
		{"nothing", "", "x.md:1:1: error: the file does not begin with front matter; expected a line of three hyphens, the keys, and another line of three hyphens"},
		{"a bad link", "---\nscenario: a\ntitle: T\nrig: small\nanswer: A.\n---\n[x](step:tingle#fellt)\n", "x.md:7:1: error: the link leads nowhere: there is no step tingle#fellt (did you mean tingle#felt?)"},
	} {
		s, diags := Scenario(context.Background(), l, "x.md", strings.NewReader(test.text), nil)
		if s != nil || len(diags) == 0 || diags[0].String() != test.want {
			t.Errorf("%s gives %v, %v; expected %s", test.name, s, diags, test.want)
		}
	}
}

// A scenario for a fault that could not be read is not read either.
func TestScenarioRestsOnSoundFaults(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	text := files["scenarios/bite.md"]
	files["faults/lost-ground.md"] = strings.Replace(files["faults/lost-ground.md"], "weight: 3", "weight: -3", 1)
	l := FS(context.Background(), folder(files))
	if len(l.Scenarios) != 0 || len(l.Diagnostics) != 1 || l.Diagnostics[0].Pos.File != "faults/lost-ground.md" {
		t.Errorf("%d scenarios, %v", len(l.Scenarios), l.Diagnostics)
	}
	s, diags := Scenario(context.Background(), l, "x.md", strings.NewReader(text), nil)
	if s != nil || len(diags) != 1 || diags[0].Rule != RuleScenario {
		t.Errorf("handed out: %v, %v", s, diags)
	}
}

// allKeys is a scenario that says all that can be said.
const allKeys = `---
scenario: all
title: "All, of it"
rig: small
faults: [{fault: lost-ground, place: cord, text: in the cord, severity: 12 Ω}]
meter: [lead, battery]
set: {cord.length: 9.5 m, celsius: -3 °C}
loads: {l1: 1.25 kW}
may: [plug]
tree: tingle
role: owner
lesson: To be learnt.
hazard: warning
kind: misleading-story
shock: true
vary:
  numbers: true
  legs: true
  severity: {lost-ground: [1 Ω, 20 Ω]}
  loads: {l1: [0.5 kW, 1500 W]}
  set: {cord: [5 m, 20 m]}
  places: {lost-ground: [supply, cord]}
conclude: {place: cord, do: Nothing., repair_by: nobody, open: [lost-ground@supply]}
answer: Something.
sources: [a-table]
related: [lost-ground]
---
A story.
`

// A scenario that says all that can be said is read, and read back.
func TestAScenarioOfAllKeys(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	s, diags := Scenario(context.Background(), l, "x.md", strings.NewReader(allKeys), nil)
	if s == nil {
		t.Fatal(diags)
	}
	v, e := s.Vary, s.Expect
	if s.Role != faulttree.Owner || s.Lesson != "To be learnt." || s.Hazard != faulttree.Warning || !s.Is(content.MeterMistake) || !s.Is(content.MisleadingStory) || !s.Shock || s.Story != "A story." ||
		!v.Numbers || !v.Legs || v.Severity["lost-ground"] != (content.Range{From: 1, To: 20}) || v.Loads["l1"] != (content.Range{From: 500, To: 1500}) || len(v.Values) != 1 || len(v.Places) != 1 || len(v.Places[0].Places) != 2 ||
		e.Place != faulttree.Cord || e.Do != "Nothing." || e.RepairBy != "nobody" || len(e.Open) != 1 || e.Open[0].String() != "lost-ground@supply" {
		t.Errorf("it is %+v", s)
	}
	back, diags := Scenario(context.Background(), l, "x.md", strings.NewReader(ScenarioText(l, s)), nil)
	if back == nil {
		t.Fatal(diags)
	}
	if diff := sameScenario(s, back); diff != "" {
		t.Error(diff)
	}
}

// What a story says was seen is an observation of the handbook that is asked of the rig.
func TestWhatAStorySaysWasSeen(t *testing.T) {
	l := Shipped()
	read := func(seen string) (*content.Scenario, source.List) {
		text := strings.Replace(ScenarioText(l, l.Scenarios["lamps-like-candles"]), "{lamps-12v: dim}", seen, 1)
		return Scenario(context.Background(), l, "x.md", strings.NewReader(text), nil)
	}
	s, diags := read("{weak-when: on-battery, lamps-12v: dim}")
	if s == nil || !slices.Equal(s.Seen, []suspect.Seen{{Observation: "lamps-12v", Choice: "dim"}, {Observation: "weak-when", Choice: "on-battery"}}) {
		t.Errorf("it is %v, %v", s, diags)
	}
	for seen, want := range map[string]string{
		"{lamps-13v: dim}":     "there is no observation lamps-13v (did you mean lamps-12v?)",
		"{lamps-12v: dimm}":    "lamps-12v is dimm; expected as-ever, dim or dead (did you mean dim?)",
		"{lamps-50a: all-dim}": "lamps-50a cannot be seen of the rig house-12v",
		"{generator: steady}":  "generator cannot be seen of the rig house-12v",
		"[lamps-12v]":          "seen is a list",
		"{lamps-12v: [dim]}":   "lamps-12v is a list",
	} {
		s, diags := read(seen)
		if s != nil || len(diags) != 1 || !strings.Contains(diags[0].String(), want) || diags[0].Pos.Line == 0 {
			t.Errorf("%s: %v; expected %q", seen, diags, want)
		}
	}
}

// Whatever a handed-out file holds, reading it ends without a panic, twice
// with the same result, and what comes out can be set up.
func FuzzScenario(f *testing.F) {
	base := archive(f, "testdata/base.txtar")
	seedFrom(f, "scenarios/", base)
	f.Add([]byte(allKeys))
	rules := ruleTexts(f)
	l := FS(context.Background(), folder(base))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > mostFuzzed {
			return
		}
		s, diags := Scenario(context.Background(), l, "x.md", bytes.NewReader(text), nil)
		_, again := Scenario(context.Background(), l, "x.md", bytes.NewReader(text), nil)
		if diff := cmp.Diff(diags, again); diff != "" {
			t.Errorf("two readings differ:\n%s", diff)
		}
		for _, d := range diags {
			if rules[d.Rule] == "" || d.Pos.File != "x.md" {
				t.Errorf("unexpected: %s %v", d.Rule, d)
			}
		}
		if (s == nil) != diags.HasErrors() {
			t.Errorf("there is a scenario: %v, beside %v", s != nil, diags)
		}
		if s == nil {
			return
		}
		b, err := bench.New(s.Rig)
		if err == nil {
			err = b.Set(s.Setup())
		}
		if err != nil || !idForm.MatchString(s.ID) || s.Answer == "" {
			t.Errorf("a clean scenario is %+v: %v", s, err)
		}
		saved := ScenarioText(l, s)
		back, diags := Scenario(context.Background(), l, "x.md", strings.NewReader(saved), nil)
		if back == nil {
			t.Fatalf("what is written of it is not read: %v\n%s", diags, saved)
		}
		if diff := sameScenario(s, back); diff != "" {
			t.Errorf("written and read it differs:\n%s\n%s", diff, saved)
		}
	})
}

// slow gives one byte at a time and calls meanwhile before each.
type slow struct {
	text      string
	meanwhile func(left int)
}

func (s *slow) Read(b []byte) (int, error) {
	if s.meanwhile(len(s.text)); s.text == "" {
		return 0, io.EOF
	}
	n := copy(b, s.text[:1])
	s.text = s.text[n:]
	return n, nil
}

// Reading a file that was handed out tells how far it is, and ends soon after it
// is canceled however much there is still to come.
func TestScenarioFromASlowFileCanBeCanceled(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	told, left := 0, 0
	s, diags := Scenario(ctx, l, "slow.md", &slow{strings.Repeat("x", 200<<10), func(n int) {
		if left = n; n == 150<<10 {
			cancel()
		}
	}}, func(bytes int) { told = bytes })
	if s != nil || len(diags) != 1 || diags[0].Rule != RuleCanceled {
		t.Errorf("a canceled reading gives %v, %v", s, diags)
	}
	if told < 50<<10 || left < 100<<10 {
		t.Errorf("%d bytes were told, %d left", told, left)
	}
}
