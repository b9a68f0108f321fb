package store

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

// resumed opens a visit and gives its recorder.
func resumed(t testing.TB, s *Store, id string) (*File, visit.Recorder) {
	t.Helper()
	f := must.Have(s.Open(id))(t)
	r := must.Have(visit.Resume(f, f.Record(), chain()))(t)
	return f, r
}

// Whatever has damaged the end of a journal, going on keeps every byte of it
// and every record that checks, and goes on saying what is lost.
func TestDamagedBytesStay(t *testing.T) {
	s := opened(t)
	id := made(t, s, "118", "119")
	whole := must.Have(os.ReadFile(path(s, id)))(t)
	tests := []struct {
		name    string
		damaged []byte
		records int // that are read before the next answer
		lost    bool
	}{
		{"a bit of the last line end", append(slices.Clone(whole[:len(whole)-1]), '\n'^1), 2, false},
		{"a bit of the line end before", bytes.Replace(whole, []byte("}}\n{"), []byte("}}\v{"), 1), 2, false},
		{"a tail of zeros", append(slices.Clone(whole), make([]byte, 4096)...), 2, true},
		{"zeros over the last record", append(slices.Clone(whole[:len(whole)-100]), make([]byte, 100)...), 1, true},
		{"a letter of the last record", bytes.Replace(whole, []byte(`"text":"119"`), []byte(`"text":"118"`), 1), 1, true},
	}
	for _, tt := range tests {
		must.Do(t, os.WriteFile(path(s, id), tt.damaged, 0o600))
		f, r := resumed(t, s, id)
		if got := len(f.Record().Records); got != tt.records {
			t.Errorf("%s: %d records are read, want %d", tt.name, got, tt.records)
		}
		must.Have(r.Answer(header().Started, volts("121")))(t)
		f.Close()
		now, err := os.ReadFile(path(s, id))
		if err != nil || !bytes.HasPrefix(now, tt.damaged) {
			t.Errorf("%s: bytes of the journal are gone: %v", tt.name, err)
		}
		v, err := s.Read(id)
		if err != nil || len(v.Records) != tt.records+1 || len(v.Damage) != 1 || v.Damage[0].Lost != tt.lost {
			t.Errorf("%s: after going on %d records, damage %v, %v", tt.name, len(v.Records), v.Damage, err)
		}
	}
}

// A damaged first line hides nothing of the rest, here and in the list.
func TestDamagedFirstLineOpens(t *testing.T) {
	s := opened(t)
	id := made(t, s, "118", "119")
	whole, _ := os.ReadFile(path(s, id))
	os.WriteFile(path(s, id), bytes.Replace(whole, []byte("Quillback"), []byte("Quiilback"), 1), 0o600)
	f, r := resumed(t, s, id)
	defer f.Close()
	if got := len(r.Walk().Trail()); got != 2 || f.Record().Header.ID != id {
		t.Errorf("visit %q opens with %d answers", f.Record().Header.ID, got)
	}
	list, err := s.List()
	if err != nil || len(list) != 1 || list[0].Err != nil || !list[0].Damaged || list[0].Answers != 2 {
		t.Errorf("the list says %+v, %v", list, err)
	}
}

// A journal that is moved, deleted or written to under a walk is noticed at
// the next answer, which is then not confirmed; once it is back the walk goes
// on.
func TestDisturbedJournal(t *testing.T) {
	s := opened(t)
	away := filepath.Join(t.TempDir(), "away")
	tests := []struct {
		name, want string
		disturb    func(file string) error
		undo       func(file string) error
	}{
		{"moved", "was moved or deleted", func(file string) error { return os.Rename(file, away) }, func(file string) error { return os.Rename(away, file) }},
		{"deleted", "was moved or deleted", os.Remove, nil},
		{"another in its place", "was moved or deleted", func(file string) error {
			text, err := os.ReadFile(file)
			return errors.Join(err, os.Remove(file), os.WriteFile(file, text, 0o600))
		}, nil},
		{"written to", "another program has changed", func(file string) error {
			f, err := os.OpenFile(file, os.O_WRONLY|os.O_APPEND, 0)
			_, wrote := f.WriteString("hello\n")
			return errors.Join(err, wrote, f.Close())
		}, nil},
		{"cut", "another program has changed", func(file string) error { return os.Truncate(file, 10) }, nil},
	}
	for _, tt := range tests {
		id := made(t, s, "118")
		f, r := resumed(t, s, id)
		must.Do(t, tt.disturb(path(s, id)))
		stayed, err := r.Answer(header().Started, volts("119"))
		if err == nil || !strings.Contains(err.Error(), tt.want) || len(stayed.Walk().Trail()) != 1 {
			t.Errorf("%s: %v, and the walk has %d answers", tt.name, err, len(stayed.Walk().Trail()))
		}
		if tt.undo != nil {
			must.Do(t, tt.undo(path(s, id)))
			if _, err := stayed.Answer(header().Started, volts("119")); err != nil {
				t.Errorf("%s and put back: %v", tt.name, err)
			}
		}
		f.Close()
	}
}

// A test after repair that has only begun is not called one that was made.
func TestListTellsOfTestAfterRepair(t *testing.T) {
	s := opened(t)
	id := made(t, s, "118", "119")
	f, r := resumed(t, s, id)
	defer f.Close()
	look := func() Summary {
		list, err := s.List()
		if err != nil || len(list) != 1 {
			t.Fatal(list, err)
		}
		return list[0]
	}
	r, err := r.Retest(header().Started, faulttree.Ref{})
	if err != nil {
		t.Fatal(err)
	}
	if l := look(); l.Rounds != 2 || l.Before != 2 || l.Answers != 0 || l.Tested != 0 {
		t.Errorf("begun only: %+v", l)
	}
	if _, err = r.Answer(header().Started, volts("120")); err != nil {
		t.Fatal(err)
	}
	if l := look(); l.Before != 2 || l.Answers != 1 || l.Tested != 1 {
		t.Errorf("one reading taken again: %+v", l)
	}
}

// sealed makes lines of a journal from JSON values, one a line, with right
// checksums; other lines stay as they are.
func sealed(text []byte) []byte {
	var out []byte
	for _, line := range bytes.SplitAfter(text, []byte("\n")) {
		record, ended := bytes.CutSuffix(line, []byte("\n"))
		if !ended || len(record) == 0 || record[0] != '{' {
			out = append(out, line...)
			continue
		}
		out = fmt.Appendf(out, "{\"crc\":\"%08x\",\"record\":%s}\n", crc32.ChecksumIEEE(record), record)
	}
	return out
}

// Whatever a journal holds, it opens or says why not; going on with it keeps
// every byte that is not the beginning of an unfinished line, and every record.
func FuzzStore(f *testing.F) {
	head := `{"seq":0,"time":"2026-05-03T14:30:00Z","kind":"visit","format":1,"id":"fuzz","start":"chain#s0","role":"owner","meter":{"counts":6000,"ac_volts":{"percent":"1.2","counts":5},"dc_volts":{"percent":"0.8","counts":3},"resistance":{"percent":"0.9","counts":1},"current":{"percent":"2.5","counts":5}},"details":{}}` + "\n"
	answer := `{"seq":1,"time":"2026-05-03T14:31:00Z","kind":"answer","replies":[{"step":"chain#s0","readings":[{"quantity":"panel.l1-n","unit":"V AC","text":"118","quality":"steady","low":"118","high":"118","resolution":"1"}]}]}` + "\n"
	back := `{"seq":2,"time":"2026-05-03T14:32:00Z","kind":"back","item":"1"}` + "\n"
	test := `{"seq":3,"time":"2026-05-03T14:33:00Z","kind":"test","start":"chain#s0"}` + "\n"
	for _, seed := range []string{"", head, head + answer + back + test, head + answer + `{"crc":"0`, answer, head + answer + "\x00\x00\x00", head + "\n" + test} {
		f.Add([]byte(seed))
	}
	s := must.Have(Open(filepath.Join(f.TempDir(), "visits")))(f)
	forest, answerOf := chain(), volts("120")
	f.Fuzz(func(t *testing.T, text []byte) {
		journal := sealed(text)
		must.Do(t, os.WriteFile(path(s, "fuzz"), journal, 0o600))
		was, err := s.Read("fuzz")
		if err != nil {
			return
		}
		file, err := s.Open("fuzz")
		if err != nil {
			t.Fatalf("reads and does not open: %v", err)
		}
		defer file.Close()
		r, err := visit.Resume(file, file.Record(), forest)
		if err != nil || r.Walk().Ended() || len(was.Records) == visit.MostRecords {
			return
		}
		must.Have(r.Answer(header().Started, answerOf))(t)
		now, err := s.Read("fuzz")
		if err != nil || len(now.Records) != len(was.Records)+1 || now.Torn {
			t.Fatalf("%d records, after an answer %d: %v", len(was.Records), len(now.Records), err)
		}
		stayed, _ := os.ReadFile(path(s, "fuzz"))
		if !was.Torn && !bytes.HasPrefix(stayed, journal) {
			t.Fatal("bytes of the journal are gone")
		}
	})
}
