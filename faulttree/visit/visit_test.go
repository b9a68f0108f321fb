package visit

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/must"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var began = time.Date(2026, 5, 3, 14, 30, 0, 0, time.FixedZone("", 7200))

func header() Header {
	return Header{
		ID: "2026-05-03-k7fqm", Start: faulttree.Ref{Tree: "tingle", Step: "first"}, Meter: faulttree.DefaultMeter(),
		Details: Details{Site: "Quillback Hollow, pitch 12", Vehicle: "caravan", Note: "wet grass"}, Started: began, Content: "abc",
	}
}

// begin is a recorder for a new visit and the lines it writes.
func begin(t interface{ Fatal(...any) }, h Header, f *faulttree.Forest) (Recorder, *lines) {
	log := &lines{}
	line := must.Have(EncodeHeader(h))(t)
	log.Append(line)
	r := must.Have(Resume(log, Visit{Header: h}, f))(t)
	return r, log
}

// reply is an answer to the step the walk stands at: a choice, a reading as
// typed, or anything for an act.
func reply(t interface{ Fatal(...any) }, w faulttree.Walk, typed string) faulttree.Answer {
	s := w.Step()
	switch s.Kind {
	case faulttree.KindAct:
		return faulttree.Answer{Done: true}
	case faulttree.KindObserve:
		return faulttree.Answer{Choice: typed}
	}
	reading := must.Have(faulttree.ParseReading(typed, s.Measure[0].Quantity))(t)
	return faulttree.Answer{Readings: []faulttree.Reading{reading}}
}

func minute(n int) time.Time { return began.Add(time.Duration(n) * time.Minute) }

// walked answers in order and fails the test on the first error.
func walked(t *testing.T, r Recorder, typed ...string) Recorder {
	t.Helper()
	for i, text := range typed {
		var err error
		if r, err = r.Answer(minute(i), reply(t, r.Walk(), text)); err != nil {
			t.Fatalf("answer %d, %q: %v", i, text, err)
		}
	}
	return r
}

// trail words a walk for comparison.
func trail(w faulttree.Walk) string {
	var out []string
	for _, e := range w.Trail() {
		text := e.Answer.Choice
		for _, r := range e.Answer.Readings {
			text += r.Text
		}
		out = append(out, e.Step.Step+"="+text)
	}
	return strings.Join(out, " ") + " @" + w.At().Step
}

func read(t *testing.T, journal []byte) Visit {
	t.Helper()
	v, keep, err := Read(journal)
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Damage) > 0 || v.Torn || keep != len(journal) {
		t.Fatalf("a sound journal is reported as damaged: %v, torn %v, keep %d of %d", v.Damage, v.Torn, keep, len(journal))
	}
	return v
}

func TestJournalRoundTrip(t *testing.T) {
	f := tingle()
	r, log := begin(t, header(), f)
	r = walked(t, r, "", "no", "118,4 V", "wanders 6-8 V", "OL", "")
	r = must.Have(r.Describe(minute(9), Details{Site: "Quillback Hollow, pitch 14"}))(t)
	r = walked(t, r, "not possible: no second person, “alone”\n")
	v := read(t, log.text)
	if diff := cmp.Diff(r.Visit(), v); diff != "" {
		t.Errorf("the journal reads back differently (-recorded +read):\n%s", diff)
	}
	again := must.Have(Resume(log, v, f))(t)
	if got, want := trail(again.Walk()), trail(r.Walk()); got != want {
		t.Errorf("resumed at %s, want %s", got, want)
	}
	if got := v.Details().Site; got != "Quillback Hollow, pitch 14" {
		t.Errorf("details are %q", got)
	}
}

func TestTypedTextIsKept(t *testing.T) {
	f := tingle()
	r, log := begin(t, header(), f)
	r = walked(t, r, "", "no", "118,40 vac")
	v := read(t, log.text)
	if got := v.Records[2].Replies[0].Readings[0].Reading.Text; got != "118,40 vac" {
		t.Errorf("the text typed reads back as %q", got)
	}
	_ = r
}

// A journal cut anywhere, as a sudden stop leaves it, keeps every whole line
// and reports no damage; nothing that is not whole is taken.
func TestTornAtEveryByte(t *testing.T) {
	r, log := begin(t, header(), tingle())
	r = walked(t, r, "", "no", "118", "6 V", "58 V")
	head := 1 + slices.Index(log.text, '\n')
	for n := head; n <= len(log.text); n++ {
		v, keep, err := Read(log.text[:n])
		if err != nil || len(v.Damage) > 0 {
			t.Fatalf("cut at %d: %v, %v", n, err, v.Damage)
		}
		whole := strings.Count(string(log.text[:n]), "\n") - 1
		lastLine := n < len(log.text) && log.text[n] == '\n' // only the line end is missing
		if lastLine {
			whole++
		}
		if len(v.Records) != whole {
			t.Fatalf("cut at %d: %d records, want %d", n, len(v.Records), whole)
		}
		if v.Torn != (keep != n) {
			t.Fatalf("cut at %d: torn %v but %d bytes kept", n, v.Torn, keep)
		}
		if _, again, _ := Read(log.text[:keep]); again != keep {
			t.Fatalf("cut at %d: the kept part is not whole", n)
		}
	}
	for n := range head {
		if _, _, err := Read(log.text[:n]); err == nil && n != head-1 {
			t.Fatalf("a journal of %d bytes, less than its header, is taken for a visit", n)
		}
	}
}

// Every change of one byte in a finished journal is noticed.
func TestDamageIsNeverSilent(t *testing.T) {
	r, log := begin(t, header(), tingle())
	walked(t, r, "", "no", "118", "6 V", "58 V")
	whole := read(t, log.text)
	for n := range log.text {
		hurt := slices.Clone(log.text)
		hurt[n] ^= 0x04
		v, _, err := Read(hurt)
		if err == nil && len(v.Damage) == 0 && !v.Torn {
			t.Fatalf("byte %d changed from %q to %q and nothing is reported", n, log.text[n], hurt[n])
		}
		if err == nil && len(v.Records) < len(whole.Records)-2 {
			t.Fatalf("byte %d changed: only %d records are left", n, len(v.Records))
		}
	}
}

func TestDamagedMiddleLine(t *testing.T) {
	r, log := begin(t, header(), tingle())
	walked(t, r, "", "no", "118", "6 V", "58 V")
	split := strings.SplitAfter(string(log.text), "\n")
	tests := []struct {
		name, journal, want string
		records             int
	}{
		{"checksum", strings.Replace(string(log.text), "118", "119", 1), "line 4 of the record: its checksum does not agree with its text; record 3 is lost", 4},
		{"line lost", split[0] + split[1] + split[3] + split[4], "line 3 of the record: before it something is missing; record 2 is lost", 3},
		{"line twice", split[0] + split[1] + split[1] + split[2], "line 3 of the record: it is record 1 after record 1; it is left out", 2},
		{"not a line", split[0] + "nonsense\n" + split[1], "line 2 of the record: it is not a record of a visit; no record is lost", 1},
	}
	for _, tt := range tests {
		v, _, err := Read([]byte(tt.journal))
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		if len(v.Records) != tt.records || len(v.Damage) == 0 || v.Damage[0].String() != tt.want {
			t.Errorf("%s: %d records and damage %v; want %d and %q", tt.name, len(v.Records), v.Damage, tt.records, tt.want)
		}
	}
	if v, _, _ := Read([]byte(tests[0].journal)); len(v.Damage) != 1 {
		t.Errorf("one damaged line is reported as %v", v.Damage)
	}
}

func TestUnknownNamesAreRefused(t *testing.T) {
	head, _ := EncodeHeader(header())
	for _, record := range []string{
		`{"seq":1,"time":"2026-05-03T14:30:00Z","kind":"answer","later":1}`,
		`{"seq":1,"time":"2026-05-03T14:30:00Z","kind":"guess"}`,
		`{"seq":1,"time":"2026-05-03T14:30:00Z","kind":"answer"}`,
		`{"seq":1,"time":"2026-05-03T14:30:00Z","kind":"answer","replies":[{"step":"tingle#body","readings":[{"text":"3","quality":"sure","low":"3","high":"3","resolution":"1"}]}]}`,
	} {
		line, _ := journal.Seal([]byte(record))
		v, _, err := Read(append(slices.Clone(head), line...))
		if err != nil || len(v.Records) != 0 || len(v.Damage) != 1 {
			t.Errorf("%s\nis taken: %v, %v, %v", record, v.Records, v.Damage, err)
		}
	}
}

// A clock beyond the dates that can be written is said, not passed on as the
// words of a library.
func TestDateBeyondTheFormat(t *testing.T) {
	for _, year := range []int{-1, 0, 10_000, 292_000} {
		at := time.Date(year, 5, 3, 14, 30, 0, 0, time.UTC)
		_, err := EncodeRecord(Record{Seq: 1, At: at, Kind: Detailed})
		want := fmt.Sprintf("the clock says the year %d, and a record can be kept for the years 1 to 9999; set the clock", year)
		if err == nil || err.Error() != want {
			t.Errorf("the year %d gives %v", year, err)
		}
		h := header()
		h.Started = at
		if _, err := EncodeHeader(h); err == nil {
			t.Errorf("a visit begins in the year %d", year)
		}
	}
}

func TestAppendComesFirst(t *testing.T) {
	f := tingle()
	full := errors.New("no space left")
	r := must.Have(Resume(logFunc(func([]byte) error { return full }), Visit{Header: header()}, f))(t)
	next, err := r.Answer(began, faulttree.Answer{Done: true})
	if !errors.Is(err, full) {
		t.Errorf("the error of the log is lost: %v", err)
	}
	if got := trail(next.Walk()); got != " @first" {
		t.Errorf("the walk went on to %s although nothing was recorded", got)
	}
}

type logFunc func([]byte) error

func (f logFunc) Append(line []byte) error { return f(line) }

// Whatever is done to a visit, reading its journal back gives the same walk.
func TestResumeEqualsRecorder(t *testing.T) {
	f := tingle()
	rapid.Check(t, func(t *rapid.T) {
		r, log := begin(t, header(), f)
		typed := rapid.SampledFrom([]string{"0.4", "3", "6", "12.5", "29.9", "58", "OL", "not possible: rain", "120"})
		choice := rapid.SampledFrom([]string{"yes", "no"})
		n := rapid.IntRange(1, 14).Draw(t, "operations")
		changed := false // a changed answer may have to wait for its turn
		for i := range n {
			before := len(log.text)
			var err error
			switch op := rapid.SampledFrom([]string{"answer", "answer", "answer", "back", "change", "supply", "retest"}).Draw(t, "op"); op {
			case "answer":
				if r.Walk().Ended() {
					continue
				}
				r, err = r.Answer(minute(i), reply(t, r.Walk(), pick(t, r.Walk().Step(), typed, choice)))
			case "back":
				r, err = r.Back(minute(i))
			case "change":
				entries := r.Walk().Trail()
				if len(entries) == 0 {
					continue
				}
				k := rapid.IntRange(0, len(entries)-1).Draw(t, "entry")
				at, _ := faulttree.Begin(f, entries[k].Step, faulttree.Owner, faulttree.DefaultMeter())
				changed = true
				r, _, err = r.Change(minute(i), k, reply(t, at, pick(t, at.Step(), typed, choice)))
			case "supply":
				s := faulttree.Supplied{ActsDone: true, Readings: map[string][]faulttree.Reading{}}
				for _, id := range []string{body, panel} {
					reading, _ := faulttree.ParseReading(typed.Draw(t, id), f.Quantities[id])
					s.Readings[id] = append(s.Readings[id], reading)
				}
				r, _, err = r.Supply(minute(i), s)
			case "retest":
				r, err = r.Retest(minute(i), faulttree.Ref{})
			}
			if err != nil {
				t.Fatalf("operation %d: %v (walk %s)", i, err, trail(r.Walk()))
			}
			v, _, err := Read(log.text)
			if err != nil || len(v.Damage) > 0 {
				t.Fatal(err, v.Damage)
			}
			again := must.Have(Resume(log, v, f))(t)
			if got, want := trail(again.Walk()), trail(r.Walk()); got != want {
				t.Fatalf("after %s\nresumed %s\nwant    %s", log.text[before:], got, want)
			}
			if diff := cmp.Diff(r.Current().Answers, again.Current().Answers); diff != "" {
				t.Fatalf("answers stand differently after resuming:\n%s", diff)
			}
			if lapsed := again.Current().Lapsed(); len(lapsed) > 0 && !changed {
				t.Fatalf("in an unchanged handbook %v does not stand", lapsed)
			}
		}
	})
}

func pick(t *rapid.T, s *faulttree.Step, typed, choice *rapid.Generator[string]) string {
	if s.Kind == faulttree.KindObserve {
		return choice.Draw(t, "choice")
	}
	if s.Kind == faulttree.KindMeasure {
		return typed.Draw(t, "reading")
	}
	return ""
}

func TestIDs(t *testing.T) {
	for n := range uint64(1000) {
		id := NewID(began, n*7919)
		if err := CheckID(id); err != nil || !strings.HasPrefix(id, "2026-05-03-") {
			t.Fatalf("NewID makes %q: %v", id, err)
		}
	}
	for _, bad := range []string{"", "-", "a-", "-a", "../x", "a/b", "a.b", "A", "ä", strings.Repeat("a", 65), "a\x00"} {
		if CheckID(bad) == nil {
			t.Errorf("%q is taken for the name of a visit", bad)
		}
	}
	for _, id := range []ItemID{{1, 0}, {7, 2}, {120, 11}} {
		text, _ := id.MarshalText()
		var back ItemID
		if err := back.UnmarshalText(text); err != nil || back != id {
			t.Errorf("%v reads back from %q as %v: %v", id, text, back, err)
		}
	}
	var id ItemID
	for _, bad := range []string{"", "0", "x", "1.0", "1.x", "-1"} {
		if id.UnmarshalText([]byte(bad)) == nil {
			t.Errorf("%q is taken for the number of an answer", bad)
		}
	}
}

// sealed makes lines of a journal from JSON values, one a line, with right
// checksums; other lines stay as they are.
func sealed(text []byte) []byte {
	var out []byte
	for _, line := range bytes.SplitAfter(text, []byte("\n")) {
		record, ended := bytes.CutSuffix(line, []byte("\n"))
		if whole, err := journal.Seal(record); ended && err == nil && len(record) > 0 && record[0] == '{' {
			line = whole
		}
		out = append(out, line...)
	}
	return out
}

// unsealed is the JSON of the records of a journal, one a line.
func unsealed(text []byte) []byte {
	var out []byte
	for line := range bytes.Lines(text) {
		if record, err := journal.Unseal(bytes.TrimSuffix(line, []byte("\n"))); err == nil {
			out = append(append(out, record...), '\n')
		}
	}
	return out
}

// Whatever a journal holds, reading it ends, what is read can be written and
// read again, and a walk can go on from it.
func FuzzRead(f *testing.F) {
	earlier := must.Have(os.ReadFile("testdata/format1.visit"))(f)
	records := bytes.SplitAfter(unsealed(earlier), []byte("\n"))
	head := records[0]
	for _, r := range records[1:] {
		f.Add(append(slices.Clone(head), r...))
	}
	f.Add(bytes.Join(records[10:], nil))
	f.Add(append(slices.Clone(head), `{"crc":"0`...))
	f.Add(append(slices.Clone(head), 0, 0, 0))
	forest := tingle()
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 4<<10 {
			return // longer ones say nothing new, and take time
		}
		whole := sealed(text)
		v, keep, err := Read(whole)
		if keep < 0 || keep > len(whole) || v.Torn == (keep == len(whole)) && err == nil {
			t.Fatalf("%d of %d bytes are kept, torn %v", keep, len(whole), v.Torn)
		}
		if err != nil {
			return
		}
		for _, r := range v.Records {
			line, err := EncodeRecord(r)
			if err != nil {
				continue // a date or a size that is not written
			}
			inner := must.Have(journal.Unseal(line[:len(line)-1]))(t)
			if again, err := decodeRecord(inner); err != nil || again.Seq != r.Seq || len(again.Replies) != len(r.Replies) {
				t.Fatalf("record %+v reads back as %+v, %v", r, again, err)
			}
		}
		if r, err := Resume(&lines{}, v, forest); err == nil {
			r.Back(began)
		}
	})
}
