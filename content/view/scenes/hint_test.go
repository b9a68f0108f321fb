package scenes

import (
	"slices"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
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
// would show is not said where it is to be foreseen. Nothing is asked for that the reading
// does not need: when a part of it is done, the rest is what was said, and a body that
// has just read 58 V is not touched for a load that the pulled plug takes out of the way.
func TestStepsLeadToTheirReadingWithCare(t *testing.T) {
	lib := load.Shipped()
	beliefs := NewBeliefs(lib, faulttree.DefaultMeter())
	for id, most := range map[string]int{"toast-kettle-and-a-cold-morning": 4, "only-while-the-water-heats": 2, "barefoot-on-the-steel-step": 3, "buzz-after-the-rain": 3} {
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
			for i, a := range step.Plan {
				if a.Kind == practice.Read {
					says = append(says, "Dial on "+SettingText(a.Setting), "red on "+faulttree.InSentence(PointName(a.Red)), "black on "+faulttree.InSentence(PointName(a.Black)))
					p.Set(a.Setting.Function)
				} else {
					says = append(says, c.Words(a))
				}
				if _, err := p.Do(a); err != nil {
					t.Errorf("%s: %q cannot be followed: %v", id, step.Text(), err)
				}
				if rest := step.Plan[i+1:]; len(rest) > 0 {
					next := must.Have(NextStep(t.Context(), lib, c, p.Attempt, by))(t)
					if words := func(x practice.Act) string { return c.Words(x) }; !slices.Equal(lists.Each(next.Plan, words), lists.Each(rest, words)) {
						t.Errorf("%s: %q; after “%s” it is %q", id, step.Text(), c.Words(a), next.Text())
					}
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
		if err := p.Conclude(practice.Conclusion{Faults: c.Truth()}); err != nil {
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

// Step by step begins, after the proof, with the complaint where a meter can show it and
// no hand or tip comes near what is live; elsewhere it says why it does not. What is read
// so is no unsafe act, and the marks know it for the complaint.
func TestStepsBeginWithTheComplaint(t *testing.T) {
	lib := load.Shipped()
	beliefs := NewBeliefs(lib, faulttree.DefaultMeter())
	const live, unmeasured = "would be read on a live contact", "is seen without a meter"
	for id, want := range map[string]string{
		"barefoot-on-the-steel-step": "body earth", "buzz-after-the-rain": "body earth", "flat-by-breakfast": "dc.pos dc.neg",
		"bright-over-the-sink": live, "van-coffee-at-dawn": live, "the-new-cooler-did-it": unmeasured, "hand-on-the-black-plug": unmeasured,
	} {
		s := lib.Scenarios[id]
		c, by := CaseOf(lib, s), MarkBook(lib, s, beliefs)
		p := must.Have(scripted.Begin(c, s.Role, faulttree.DefaultMeter()))(t)
		p.Attempt.Level = practice.Worked
		must.Have(p.Prove())(t)
		step := must.Have(NextStep(t.Context(), lib, c, p.Attempt, by))(t)
		if len(step.Plan) == 0 {
			t.Fatalf("%s: the step is %+v", id, step)
		}
		read := step.Plan[len(step.Plan)-1]
		if begins := read.Red+" "+read.Black == want && strings.Contains(step.How, "complain"); want != live && want != unmeasured && !begins || (want == live || want == unmeasured) && !strings.Contains(step.How, want) {
			t.Errorf("%s: want %q; the first step is %q", id, want, step.Text())
		}
		if want == "body earth" && len(step.Plan) > 1 {
			t.Errorf("%s: before the body as it was brought it says %q", id, step.How)
		}
		for _, a := range step.Plan {
			if a.Reads() {
				p.Set(a.Setting.Function)
			}
			must.Have(p.Do(a))(t)
		}
		if next := must.Have(NextStep(t.Context(), lib, c, p.Attempt, by))(t); strings.Contains(next.Text(), "complain") {
			t.Errorf("%s: after the first reading it says %q", id, next.Text())
		}
		must.Do(t, p.Conclude(practice.Conclusion{Faults: c.Truth()}))
		m := must.Have(mark.Of(t.Context(), c, p.Attempt, by))(t)
		seen := m.Parts[slices.IndexFunc(m.Parts, func(x mark.Part) bool { return x.ID == rubric.Complaint })]
		if len(m.Caps) > 0 || strings.Contains(step.How, "See for yourself first") && seen.Points < seen.Of {
			t.Errorf("%s: unsafe acts %+v, the complaint %d of %d: %s", id, m.Caps, seen.Points, seen.Of, seen.Reason)
		}
	}
}
