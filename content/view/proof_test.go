package view

import (
	"maps"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// One field for the proof of the meter is one reading: the walk stops where it
// asks for the proof after, and the sheet says that there was none.
func TestOneProofIsNotTwo(t *testing.T) {
	lib, begun := shippedWalk(t, "pedestal-30a", faulttree.Owner, nil, nil)
	texts := map[string]string{"meter.known-source": "119.8", "pedestal.cover-earth": "0.3", "pedestal.g-earth": "0.3", "pedestal.l1-n": "119.8", "pedestal.l1-earth": "119.6", "pedestal.l1-g": "119.6", "pedestal.l1-n@lowz": "119.5"}
	v := AllReadingsOf(lib, begun, texts)
	proofs := func(w faulttree.Walk) int {
		n := 0
		for _, e := range w.Trail() {
			if s := lib.Forest.Step(e.Step); len(s.Measure) == 1 && s.Measure[0].Quantity.Proves == faulttree.ProvesVoltsAC {
				n++
			}
		}
		return n
	}
	for v.Walk.Step().Kind == faulttree.KindObserve { // as the window does: a choice, the lid opened, then the readings go on
		w, err := v.Walk.Answer(faulttree.Answer{Choice: "whole"})
		if err != nil {
			t.Fatal(err)
		}
		left := faulttree.Supplied{Readings: maps.Clone(v.Supplied.Readings), ActsDone: true, Once: true}
		for _, e := range w.Trail() {
			for i := range e.Answer.Readings {
				delete(left.Readings, w.Asked(e.Step).Measure[i].Quantity.ID)
			}
		}
		if v.Walk, _, err = w.Supply(left); err != nil {
			t.Fatal(err)
		}
	}
	if n := proofs(v.Walk); n != 1 || v.Walk.Ended() || v.Walk.Step().Measure[0].Quantity.Proves != faulttree.ProvesVoltsAC {
		t.Fatalf("%d proofs from one field; the walk stands at %v", n, v.Walk.At())
	}
	if !strings.Contains(v.Proof, "once") {
		t.Errorf("the page says %q of its one proof", v.Proof)
	}
	if got := ProofText(v.Walk); !strings.Contains(got, "not after the last") {
		t.Error(got)
	}
	after := must.Have(v.Walk.Answer(faulttree.Answer{Readings: v.Supplied.Readings["meter.known-source"]}))(t)
	if got := ProofText(after); !strings.Contains(got, "before these readings and after them") {
		t.Error(got)
	}
	if got := ProofText(begun); got != "No live reading was taken." {
		t.Error(got)
	}
}
