package store

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"faultwright/faulttree/journal/journaltest"
)

// The test program itself is the program that is killed: with this variable it
// plays without end and says after each act that it was confirmed.
const (
	playDir = "FAULTWRIGHT_TEST_PLAY_DIR"
	playID  = "FAULTWRIGHT_TEST_PLAY_ID"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(playDir); dir != "" {
		fmt.Fprintln(os.Stderr, playForEver(dir, os.Getenv(playID)))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// playForEver does act after act. Every confirmed act is told as "id number kind
// shown".
func playForEver(dir, id string) error {
	fmt.Println("ready")
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
	r, err := bench().Resume(f, f.Kept())
	if err != nil {
		return err
	}
	for {
		n := len(r.Attempt().Acts)
		done, err := r.Do(act(n))
		if err != nil {
			return err
		}
		fmt.Printf("%s %d %s %q\n", r.ID(), n, done[0].Kind, done[0].Shown)
	}
}

// A program killed at any moment loses no confirmed act, damages nothing, and its
// attempt can be gone on with.
func TestKilledAtRandomMoments(t *testing.T) {
	const kills, perAttempt = 200, 10
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	s := opened(t)
	random := rand.New(rand.NewPCG(20260503, 200))
	confirmed := map[string]map[int]string{} // by attempt and act
	id, torn, acts := "", 0, 0
	for kill := range kills {
		if kill%perAttempt == 0 {
			id = ""
		}
		child := exec.Command(self)
		child.Env = append(os.Environ(), playDir+"="+s.folder.Dir(), playID+"="+id)
		for _, line := range journaltest.Killed(t, child, time.Duration(random.Int64N(int64(12*time.Millisecond)))) {
			var name, kind, shown string
			var n int
			if _, err := fmt.Sscanf(line, "%s %d %s %q", &name, &n, &kind, &shown); err != nil {
				t.Fatalf("kill %d: the child says %q", kill, line)
			}
			if confirmed[name] == nil {
				confirmed[name] = map[int]string{}
			}
			confirmed[name][n] = kind + " " + shown
			id = name
			acts++
		}
		if id != "" {
			torn += goneOn(t, s, id, confirmed[id])
		}
	}
	again, err := Open(s.folder.Dir())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if left, _ := filepath.Glob(filepath.Join(s.folder.Dir(), "*.new")); len(left) > 0 {
		t.Errorf("programs killed while they began an attempt have left %q", left)
	}
	t.Logf("%d kills, %d confirmed acts, %d torn last lines", kills, acts, torn)
	if acts < kills {
		t.Errorf("only %d acts were confirmed: the kills came too early to test anything", acts)
	}
}

// goneOn opens the attempt as the next start of the program does, compares it with
// what was confirmed, and goes on by one act.
func goneOn(t *testing.T, s *Store, id string, confirmed map[int]string) (torn int) {
	t.Helper()
	f, r := resumed(t, s, id)
	defer f.Close()
	if f.Kept().Torn {
		torn = 1
	}
	acts := r.Attempt().Acts
	for n, said := range confirmed {
		if n >= len(acts) {
			t.Fatalf("attempt %s: act %d, %q, was confirmed and is lost; %d acts are left", id, n+1, said, len(acts))
		}
		if got := acts[n].Kind.String() + " " + acts[n].Shown; got != said {
			t.Fatalf("attempt %s: act %d was confirmed as %q and reads back as %q", id, n+1, said, got)
		}
	}
	if len(f.Kept().Damage) > 0 {
		t.Fatalf("attempt %s is damaged: %v", id, f.Kept().Damage)
	}
	if _, err := r.Do(act(len(acts))); err != nil {
		t.Fatal(err)
	}
	return torn
}
