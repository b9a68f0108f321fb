package practice_test

import (
	"encoding/json"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// Whatever an attempt says, verifying it ends, what comes out is written and read
// again as it is, and follows from itself where it is all possible.
func FuzzDecode(f *testing.F) {
	c := fuzzCase()
	r, _ := whole(f, c)
	text := must.Have(json.Marshal(r.Attempt()))(f)
	f.Add(text)
	for _, seed := range []string{
		`{}`, `null`, `{"case":"case"}`, `{"case":"case","role":"owner","meter":{"counts":100}}`,
		`{"case":"case","meter":{"counts":6000},"acts":[{"kind":"take-back"},{"kind":"read","red":"0","black":"0"},{"kind":"throw","name":"plug","asked":true},{"kind":"take-back"}],"repaired":4}`,
		`{"case":"case","meter":{"counts":6000},"acts":[{"kind":"read","red":"body"}],"conclusion":{"faults":["open-ground"],"deciding":[0,-1,99],"sure":"sure","at":-1},"repaired":1,"hints":[{"after":-3}],"predictions":[{"before":77}]}`,
		`{"case":"case","meter":{"counts":6000},"acts":[{"kind":"read","red":"body","black":"earth","setting":{"function":"ohms","range":"-1","jack":"amperes","hold":true},"at":-9223372036854775808}]}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		a, err := practice.Decode(text)
		if err != nil || len(a.Acts) > 200 {
			return // longer ones say nothing new, and take time
		}
		a.Case = c.ID
		out, differs, err := c.Verify(a)
		if err != nil {
			return
		}
		again, err := json.Marshal(out)
		if err != nil {
			t.Fatalf("%+v cannot be written: %v", out, err)
		}
		read, err := practice.Decode(again)
		if err != nil {
			t.Fatalf("%s cannot be read: %v", again, err)
		}
		if diff := cmp.Diff(out, read, asShown, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("(-written +read):\n%s", diff)
		}
		if _, now, err := c.Verify(read); err != nil || differs == nil && now != nil {
			t.Fatalf("verified, written and verified again: %v, %v", now, err)
		}
	})
}

func fuzzCase() practice.Case {
	c := practice.NewCase("case", trailer())
	c.May = []string{"pedestal", "plug", "main"}
	c.MayTry(tries)
	c.Faults = []rig.Applied{{Fault: catalogue()[0]}}
	return c
}

// Each thing that cannot have come about so is found, at the act that it is of.
func TestEditedAttempts(t *testing.T) {
	c := with(t, "open-ground")
	r, _ := whole(t, c)
	number := map[string]int{}
	for i, a := range r.Attempt().Acts {
		number[a.Kind.String()] = i
	}
	for _, tt := range []struct {
		what string
		edit func(a *practice.Attempt)
		at   int
	}{
		{"a reading", func(a *practice.Attempt) { a.Acts[1].Shown = "1.2 V" }, 1},
		{"a note left out", func(a *practice.Attempt) { a.Acts[4].Note = "" }, 4},
		{"a hazard left out", func(a *practice.Attempt) { a.Acts[4].Hazard = false }, 4},
		{"a reading put elsewhere", func(a *practice.Attempt) { a.Acts[1].Red = "pedestal.l1" }, 1},
		{"another setting", func(a *practice.Attempt) { a.Acts[1].Setting.Range = 6 * faulttree.One }, 1},
		{"a setting that no meter has", func(a *practice.Attempt) { a.Acts[1].Setting.Function = 99 }, 1},
		{"no setting", func(a *practice.Attempt) { a.Acts[1].Setting.Function = meter.AsAsked }, 1},
		{"two acts exchanged", func(a *practice.Attempt) { a.Acts[0], a.Acts[1] = a.Acts[1], a.Acts[0] }, 1},
		{"an act left out", func(a *practice.Attempt) { a.Acts = append(a.Acts[:2:2], a.Acts[3:]...) }, 2},
		{"a point that is not there", func(a *practice.Attempt) { a.Acts[1].Black = "moon" }, 1},
		{"a kind that is none", func(a *practice.Attempt) { a.Acts[1].Kind = 77 }, 1},
		{"a refusal", func(a *practice.Attempt) { a.Acts[1].Kind = practice.Reject }, 1},
		{"a touch unasked", func(a *practice.Attempt) { a.Acts[2].Asked = false }, 2},
		{"an act before the one before", func(a *practice.Attempt) { a.Acts[3].At = 0 }, 3},
		{"an act in the far future", func(a *practice.Attempt) { a.Acts[15].At = 1 << 62 }, 15},
		{"no repair", func(a *practice.Attempt) { a.Repaired = 0 }, 13},
		{"a repair before the end", func(a *practice.Attempt) { a.Repaired = 3 }, 3},
		{"a repair after more acts than there are", func(a *practice.Attempt) { a.Repaired = 99 }, 13},
		{"a repair before the beginning", func(a *practice.Attempt) { a.Repaired = -1 }, 13},
		{"a conclusion before its readings", func(a *practice.Attempt) { a.Conclusion.At = 0 }, 0},
		{"a conclusion that runs backwards", func(a *practice.Attempt) {
			a.Acts, a.Repaired, a.Conclusion.Deciding, a.Hints, a.Conclusion.At = nil, 0, nil, nil, -1
		}, practice.OfNoAct},
		{"a fault beside no fault", func(a *practice.Attempt) { a.Conclusion.Faults = []string{"open-ground", practice.NoFault} }, practice.OfNoAct},
		{"a deciding act that is none", func(a *practice.Attempt) { a.Conclusion.Deciding = []int{1, 1000} }, practice.OfNoAct},
		{"a deciding act after the conclusion", func(a *practice.Attempt) { a.Conclusion.Deciding = []int{14} }, practice.OfNoAct},
		{"a hint before the beginning", func(a *practice.Attempt) { a.Hints[0].After = -1 }, practice.OfNoAct},
		{"a hint after the end", func(a *practice.Attempt) { a.Hints[0].After = 14 }, practice.OfNoAct},
		{"a hint later than the conclusion", func(a *practice.Attempt) { a.Hints[0].At = time.Hour }, practice.OfNoAct},
		{"a prediction of no reading", func(a *practice.Attempt) { a.Predictions[0].Before = 40 }, practice.OfNoAct},
		{"another conclusion, of which no repair helps", func(a *practice.Attempt) { a.Conclusion.Faults = []string{"leak"} }, 15},
	} {
		a := r.Attempt()
		text := must.Have(json.Marshal(a))(t)
		var edited practice.Attempt
		must.Do(t, json.Unmarshal(text, &edited))
		tt.edit(&edited)
		out, differs, err := c.Verify(edited)
		if err != nil || differs == nil {
			t.Errorf("%s: %v, %v", tt.what, differs, err)
			continue
		}
		if differs.Act != tt.at || differs.Said == "" && differs.Computed == "" || len(out.Acts) != len(edited.Acts) {
			t.Errorf("%s is found at act %d of %d: %v; want act %d", tt.what, differs.Act, len(edited.Acts), differs, tt.at)
		}
	}
	if _, differs, err := c.Verify(r.Attempt()); differs != nil || err != nil {
		t.Error(differs, err)
	}
}

// Cases and meters that are none are refused, by a sentence and without a panic.
func TestNoCase(t *testing.T) {
	c := with(t)
	if _, err := c.Begin(faulttree.Meter{FullScale: 1 << 60}); err == nil {
		t.Error("a meter of endless counts is taken")
	}
	for _, watts := range []float64{zero / zero, 1 / zero, -1 / zero} {
		if c.SetLoad("l1", watts) == nil {
			t.Errorf("loads of %v W are taken", watts)
		}
	}
	for name, change := range map[string]func(c *practice.Case){
		"numbers of another rig":  func(c *practice.Case) { c.Values = c.Values[:3] },
		"a variant that is none":  func(c *practice.Case) { c.Faults = []rig.Applied{{Fault: catalogue()[0], Variant: 9}} },
		"a fault of another rig":  func(c *practice.Case) { c.Faults = []rig.Applied{{Fault: catalogue()[4]}} },
		"a number that is none":   func(c *practice.Case) { c.Values[2] = zero / zero },
		"a severity that is none": func(c *practice.Case) { c.Faults = []rig.Applied{{Fault: catalogue()[3], Severity: zero / zero}} },
		"no fault where one is":   func(c *practice.Case) { c.Faults = []rig.Applied{{}} },
	} {
		c := with(t)
		change(&c)
		v, err := c.Begin(faulttree.DefaultMeter())
		if err == nil {
			_, err = v.Do(practice.Act{Kind: practice.Read, Red: "body", Black: "earth"})
		}
		if err == nil {
			t.Errorf("%s: read without an error", name)
		}
	}
}

var zero = 0.0
