package view_test

import (
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// One digit that is offered chooses; whatever a meter may show chooses nothing,
// at no moment while it is typed but for its first digit, and is told.
func TestWhatReadsLikeAReadingChoosesNothing(t *testing.T) {
	offered := func(digit int) bool { return digit <= 3 }
	for typed, want := range map[string]int{"": 0, "1": 1, "3": 3, "x": 0, "l": 0} {
		if digit, said := view.Chosen(typed, offered, view.AtChoice); digit != want || said != "" {
			t.Errorf("%q chooses %d and says %q, want %d", typed, digit, said, want)
		}
	}
	for _, typed := range []string{"0", "4", "12", "12.6", "1.", "1,", "-3", "-", "+2", ".5", "119.8", "OL", "ol", "11", "3V", "3 V"} {
		if digit, said := view.Chosen(typed, offered, view.AtChoice); digit != 0 || !strings.Contains(said, "A choice is asked here") || !strings.Contains(said, "later") {
			t.Errorf("%q chooses %d and says %q", typed, digit, said)
		}
		if _, said := view.Chosen(typed, offered, view.AtFinding); !strings.Contains(said, "“So far”") || strings.Contains(said, "later") {
			t.Errorf("%q at a finding: %q", typed, said)
		}
	}
}

// What to do at damage: DANGER, and no way on but the sheet, wherever the step
// may meet a voltage, the pins of a pulled plug among them. Dead or not, nothing
// is said to be safe, and what is recorded in place of a reading is no reading.
func TestObstaclesByWhatTheStepMayMeet(t *testing.T) {
	lib := load.Shipped()
	steps := 0
	for _, tree := range lib.Forest.Trees {
		for i := range tree.Steps {
			s := tree.Steps[i]
			if s.Kind != faulttree.KindMeasure {
				continue
			}
			steps++
			live, meter := false, true
			for _, v := range s.Measure {
				live, meter = live || v.Quantity.Unit != faulttree.Ohms, meter && v.Quantity.OfMeter()
			}
			damage, _ := view.ObstacleOf(s, view.Damage)
			if (damage.Signal == faulttree.Danger) != (live || meter) || damage.Ends != (live && !meter) || len(damage.Do) == 0 {
				t.Errorf("%s (live %v): %+v", s.Ref(), live, damage)
			}
			for _, o := range view.Obstacles(s) {
				if o.Reason == "" {
					continue
				}
				for _, r := range view.CannotMeasure(s, o.Reason).Readings {
					if r.Numeric() || r.Quality != faulttree.NotPossible || r.Reason != o.Reason {
						t.Errorf("%s, %s is recorded as %+v", s.Ref(), o.ID, r)
					}
				}
			}
		}
	}
	if steps < 40 { // short trees ask as much in fewer steps
		t.Errorf("only %d steps were looked at", steps)
	}
}
