package session_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

// begin is a session over the small handbook of the tests, with visits kept on
// a disk that can be made to fail.
func begin(t *testing.T) (*session.Session, *sessiontest.Disk) {
	t.Helper()
	visits := must.Have(store.Open(t.TempDir()))(t)
	disk := &sessiontest.Disk{Visits: session.OnDisk(visits)}
	now := func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) }
	s := must.Have(session.New(session.Options{Visits: disk, Now: now}))(t)
	t.Cleanup(func() { s.Close(); visits.Close() })
	s.UseBook(read(t, nil))
	return s, disk
}

// read reads the small handbook with the tree of a tingle changed.
func read(t *testing.T, change func(tree string) string) *content.Library {
	t.Helper()
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, os.DirFS("../../testdata/handbook")))
	if change != nil {
		file := filepath.Join(dir, "trees", "tingle.md")
		text := must.Have(os.ReadFile(file))(t)
		changed := change(string(text))
		if changed == string(text) {
			t.Fatal("the tree has nothing to change")
		}
		must.Do(t, os.WriteFile(file, []byte(changed), 0o600))
	}
	return must.Have(load.Dir(context.Background(), dir))(t)
}

// replaced replaces a word of the tree.
func replaced(old, by string) func(string) string {
	return func(tree string) string { return strings.ReplaceAll(tree, old, by) }
}

// faulty gives the tree an error that leaves its steps as they are.
var faulty = replaced("cards: [doubt-the-meter]", "cards: [doubt-the-meter, no-such-card]")

func volts(n faulttree.Amount, text string) faulttree.Answer {
	return faulttree.Answer{Readings: []faulttree.Reading{{Text: text, Low: n * faulttree.One, High: n * faulttree.One, Resolution: faulttree.One}}}
}

var prove = faulttree.Ref{Tree: "tingle", Step: "prove"}

// A visit that cannot be begun leaves the one before it as it was, even where
// that stands at the very step for which a reading was given.
func TestBeginningFailsWithoutATrace(t *testing.T) {
	s, disk := begin(t)
	before := must.Have(s.Begin(prove))(t)
	same := func(when string) {
		t.Helper()
		v := s.Visit()
		if v == nil || v.ID() != before.To.ID || len(v.Walk().Trail()) != 0 {
			t.Errorf("%s: the visit before has changed: %+v", when, v)
		}
		record, err := disk.Read(before.To.ID)
		if err != nil || len(record.Records) != 0 {
			t.Errorf("%s: on record are %v, %v", when, record.Records, err)
		}
	}
	disk.Full = true
	if _, err := s.BeginWith(prove, volts(119, "119")); !errors.Is(err, sessiontest.ErrFull) {
		t.Errorf("a full disk: %v", err)
	}
	same("a full disk")
	disk.Full = false
	s.UseBook(read(t, faulty))
	if _, err := s.BeginWith(prove, volts(119, "119")); err != session.ErrTree {
		t.Errorf("errors in the tree: %v", err)
	}
	same("errors in the tree")
}

// If the visit begins and its first answer cannot be put on disk, the reader
// is at that step of the new visit with the reading typed.
func TestBeginningWithAnAnswerThatCannotBeKept(t *testing.T) {
	s, disk := begin(t)
	before := must.Have(s.Begin(prove))(t)
	disk.FullAfter = 1 // the header of the new visit goes on disk
	out := must.Have(s.BeginWith(prove, volts(119, "119")))(t)
	if out.To.ID == before.To.ID || out.To.Step != 0 || !strings.Contains(out.Said, "could not be put on record") {
		t.Errorf("the outcome is %+v", out)
	}
	if text, typed := s.Draft(out.To, 0); !typed || text != "119" {
		t.Errorf("typed there is %q", text)
	}
}

// An answer is for the visit it names, and never for another that is under way.
func TestAnswersNameTheirVisit(t *testing.T) {
	s, _ := begin(t)
	first := must.Have(s.Begin(prove))(t).To.ID
	second := must.Have(s.Begin(prove))(t).To.ID
	for what, do := range map[string]func() (session.Outcome, error){
		"answer": func() (session.Outcome, error) { return s.Answer(first, volts(119, "119")) },
		"change": func() (session.Outcome, error) { return s.Change(first, 0, volts(119, "119")) },
		"supply": func() (session.Outcome, error) { return s.Supply(first, faulttree.Supplied{}) },
		"retest": func() (session.Outcome, error) { return s.Retest(first) },
		"describe": func() (session.Outcome, error) {
			return session.Outcome{}, s.Describe(first, visit.Details{Site: "Quillback Hollow"})
		},
	} {
		if _, err := do(); err == nil {
			t.Errorf("%s: the visit before was taken for the one under way", what)
		}
	}
	if v := s.Visit(); v.ID() != second || len(v.Record().Records) != 0 {
		t.Errorf("visit %s has records: %v", v.ID(), v.Record().Records)
	}
}

// A handbook that is read again takes the visit along.
func TestTheVisitGoesOnInTheNewHandbook(t *testing.T) {
	walked := func(t *testing.T) (*session.Session, string) {
		s, _ := begin(t)
		id := must.Have(s.Begin(faulttree.Ref{Tree: "tingle"}))(t).To.ID
		must.Have(s.Answer(id, faulttree.Answer{Choice: "yes"}))(t)
		must.Have(s.Answer(id, volts(119, "119")))(t)
		must.Have(s.Answer(id, volts(20, "20")))(t)
		return s, id
	}
	t.Run("another limit", func(t *testing.T) {
		s, id := walked(t)
		if said := s.UseBook(read(t, replaced("touch: {value: 30 V", "touch: {value: 15 V"))); said != "" {
			t.Errorf("told: %q", said)
		}
		if at := s.Visit().Walk().At().Step; at != "stop" {
			t.Errorf("by the new limit 20 V leads to %s, not to the STOP", at)
		}
		must.Have(s.Answer(id, faulttree.Answer{Done: true}))(t)
	})
	t.Run("a renamed step", func(t *testing.T) {
		s, id := walked(t)
		book := read(t, replaced("prove", "prove-it"))
		if said := s.UseBook(book); !strings.Contains(said, "2 answers no longer fit this handbook") {
			t.Errorf("told: %q", said)
		}
		if at := s.Visit().Walk().At(); at.Step != "prove-it" || book.Forest.Step(at) == nil {
			t.Errorf("the walk stands at %s", at)
		}
		for _, e := range s.Visit().Walk().Trail() {
			if book.Forest.Step(e.Step) == nil {
				t.Errorf("the trail has step %s, which the handbook has not", e.Step)
			}
		}
		must.Have(s.Answer(id, volts(119, "119")))(t)
	})
	t.Run("without its first step", func(t *testing.T) {
		s, id := walked(t)
		if said := s.UseBook(read(t, replaced("felt", "noticed"))); !strings.Contains(said, "cannot go on with the visit") {
			t.Errorf("told: %q", said)
		}
		if s.Visit() != nil {
			t.Error("the visit is still under way")
		}
		s.UseBook(read(t, nil))
		if said, err := s.Open(id); said != "" || err != nil || len(s.Visit().Walk().Trail()) != 3 {
			t.Errorf("in the old handbook: %q, %v", said, err)
		}
	})
}

// Whatever goes wrong with the visit before is told where the reader goes on.
func TestClosingThatFailsIsTold(t *testing.T) {
	s, disk := begin(t)
	first := must.Have(s.Begin(prove))(t).To.ID
	disk.Unclosed = errors.New("the disk has gone")
	if out := must.Have(s.Begin(prove))(t); !strings.Contains(out.Said, "the disk has gone") {
		t.Errorf("told: %q", out.Said)
	}
	if said, err := s.Open(first); err != nil || !strings.Contains(said, "the disk has gone") {
		t.Errorf("told: %q, %v", said, err)
	}
}

// A visit that cannot be opened leaves the one under way as it is.
func TestOpeningFails(t *testing.T) {
	s, _ := begin(t)
	id := must.Have(s.Begin(prove))(t).To.ID
	if _, err := s.Open("2026-01-01-none2"); err != session.ErrGone {
		t.Error(err)
	}
	if s.UnderWay(id) == nil {
		t.Error("the visit before is not under way any more")
	}
	must.Have(s.Answer(id, volts(119, "119")))(t)
}

// A file that has failed for good is opened anew when the reader comes back to
// the visit, and what is on record is all there.
func TestAFileThatFailedIsOpenedAnew(t *testing.T) {
	s, disk := begin(t)
	id := must.Have(s.Begin(prove))(t).To.ID
	disk.Full, disk.Torn = true, true
	if _, err := s.Answer(id, volts(119, "119")); err == nil {
		t.Fatal("an answer was taken that is not on disk")
	}
	disk.Full = false
	if _, err := s.Answer(id, volts(119, "119")); err == nil {
		t.Fatal("the file works although it was torn")
	}
	if said, err := s.Open(id); said != "" || err != nil {
		t.Fatalf("%q, %v", said, err)
	}
	must.Have(s.Answer(id, volts(119, "119")))(t)
	if v, err := disk.Read(id); err != nil || len(v.Records) != 1 {
		t.Errorf("on record are %v, %v", v.Records, err)
	}
}

// What is typed belongs to a place however far it is scrolled, and an emptied
// entry stays empty.
func TestDrafts(t *testing.T) {
	s, _ := begin(t)
	at := place.Walk("v1", 2)
	if _, typed := s.Draft(at, 0); typed {
		t.Error("something was typed before anything was")
	}
	at.Offset = 120
	s.Keep(at, 0, "58")
	s.Keep(at, 1, "")
	if text, typed := s.Draft(at.Top(), 0); text != "58" || !typed {
		t.Errorf("typed is %q", text)
	}
	if text, typed := s.Draft(at, 1); text != "" || !typed {
		t.Errorf("an emptied entry holds %q, %v", text, typed)
	}
	s.Forget("v1")
	if _, typed := s.Draft(at, 0); typed {
		t.Error("not forgotten")
	}
}
