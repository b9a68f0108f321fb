package store

import (
	"fmt"
	"strings"
	"testing"

	"faultwright/faulttree/journal/journaltest"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
)

func TestMain(m *testing.M) { journaltest.Main(m, playForEver) }

// told is an act and what the display showed, in one word.
func told(a practice.Act) string { return a.Kind.String() + ":" + strings.ReplaceAll(a.Shown, " ", "") }

// typed is what is typed of a conclusion after an act.
const typed = "after act %d nothing is sure"

// playForEver does act after act, and types something after each.
func playForEver(dir, id string, say func(id string, n int, text string)) error {
	s, err := Open(dir)
	if err != nil {
		return err
	}
	var f *File
	if id == "" {
		f, err = s.Create(header())
	} else {
		f, err = s.Open(id)
	}
	if err != nil {
		return err
	}
	r, err := bench().Resume(f, f.Record())
	if err != nil {
		return err
	}
	for {
		n := len(r.Attempt().Acts)
		done, err := r.Do(act(n))
		if err != nil {
			return err
		}
		if err := r.Keep(practice.Draft{Conclusion: practice.Conclusion{Tell: fmt.Sprintf(typed, n)}}); err != nil {
			return err
		}
		say(r.ID(), n, told(done[0]))
	}
}

// A program killed at any moment loses no confirmed act and nothing that was typed of a
// conclusion, damages nothing, and its attempt can be gone on with.
func TestKilledAtRandomMoments(t *testing.T) {
	s := opened(t)
	journaltest.Kill(t, s.Folder.Dir(), func(id string, confirmed map[int]string) (torn int) { return goneOn(t, s, id, confirmed) })
}

// goneOn opens the attempt as the next start of the program does, compares it with
// what was confirmed, and goes on by one act.
func goneOn(t *testing.T, s *Store, id string, confirmed map[int]string) (torn int) {
	t.Helper()
	f, r := resumed(t, s, id)
	defer f.Close()
	if f.Record().Torn {
		torn = 1
	}
	acts := r.Attempt().Acts
	last := -1                                          // the act after which something was typed last
	fmt.Sscanf(r.Draft().Conclusion.Tell, typed, &last) // not where nothing was typed yet
	for n, said := range confirmed {
		if n >= len(acts) {
			t.Fatalf("attempt %s: act %d, %q, was confirmed and is lost; %d acts are left", id, n+1, said, len(acts))
		}
		if n > last {
			t.Fatalf("attempt %s: what was typed after act %d was confirmed and is lost: %q", id, n+1, r.Draft().Conclusion.Tell)
		}
		if got := told(acts[n]); got != said {
			t.Fatalf("attempt %s: act %d was confirmed as %q and reads back as %q", id, n+1, said, got)
		}
	}
	if len(f.Record().Damage) > 0 {
		t.Fatalf("attempt %s is damaged: %v", id, f.Record().Damage)
	}
	must.Have(r.Do(act(len(acts))))(t)
	return torn
}
