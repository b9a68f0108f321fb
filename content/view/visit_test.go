package view

import (
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

type forgetful struct{}

func (forgetful) Append([]byte) error { return nil }

// The list of visits counts readings as the finding does, and does not say
// tested before anything was read again.
func TestVisitState(t *testing.T) {
	lib := handbook(t)
	rec, err := visit.Resume(forgetful{}, visit.Visit{Header: visit.Header{ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: "tingle", Step: lib.Forest.Trees["tingle"].Start}, Meter: faulttree.DefaultMeter()}}, lib.Forest)
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)
	answer := func(texts ...string) {
		for _, text := range texts {
			w := give(t, rec.Walk(), text)
			last := w.Trail()[len(w.Trail())-1]
			if rec, err = rec.Answer(at, last.Answer); err != nil {
				t.Fatal(err)
			}
		}
	}
	says := func(want string, wantEnded bool) {
		t.Helper()
		if got, ended := VisitState(lib, rec.Visit()); got != want || ended != wantEnded {
			t.Errorf("%q, ended %v; want %q", got, ended, want)
		}
	}
	says("Unfinished. 0 readings.", false)
	answer("yes", "119.8", "58", "done")
	says("Unfinished. 2 readings.", false)
	answer("OL")
	const found = "DANGER: The grounding conductor is lost between pedestal and vehicle. 3 readings."
	says(found, true)
	if rec, err = rec.Retest(at, faulttree.Ref{}); err != nil {
		t.Fatal(err)
	}
	says(found+" Test after repair: begun, nothing has been read again yet.", false)
	answer("yes", "119.8")
	says(found+" Test after repair: begun, 1 reading taken again.", false)
}
