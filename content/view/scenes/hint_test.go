package scenes

import (
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scripted"
)

// What was foreseen is told from what was read by the figure alone.
func TestForeseen(t *testing.T) {
	lib := load.Shipped()
	c := CaseOf(lib, lib.Scenarios["bright-over-the-sink"])
	l, err := c.Begin(faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	done, err := l.Do(practice.Act{Kind: practice.Prove})
	if err != nil {
		t.Fatal(err)
	}
	all := Expectations(faulttree.VoltsAC)
	for i, e := range all {
		right := e.Text == "from 105 V to 127 V" // a source known to be live has 120 V
		if said := Foreseen(all, i, done[0]); strings.Contains(said, ", and it read 120.0 V.") != right {
			t.Errorf("%s: %q", e.Text, said)
		}
	}
}

// A step says all that leads to its reading, in the order of somebody with care: who
// does as it says meets no obstacle and does nothing that is marked as unsafe. What it
// would show is not said where it is to be foreseen.
func TestStepsLeadToTheirReadingWithCare(t *testing.T) {
	lib := load.Shipped()
	beliefs := NewBeliefs(lib, faulttree.DefaultMeter())
	for id, most := range map[string]int{"toast-kettle-and-a-cold-morning": 4, "only-while-the-water-heats": 2} {
		s := lib.Scenarios[id]
		c, by := CaseOf(lib, s), MarkBook(lib, s, beliefs)
		p, err := scripted.Begin(c, s.Role, faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		p.Attempt.Level = practice.Worked
		if _, err := p.Prove(); err != nil {
			t.Fatal(err)
		}
		for range most {
			step, err := NextStep(t.Context(), lib, c, p.Attempt, by)
			if err != nil || !step.Reads || len(step.Plan) == 0 {
				t.Fatalf("%s: the step is %+v, %v", id, step, err)
			}
			says := []string{}
			for _, a := range step.Plan {
				if a.Kind == practice.Read {
					says = append(says, "Dial on "+SettingText(a.Setting), "red on "+faulttree.InSentence(PointName(a.Red)), "black on "+faulttree.InSentence(PointName(a.Black)))
					p.Set(a.Setting.Function)
				} else {
					says = append(says, c.Words(a))
				}
				if _, err := p.Do(a); err != nil {
					t.Errorf("%s: %q cannot be followed: %v", id, step.Text(), err)
				}
			}
			for _, x := range says {
				if !strings.Contains(step.Text(), x) {
					t.Errorf("%s: %q does not say %q", id, step.Text(), x)
				}
			}
			if strings.Contains(step.Text(), " against ") {
				t.Errorf("%s: %q says what it would show", id, step.Text())
			}
		}
		if err := p.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}}); err != nil {
			t.Fatal(err)
		}
		m, err := mark.Of(t.Context(), c, p.Attempt, by)
		if err != nil || len(m.Caps) > 0 {
			t.Errorf("%s: followed step by step, %v %v", id, m.Caps, err)
		}
	}
}

// A meter that showed nothing where there is something is not read with: the step stays
// at the meter.
func TestStepAfterAProofThatShowedNothing(t *testing.T) {
	lib := load.Shipped()
	s := lib.Scenarios["dead-says-the-meter"]
	c := CaseOf(lib, s)
	l, err := c.Begin(faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	done, err := l.Do(practice.Act{Kind: practice.Prove})
	if err != nil {
		t.Fatal(err)
	}
	step, err := NextStep(t.Context(), lib, c, practice.Attempt{Case: c.ID}.With(done...), MarkBook(lib, s, NewBeliefs(lib, faulttree.DefaultMeter())))
	if err != nil || !strings.Contains(step.Text(), "does not prove it") || len(step.Plan) > 0 {
		t.Errorf("the meter showed %q, and the step is %+v, %v", done[0].Shown, step, err)
	}
}
