package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/visit"

	"github.com/google/go-cmp/cmp"
)

func TestCreateReadListDelete(t *testing.T) {
	s := opened(t)
	first, second := made(t, s, 9), made(t, s, 2)
	f, r := resumed(t, s, second)
	must.Do(t, r.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}, At: time.Hour}))
	list, err := s.List()
	if err != nil || len(list) != 2 {
		t.Fatal(list, err)
	}
	for _, l := range list {
		want := Summary{ID: first, Acts: 9, Readings: 5}
		if l.ID == second {
			want = Summary{ID: second, Acts: 2, Readings: 1, Ended: true, Last: time.Hour}
		}
		want.Header = header()
		want.Header.ID = want.ID
		if diff := cmp.Diff(want, l); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
	if _, err := s.Open(second); !errors.Is(err, ErrElsewhere) || err.Error() != "this attempt is open in another window; close it there to go on here, or look at it without changing it" {
		t.Errorf("a second window opens it: %v", err)
	}
	if err := s.Delete(second); !errors.Is(err, ErrElsewhere) {
		t.Errorf("an open attempt is deleted: %v", err)
	}
	if k, err := s.Read(second); err != nil || !k.Attempt.Ended() {
		t.Errorf("a second window cannot look: %v", err)
	}
	f.Close()
	must.Do(t, s.Delete(second))
	if _, err := s.Open(second); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a deleted attempt opens: %v", err)
	}
	if list, _ := s.List(); len(list) != 1 || list[0].ID != first {
		t.Errorf("left are %v", list)
	}
	if info, err := os.Stat(path(s, first)); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("an attempt is readable by others: %v, %v", info.Mode(), err)
	}
}

// Visits and attempts have folders of their own, and neither is taken for the
// other.
func TestApartFromVisits(t *testing.T) {
	env := func(name string) string { return map[string]string{"XDG_DATA_HOME": "/data"}[name] }
	if got, err := Folder(env); err != nil || filepath.ToSlash(got) != "/data/faultwright/practice" {
		t.Errorf("%q, %v", got, err)
	}
	s := opened(t)
	line := must.Have(visit.EncodeHeader(visit.Header{ID: "a-visit", Meter: header().Meter, Started: header().Started}))(t)
	must.Do(t, os.WriteFile(path(s, "a-visit"), line, 0o600))
	if _, err := s.Open("a-visit"); err == nil || err.Error() != "attempt a-visit cannot be read: line 1 of the record: it is not the beginning of an attempt" {
		t.Errorf("a visit opens as an attempt: %v", err)
	}
}

// Whatever lies in the folder, each file gets one sentence and the others are
// read.
func TestHostileFolder(t *testing.T) {
	s := opened(t)
	good := made(t, s, 3)
	text := must.Have(os.ReadFile(path(s, good)))(t)
	line, _, _ := bytes.Cut(text, []byte("\n"))
	for name, text := range map[string][]byte{
		"empty": nil, "noise": bytes.Repeat([]byte("\x00\xff\n"), 100_000), "deep": append(bytes.Repeat([]byte("["), 1<<20), '\n'),
		"renamed": text, "headless": text[len(line)+1:], "cut": line[:len(line)/2],
	} {
		must.Do(t, os.WriteFile(path(s, name), text, 0o600))
	}
	must.Do(t, errors.Join(os.WriteFile(path(s, "huge"), nil, 0o600), os.Truncate(path(s, "huge"), attempts.Most+1), os.Mkdir(path(s, "folder"), 0o700)))
	list := must.Have(s.List())(t)
	got := map[string]string{}
	for _, l := range list {
		if got[l.ID] = ""; l.Err != nil {
			got[l.ID] = l.Err.Error()
		}
	}
	want := map[string]string{
		good:       "",
		"folder":   "attempt folder is not an ordinary file",
		"huge":     "attempt huge is larger than 8 MiB and is not read",
		"empty":    "attempt empty cannot be read: the record is empty",
		"noise":    "attempt noise cannot be read: line 1 of the record: it is not a record of an attempt",
		"deep":     "attempt deep cannot be read: line 1 of the record: it is not a record of an attempt",
		"headless": "attempt headless cannot be read: line 1 of the record: it is not the beginning of an attempt",
		"cut":      "attempt cut cannot be read: the record ends within its first line",
		"renamed":  "the file of attempt renamed holds attempt " + good + "; give it its own name back",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Wherever the last line was cut off, the attempt opens, and the next act stands on
// a line of its own.
func TestGoneOnAfterTornLine(t *testing.T) {
	s := opened(t)
	id := made(t, s, 3)
	whole := must.Have(os.ReadFile(path(s, id)))(t)
	last := bytes.LastIndexByte(whole[:len(whole)-1], '\n') + 1
	for n := last; n <= len(whole); n++ {
		must.Do(t, os.WriteFile(path(s, id), whole[:n], 0o600))
		f, r := resumed(t, s, id)
		acts := len(r.Attempt().Acts)
		if want := 2; n < len(whole)-1 && acts != want {
			t.Fatalf("cut at %d: %d acts, want %d", n, acts, want)
		}
		must.Have(r.Do(reading))(t)
		f.Close()
		if k, err := s.Read(id); err != nil || k.Torn || len(k.Damage) > 0 || len(k.Attempt.Acts) != acts+1 {
			t.Fatalf("cut at %d: %v, damage %v, %d acts", n, err, k.Damage, len(k.Attempt.Acts))
		}
	}
}

// One act more than an attempt may have is refused, and nothing is lost by it.
func TestFullAttempt(t *testing.T) {
	s := opened(t)
	id := made(t, s, 1)
	text := must.Have(os.ReadFile(path(s, id)))(t)
	log := &inMemory{text}
	k, _, err := practice.ReadJournal(text)
	if err != nil {
		t.Fatal(err)
	}
	r := must.Have(bench().Resume(log, k))(t)
	for n := range practice.MostActs - 1 {
		if _, err := r.Do(reading); err != nil {
			t.Fatalf("act %d: %v", n+2, err)
		}
	}
	if _, err := r.Do(reading); err == nil {
		t.Error("an attempt without end is on record")
	}
	must.Do(t, os.WriteFile(path(s, id), log.text, 0o600))
	f, again := resumed(t, s, id)
	defer f.Close()
	if n := len(again.Attempt().Acts); n != practice.MostActs {
		t.Errorf("%d acts are read", n)
	}
	if err := again.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}}); err != nil {
		t.Errorf("a full attempt takes no conclusion: %v", err)
	}
}

// inMemory is a log that costs no sync.
type inMemory struct{ text []byte }

func (l *inMemory) Append(line []byte) error {
	l.text = append(l.text, line...)
	return nil
}

func Example() {
	dir, err := os.MkdirTemp("", "practice")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	s, err := Open(dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer s.Close()
	f, err := s.Create(header())
	if err != nil {
		fmt.Println(err)
		return
	}
	r, _ := bench().Resume(f, f.Record())
	done, err := r.Do(reading) // on disk before it is told
	fmt.Println(done[0].Shown, err)
	f.Close()
	list, err := s.List()
	fmt.Println(len(list), list[0].Readings, err)
	// Output:
	// 120.0 V <nil>
	// 1 1 <nil>
}
