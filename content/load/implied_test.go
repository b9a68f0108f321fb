package load

import (
	"testing"

	"faultwright/faulttree"
)

// An exit without a signal has that of what it leads to; one with a signal
// keeps it. What could not be read is never taken lightly, and what leads to a
// STOP is danger.
func TestAnExitHasTheSignalOfWhatItLeadsTo(t *testing.T) {
	tree := steps(t, "## Measure {#a}\n\n```yaml step\n"+`measure: {v: body-earth}
branches:
  - {v: {below: 0 V}, go: b}
  - {v: {from: 0 V, below: touch}, go: found}
  - {v: {from: touch}, go: stop, label: live}
over-range: {go: found, signal: danger}
not-possible: {go: b}
`+"```\n\n## Look {#b}\n\n```yaml step\n"+`observe:
  - {choice: yes, text: A, go: tingle#live}
  - {choice: no, text: B, go: found, signal: none}
recheck: 2
then: {go: stop}
`+"```\n\n## Stop {#stop}\n\n```yaml step\nact: {signal: danger}\ngo: tingle#live\n```\n"+
		"\n## Found {#found}\n\n```yaml step\nfinding: {signal: caution}\n```\n")
	want := map[string][]faulttree.Signal{
		"a":    {faulttree.NoSignal, faulttree.Caution, faulttree.Danger, faulttree.Danger, faulttree.Warning},
		"b":    {faulttree.Danger, faulttree.NoSignal, faulttree.Danger},
		"stop": {faulttree.Danger},
	}
	for id, signals := range want {
		for i, e := range tree.Step(id).Exits() {
			if e.Signal != signals[i] {
				t.Errorf("exit %d of %s to %s has the signal %s; want %s", i+1, id, e.Text, e.Signal, signals[i])
			}
		}
	}
}
