package store

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal/journaltest"
	"faultwright/faulttree/visit"
)

// The test program itself is the program that is killed: with this variable
// it walks without end and says after each record that it was confirmed.
const (
	walkDir = "FAULTWRIGHT_TEST_WALK_DIR"
	walkID  = "FAULTWRIGHT_TEST_WALK_ID"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(walkDir); dir != "" {
		err := walkForEver(dir, os.Getenv(walkID))
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// walkForEver answers step after step, taking back and testing again now and
// then. Every confirmed record is told as "id seq text".
func walkForEver(dir, id string) error {
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
	r, err := visit.Resume(f, f.Visit(), chain())
	if err != nil {
		return err
	}
	for n := 0; ; n++ {
		text := fmt.Sprintf("%d.%d", 100+n%40, n%10)
		switch {
		case r.Walk().Ended():
			r, err = r.Retest(time.Now(), faulttree.Ref{})
			text = "retest"
		case n%7 == 6 && len(r.Walk().Trail()) > 0:
			r, err = r.Back(time.Now())
			text = "back"
		default:
			r, err = r.Answer(time.Now(), volts(text))
		}
		if err != nil {
			return err
		}
		records := r.Visit().Records
		fmt.Printf("%s %d %s\n", f.Visit().Header.ID, records[len(records)-1].Seq, text)
	}
}

// A program killed at any moment loses no confirmed record, damages nothing,
// and its visit can be gone on with.
func TestKilledAtRandomMoments(t *testing.T) {
	const kills, perVisit = 200, 10
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	s := opened(t)
	random := rand.New(rand.NewPCG(20260503, 200))
	confirmed := map[string]map[int]string{} // by visit and record
	id, torn, records := "", 0, 0
	for kill := range kills {
		if kill%perVisit == 0 {
			id = ""
		}
		moment := time.Duration(random.Int64N(int64(12 * time.Millisecond)))
		for _, line := range killed(t, self, s.folder.Dir(), id, moment) {
			var name, text string
			var seq int
			if _, err := fmt.Sscanf(line, "%s %d %s", &name, &seq, &text); err != nil {
				t.Fatalf("kill %d: the child says %q", kill, line)
			}
			if confirmed[name] == nil {
				confirmed[name] = map[int]string{}
			}
			confirmed[name][seq] = text
			id = name
			records++
		}
		if id == "" {
			continue // killed before its first confirmed record
		}
		torn += check(t, s, id, confirmed[id])
	}
	again, err := Open(s.folder.Dir())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if left, _ := filepath.Glob(filepath.Join(s.folder.Dir(), "*.new")); len(left) > 0 {
		t.Errorf("programs killed while they began a visit have left %q", left)
	}
	t.Logf("%d kills, %d confirmed records, %d torn last lines", kills, records, torn)
	if records < kills {
		t.Errorf("only %d records were confirmed in %d walks: the kills came too early to test anything", records, kills)
	}
}

// killed starts a walk, kills it at a moment after it is ready, and gives the
// lines it had finished saying.
func killed(t *testing.T, self, dir, id string, moment time.Duration) []string {
	t.Helper()
	child := exec.Command(self)
	child.Env = append(os.Environ(), walkDir+"="+dir, walkID+"="+id)
	return journaltest.Killed(t, child, moment)
}

// check opens the visit as the next start of the program does, compares it
// with what was confirmed, and goes on by one record.
func check(t *testing.T, s *Store, id string, confirmed map[int]string) (torn int) {
	t.Helper()
	f, err := s.Open(id)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	v := f.Visit()
	if len(v.Damage) > 0 {
		t.Fatalf("visit %s is damaged: %v", id, v.Damage)
	}
	if v.Torn {
		torn = 1
	}
	for seq, text := range confirmed {
		if seq > len(v.Records) {
			t.Fatalf("visit %s: record %d, %q, was confirmed and is lost; %d records are left", id, seq, text, len(v.Records))
		}
		r := v.Records[seq-1]
		got := string(r.Kind)
		switch r.Kind {
		case visit.Answered:
			got = r.Replies[0].Readings[0].Reading.Text
		case visit.Retested:
			got = "retest"
		}
		if r.Seq != seq || got != text {
			t.Fatalf("visit %s: record %d was confirmed as %q and reads back as %q", id, seq, text, got)
		}
	}
	r, err := visit.Resume(f, v, chain())
	if err != nil {
		t.Fatal(err)
	}
	if lapsed := r.Current().Lapsed(); len(lapsed) > 0 {
		t.Fatalf("visit %s: %v does not stand", id, lapsed)
	}
	if r.Walk().Ended() {
		r, err = r.Retest(header().Started, faulttree.Ref{})
	} else {
		r, err = r.Answer(header().Started, volts("120"))
	}
	if err != nil {
		t.Fatal(err)
	}
	return torn
}
