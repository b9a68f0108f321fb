package gui

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/scripted"
)

// handedIn is a folder with an assignment and what a class of learners that play by
// script has handed in.
func handedIn(t testing.TB) (dir string) {
	t.Helper()
	dir, lib, m := t.TempDir(), load.Shipped(), faulttree.DefaultMeter()
	write := func(name string, raw []byte, err error) {
		t.Helper()
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), raw, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	var all []*content.Scenario
	for _, id := range []string{"flat-by-breakfast", "lamps-like-candles", "a-battery-that-breaks-the-meter"} {
		all = append(all, lib.Scenarios[id])
	}
	noon := time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC)
	a := must.Have(class.NewAssignment(lib, class.Assignment{Title: "Twelve volts", Made: noon, Role: faulttree.Qualified}, all, false, 0))(t)
	raw, err := a.Bytes()
	write("assignment.zip", raw, err)
	beliefs := scenes.NewBeliefs(lib, m)
	for i, name := range []string{"Dunnock", "Finch", "Lark", "Linnet", "Plover", "Siskin"} {
		f := class.AttemptFile{Learner: name, Assignment: a.ID, Handbook: lib.Fingerprint(), Saved: noon}
		for k, s := range all {
			kind := scripted.Kinds()[(i+k)%len(scripted.Kinds())]
			try, err := scripted.Play(context.Background(), kind, scenes.CaseOf(lib, s), a.Role, m, scenes.MarkBook(lib, s, beliefs), uint64(i+1))
			if err != nil {
				t.Fatal(s.ID, err)
			}
			try.Started = noon
			pace := func(at *time.Duration) { *at = *at * time.Duration(10+i) / 10 } // nobody is another's copy
			for n := range try.Acts {
				pace(&try.Acts[n].At)
			}
			pace(&try.Conclusion.At)
			f.Attempts = append(f.Attempts, try)
		}
		raw, err := f.Bytes()
		write(name+".zip", raw, err)
	}
	return dir
}
