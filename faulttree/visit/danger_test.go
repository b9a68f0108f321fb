package visit

import (
	"fmt"
	"slices"
	"testing"

	"faultwright/faulttree"

	"pgregory.net/rapid"
)

// However a handbook is rearranged under a visit, a recorded body reading that
// may lie above the danger limit is judged there: the walk has passed the step
// that leads to the STOP, or has not come to an end.
func TestRecordedDangerIsNeverPassedBy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, _ := begin(t, header(), tingle())
		typed := rapid.SampledFrom([]string{"0.4", "6", "29.9", "58", "OL", "not possible: rain", "120"})
		choice := rapid.SampledFrom([]string{"yes", "no"})
		for n := range rapid.IntRange(1, 8).Draw(t, "answers") {
			if r.Walk().Ended() {
				break
			}
			var err error
			if r, err = r.Answer(minute(n), reply(t, r.Walk(), pick(t, r.Walk().Step(), typed, choice))); err != nil {
				t.Fatal(err)
			}
		}
		f := tingle()
		rearrange(t, f.Trees["tingle"])
		p := r.Visit().Replay(f)[0]
		if p.Err != nil {
			return // its first step is gone: the visit does not go on at all
		}
		hurts := false
		limit, _ := f.Trees["tingle"].DangerLimit(body)
		for _, item := range p.Round.Items {
			for _, taken := range item.Reply.Readings {
				hurts = hurts || taken.Quantity == body && r.Walk().Meter().MayHurt(taken.Reading, f.Quantities[body], limit)
			}
		}
		if _, stopped := p.Walk.Stop(); hurts && !stopped {
			t.Fatalf("a body reading that may hurt is on record, and the rearranged walk is %s\nanswers %v", trail(p.Walk), p.Answers)
		}
	})
}

// rearrange renames steps and turns exits to other steps. The step that
// measures the body keeps what it says of danger, and its name or another.
func rearrange(t *rapid.T, tree *faulttree.Tree) {
	ids := []string{}
	for i, s := range tree.Steps {
		ids = append(ids, s.ID)
		if i > 0 && s.ID != "stop" && rapid.IntRange(0, 3).Draw(t, "rename "+s.ID) == 0 {
			s.ID = fmt.Sprintf("%s-renamed", s.ID)
			ids[i] = s.ID
		}
	}
	turn := func(e *faulttree.Exit) {
		if !e.Set() || rapid.Bool().Draw(t, "keep") && contains(ids, e.To.Step) {
			return
		}
		e.To.Step = rapid.SampledFrom(ids).Draw(t, "to")
		e.Text = e.To.Step
	}
	for _, s := range tree.Steps {
		turn(&s.Act.Exit)
		turn(&s.Then)
		turn(&s.NotPossible)
		for i := range s.Choices {
			turn(&s.Choices[i].Exit)
		}
		measuresBody := len(s.Measure) == 1 && s.Measure[0].Quantity.ID == body
		for i := range s.Branches {
			if !measuresBody || s.Branches[i].Signal != faulttree.Danger {
				turn(&s.Branches[i].Exit)
			}
		}
		if !measuresBody {
			turn(&s.OverRange)
		}
	}
	tree.Index()
}

func contains(ids []string, id string) bool {
	return slices.Contains(ids, id)
}
