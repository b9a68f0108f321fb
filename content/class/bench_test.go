package class

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/faulttree/practice"
)

// twoHundred is a folder of twenty learners with attempts at ten scenarios.
func twoHundred(t testing.TB) fstest.MapFS {
	t.Helper()
	ids := slices.Sorted(maps.Keys(shipped.Scenarios))[:10]
	a := assigned(t, true, ids...)
	files := map[string][]byte{}
	for i := range 20 {
		name := fmt.Sprintf("Learner %c", 'A'+i)
		f := AttemptFile{Learner: name, Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon}
		for task := range a.Tasks {
			f.Attempts = append(f.Attempts, play(t, a, task, name, time.Duration(1000+i)*time.Millisecond, possible(t, a, task)...))
		}
		files[name] = written(t, f)
	}
	return folderOf(t, a, files)
}

// possible is a dozen readings that can be taken at a task.
func possible(t testing.TB, a *Assignment, task int) []practice.Act {
	t.Helper()
	s := shipped.Scenarios[a.Tasks[task].Scenario]
	acts := []practice.Act{{Kind: practice.Prove}}
	for _, x := range [][2]string{{"body", "earth"}, {"panel.l1", "panel.n"}, {"panel.l2", "panel.n"}, {"panel.n", "panel.g"}, {"outlet.h", "outlet.n"}, {"outlet.n", "outlet.g"}, {"dc.pos", "dc.neg"}, {"battery.pos", "battery.neg"}, {"battery.pos", "dc.pos"}} {
		if s.Rig.HasNode(x[0]) && s.Rig.HasNode(x[1]) {
			acts = append(acts, practice.Act{Kind: practice.Read, Red: x[0], Black: x[1]})
		}
	}
	return acts
}

// BenchmarkCollect verifies and tables 200 attempts over ten scenarios: the aim is
// under 5 s and 200 MB.
func BenchmarkCollect(b *testing.B) {
	folder := twoHundred(b)
	for b.Loop() {
		c, err := Collect(context.Background(), shipped, folder, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if len(c.Learners) != 20 || len(c.Table(false).Rows) != 20 || c.Learners[0].Tries[9] == nil || c.Learners[0].Tries[9].Edited != "" {
			b.Fatal("the attempts are not all there")
		}
		_ = c.Gaps()
	}
}
