package store

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal/journaltest"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
)

func TestMain(m *testing.M) { journaltest.Main(m, walkForEver) }

// walkForEver answers step after step, taking back and testing again now and
// then.
func walkForEver(dir, id string, say func(id string, n int, text string)) error {
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
	r, err := visit.Resume(f, f.Record(), chain())
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
		say(f.Record().Header.ID, records[len(records)-1].Seq, text)
	}
}

// A program killed at any moment loses no confirmed record, damages nothing,
// and its visit can be gone on with.
func TestKilledAtRandomMoments(t *testing.T) {
	s := opened(t)
	journaltest.Kill(t, s.Folder.Dir(), func(id string, confirmed map[int]string) (torn int) { return check(t, s, id, confirmed) })
	again := must.Have(Open(s.Folder.Dir()))(t)
	defer again.Close()
	if left, _ := filepath.Glob(filepath.Join(s.Folder.Dir(), "*.new")); len(left) > 0 {
		t.Errorf("programs killed while they began a visit have left %q", left)
	}
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
	v := f.Record()
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
	r := must.Have(visit.Resume(f, v, chain()))(t)
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
