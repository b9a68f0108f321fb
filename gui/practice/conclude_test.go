package practice

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// A conclusion is made by the keyboard alone: Tab, arrows, Space and Enter. What
// was repaired is read again, and then the vehicle is sound.
func TestConcludeByKeyboardAndVerify(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("bright-over-the-sink")
	w.probe(try, "panel.l2", "panel.n")
	w.Press("Conclude")
	w.Want("Say yet: what is wrong, where it sits, which readings decided, what is to be done, who repairs.")
	canvas := w.Window().Canvas()
	to := func(plain string) {
		t.Helper()
		for range 80 {
			if named, ok := canvas.Focused().(interface{ Plain() string }); ok && strings.Contains(named.Plain(), plain) {
				return
			}
			canvas.FocusNext()
		}
		t.Fatalf("the keyboard does not reach %q:\n%s", plain, w.Text())
	}
	list := frametest.Find[*look.Select](w.Reader)[0]
	for !strings.HasPrefix(list.Selected, "The neutral is open") {
		was := list.Selected
		w.Key(fyne.KeyDown)
		if next := frametest.Find[*look.Select](w.Reader)[0]; next.Selected == was {
			t.Fatalf("the arrows stay at %q", next.Selected)
		} else {
			list = next
		}
	}
	form := newConclude(w.area, try).form
	for _, x := range []string{"Cord, plug or adapter", "Panel: L2 to neutral", "Sure: the readings", "Keep it unplugged and put it out of use", form.RepairBy[0].Text} {
		to(x)
		w.Key(fyne.KeyReturn)
	}
	to("Conclude so")
	w.Key(fyne.KeyReturn)
	c := try.attempt().Conclusion
	if c == nil || c.Faults[0] != "open-neutral" || c.Place != faulttree.Cord || len(c.Deciding) != 1 || c.Sure != practice.Sure || c.Do == "" || c.RepairBy == "" {
		t.Fatalf("concluded is %+v:\n%s", c, w.Text())
	}
	to("Have it repaired")
	w.Key(fyne.KeyReturn)
	w.Want("Read again what had shown the fault")
	w.probe(try, "panel.l2", "panel.n")
	if volts := try.last.Reading().Low; volts > 130*faulttree.One || try.attempt().Repaired == 0 {
		t.Errorf("after the repair L2 reads %s; %+v", try.last.Shown, try.attempt())
	}
	w.Press("Look back")
	w.Want("The neutral is open in the cord")
}

// What is to be done is chosen from the documents of faults, the right one among
// them, in an order that tells nothing.
func TestChoicesOfAConclusion(t *testing.T) {
	w := open(t, frametest.Wide)
	for _, s := range view.Scenarios(w.book) {
		c := scenes.CaseOf(w.book, s)
		form := scenes.ConcludeOf(w.book, s, c, practice.Attempt{Case: c.ID}, practice.Conclusion{})
		for _, x := range c.Faults {
			f := w.book.Faults[x.Fault.ID]
			if f == nil || f.At(x.Fault.Variants[x.Variant].Place) == nil {
				continue
			}
			advice := f.At(x.Fault.Variants[x.Variant].Place)
			has := func(all []view.Choice, text string) bool {
				return text == "" || slices.ContainsFunc(all, func(o view.Choice) bool { return o.ID == text })
			}
			if !has(form.Do, advice.FirstAction) || !has(form.RepairBy, advice.RepairBy) {
				t.Errorf("%s: %q, %q cannot be concluded", s.ID, advice.FirstAction, advice.RepairBy)
			}
		}
		for _, all := range [][]view.Choice{form.Do, form.RepairBy} { // what is meant for one thing is offered once, beside what is there
			heads := map[string]string{}
			for _, o := range all {
				head, _, _ := strings.Cut(strings.ReplaceAll(o.ID, " now;", ";"), ";")
				if other := heads[head]; other != "" && len(c.Faults) == 1 {
					t.Errorf("%s: %q and %q are offered", s.ID, other, o.ID)
				}
				heads[head] = o.ID
			}
		}
		if len(form.Do) < 4 || !slices.IsSortedFunc(form.Do, func(a, b view.Choice) int { return strings.Compare(a.ID, b.ID) }) {
			t.Errorf("%s: %d choices of what is to be done", s.ID, len(form.Do))
		}
	}
}

// Everything that was hidden is named in the look back and drawn: all faults, those
// that came along with them, and the mistakes with the meter.
func TestAllThatWasHidden(t *testing.T) {
	w := open(t, frametest.Wide)
	two := 0
	for _, s := range view.Scenarios(w.book) {
		c := scenes.CaseOf(w.book, s)
		named := strings.Join(scenes.HiddenWords(w.book, c), " ")
		edits := 0
		for _, a := range c.Faults {
			if !strings.Contains(named, scenes.FaultTitle(w.book, a.Fault.ID)) {
				t.Errorf("%s: %s is not named in %q", s.ID, a.Fault.ID, named)
			}
			for _, e := range a.Fault.Variants[a.Variant].Edits {
				if e.Kind != rig.Misuse {
					edits++
				}
			}
		}
		drawn := scenes.HiddenEdits(c)
		if drawn == nil && edits > 0 || drawn != nil && len(drawn.Edits) != edits {
			t.Errorf("%s: drawn are %+v of %d edits", s.ID, drawn, edits)
		}
		if len(c.Faults) > 1 {
			two++
		}
	}
	if two < 2 {
		t.Errorf("only %d scenarios hide two things", two)
	}
}

// conclude concludes that it is a fault, and looks back.
func (w *window) conclude(try *trying, fault string) {
	w.t.Helper()
	w.concludeOnly(try, fault)
	w.Press("Look back")
}

// concludeOnly concludes that it is a fault, where it sits, with the first of
// everything else.
func (w *window) concludeOnly(try *trying, fault string) {
	w.t.Helper()
	w.Press("Conclude")
	faults := newConclude(w.area, try).form.Faults
	w.Choose(faults[slices.IndexFunc(faults, func(f view.Choice) bool { return f.ID == fault })].Text)
	if fault != practice.NoFault {
		place := ""
		for _, f := range try.c.Faults {
			if f.Fault.ID == fault {
				place = string(f.Fault.Variants[f.Variant].Place)
			}
		}
		if place == "" {
			place = newConclude(w.area, try).form.Places[0].ID
		}
		w.press("place" + place)
	}
	for _, box := range frametest.Find[*look.Check](w.Reader) {
		box.SetChecked(true)
		break
	}
	form := newConclude(w.area, try).form
	w.press("do" + form.Do[0].ID)
	w.press("by" + form.RepairBy[0].ID)
	w.Press("Conclude so")
}

// press chooses one of the options of the conclusion by its name.
func (w *window) press(name string) {
	w.t.Helper()
	c := newConclude(w.area, w.area.practice.tries[keyOf(w.Here())])
	c.page()
	n, ok := c.focus[name].(*look.Nav)
	if !ok {
		w.t.Fatalf("no option %q among %v", name, c.focus)
	}
	w.Press(n.Plain())
}

// solve names the truth of a scenario after a few readings.
func (w *window) solve(id string, readings ...[2]string) {
	w.t.Helper()
	try := w.toScenario(id)
	w.Press("Prove the meter")
	for _, r := range readings {
		w.probe(try, r[0], r[1])
	}
	w.conclude(try, try.c.Truth()[0])
}

// Every shipped scenario can be found: what its maker hid explains what the
// meter shows, and naming it is right. No number here is from outside.
func TestEveryScenarioCanBeFound(t *testing.T) {
	w := open(t, frametest.Wide)
	sound, mistakes, rigs := 0, 0, map[string]bool{}
	for _, s := range view.Scenarios(w.book) {
		try := w.toScenario(s.ID)
		w.Press("Prove the meter")
		w.concludeOnly(try, try.c.Truth()[0])
		if headline, text := scenes.Concluded(w.book, try.c, try.attempt()); headline != "It is what you named" {
			t.Errorf("%s: its fault was named, and is said not to be there: %s. %s", s.ID, headline, text)
		}
		c := w.area.practice.tries[keyOf(place.Scenario(s.ID))].c
		if len(c.Faults) == 0 {
			sound++
		}
		if len(s.Meter) > 0 {
			mistakes++
			if len(c.Faults) != len(s.Faults)+len(s.Meter) {
				t.Errorf("%s: the catalogue lacks a mistake of the meter among %v", s.ID, s.Meter)
			}
		}
		rigs[s.Rig.ID] = true
		if c.Truth()[0] == practice.NoFault && len(s.Faults) > 0 {
			t.Errorf("%s has faults and nothing to find", s.ID)
		}
	}
	if n := len(w.book.Scenarios); n < 10 || sound < 2 || mistakes < 2 || len(rigs) < 5 {
		t.Errorf("%d scenarios, %d sound, %d with a mistake of the meter, on %d rigs", n, sound, mistakes, len(rigs))
	}
}

// Where no fault was concluded nothing is repaired: the look back comes at once, and no
// word of it says that all is well.
func TestNoFaultIsNotRepaired(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("buzz-after-the-rain")
	w.probe(try, "panel.l1", "panel.n")
	w.concludeOnly(try, practice.NoFault)
	if text := w.Text(); strings.Contains(text, "repaired, and read again") || strings.Contains(text, "Nothing is wrong") {
		t.Errorf("no fault is repaired:\n%s", text)
	}
	w.Want("What no reading has shown is not excluded by that.")
	w.Key(fyne.KeyReturn)
	w.Want("Concluded: No fault that these readings would show")
}

// Faults that are named nearly alike can be told apart: each choice says where it sits,
// and what is chosen says what is broken there.
func TestNearTwinsAreToldApart(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("barefoot-on-the-steel-step")
	w.probe(try, "body", "earth")
	w.Press("Conclude")
	for choice, means := range map[string]string{
		"The grounding conductor is open (supply, cord, vehicle)":     "all of the vehicle lacks its ground",
		"The ground of one branch is open (vehicle)":                  "one branch circuit is interrupted",
		"The body is not joined to the ground of the panel (vehicle)": "from the panel to the frame",
		"The grounding path is poor (supply, cord, vehicle)":          "with ohms where it should have thousandths",
		"The ground is a rod and nothing else (supply)":               "No grounding conductor leads back to the source",
		"The neutral is open (supply, cord, vehicle)":                 "at the supply, in the cord or at the panel",
		"The neutral of one branch is open (vehicle)":                 "In one branch circuit",
		"The meter is set to the wrong function (the meter)":          "",
	} {
		w.Choose(choice)
		w.Want(means)
	}
	seen := map[string]string{}
	for _, s := range view.Scenarios(w.book) {
		form := scenes.ConcludeOf(w.book, s, scenes.CaseOf(w.book, s), practice.Attempt{}, practice.Conclusion{})
		for _, f := range form.Faults {
			if other, ok := seen[f.Text]; ok && other != f.ID {
				t.Errorf("%s and %s are both %q", other, f.ID, f.Text)
			}
			seen[f.Text] = f.ID
			if strings.Contains(f.Text, ", supply") {
				t.Errorf("%s names its places from behind: %q", f.ID, f.Text)
			}
			form := scenes.ConcludeOf(w.book, s, scenes.CaseOf(w.book, s), practice.Attempt{}, practice.Conclusion{Faults: []string{f.ID}})
			if f.ID != practice.NoFault && (len(form.Means) != 1 || len(form.Means[0]) < 40) {
				t.Errorf("%s: %s means %q", s.ID, f.ID, form.Means)
			}
		}
	}
}
