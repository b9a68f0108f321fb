package prove

import (
	"context"
	"fmt"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// proveSoon proves a tree of steps and fails where that takes long: seconds are
// a hundredfold of what is allowed to one file.
func proveSoon(t *testing.T, steps []*faulttree.Step) source.List {
	t.Helper()
	tree := sound()
	tree.Start, tree.Steps = steps[0].ID, steps
	begin := time.Now()
	got := Forest(context.Background(), forest(tree), known())
	if took := time.Since(begin); took > 30*time.Second {
		t.Errorf("the proof took %v", took)
	}
	return got
}

// Thousands of loops that cross one another are found in bounded time, and each
// is told by its first and last steps.
func TestTangleOfLoopsEndsSoon(t *testing.T) {
	const n = 4500
	var steps []*faulttree.Step
	for i := range n {
		steps = append(steps, observe(fmt.Sprint("a", i), to(fmt.Sprint("a", (7*i+1)%n), faulttree.NoSignal), to(fmt.Sprint("a", (13*i+5)%n), faulttree.NoSignal)))
	}
	got := proveSoon(t, steps)
	if countRule(got, ruleEndless) < 100 {
		t.Errorf("%d loops", countRule(got, ruleEndless))
	}
	for _, d := range got {
		if len(d.Message) > 300 {
			t.Errorf("a message is %d bytes long: %.80s", len(d.Message), d.Message)
		}
	}
}

// Ways that are too many to follow end the proof with an error, never silently.
func TestTooManyWaysAreSaid(t *testing.T) {
	const n = 8000
	var steps []*faulttree.Step
	for i := range n {
		next := to(fmt.Sprint("a", (i+1)%n), faulttree.NoSignal)
		s := measure(fmt.Sprint("a", i), pedestalEarth, next, next, branch(span(0, 0), next))
		s.Recheck, s.Then = 2, next
		steps = append(steps, s)
	}
	got := proveSoon(t, steps)
	if n := countRule(got, ruleProofIncomplete); n != 1 || !got.HasErrors() {
		t.Errorf("%d times proof-incomplete", n)
	}
}
