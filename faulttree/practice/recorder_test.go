package practice_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// lines is a log in memory that can fail.
type lines struct {
	text []byte
	full error
}

func (l *lines) Append(line []byte) error {
	if l.full == nil {
		l.text = append(l.text, line...)
	}
	return l.full
}

var header = practice.Header{ID: "2026-05-03-k7fqm", Case: "case", Seed: 7, Level: practice.Guided, Meter: faulttree.DefaultMeter(), Started: time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)}

// recorded begins an attempt on record.
func recorded(t testing.TB, c practice.Case) (*practice.Recorder, *lines) {
	t.Helper()
	line := must.Have(practice.EncodeHeader(header))(t)
	log := &lines{text: line}
	return resumed(t, c, log), log
}

// resumed goes on with what is in the log.
func resumed(t testing.TB, c practice.Case, log *lines) *practice.Recorder {
	t.Helper()
	k, _, err := practice.ReadJournal(log.text)
	if err != nil {
		t.Fatal(err)
	}
	return must.Have(c.Resume(log, k))(t)
}

// doAll does acts, each a second after the one before.
func doAll(t testing.TB, r *practice.Recorder, acts ...practice.Act) {
	t.Helper()
	for _, a := range acts {
		a.Asked, a.At = true, r.Attempt().Last()+time.Second
		if a.Reads() && a.Setting != (meter.Setting{}) {
			r.Learner().Set(a.Setting)
		}
		if done, err := r.Do(a); err != nil || done[len(done)-1].Kind == practice.Reject {
			t.Fatal(done, err)
		}
	}
}

var (
	readBody  = practice.Act{Kind: practice.Read, Red: "body", Black: "earth"}
	readPanel = practice.Act{Kind: practice.Read, Red: "panel.l1", Black: "panel.n"}
	breaker   = practice.Act{Kind: practice.Throw, Name: "pedestal"}
	pull      = practice.Act{Kind: practice.Throw, Name: "plug"}
	cord      = practice.Act{Kind: practice.Swap, Name: "another-cord", On: true}
)

// whole plays an attempt with everything that can be on record.
func whole(t testing.TB, c practice.Case) (*practice.Recorder, *lines) {
	t.Helper()
	r, log := recorded(t, c)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	doAll(t, r, prove, readBody)
	must(r.Predict("about 120 V", "that the supply is there", 5*time.Second))
	jack := readPanel
	jack.Setting = meter.Setting{Function: meter.VoltsAC, Jack: meter.AmpereJack}
	doAll(t, r, readPanel, jack, fuse, load, slip)
	must(r.Hint("Read the body to earth with the loads on.", 20*time.Second))
	must(r.Hint("Read the body to earth with the loads on.", 25*time.Second)) // the same, told again
	if n := len(r.Attempt().Hints); n != 1 {
		t.Fatalf("a hint that was told twice with nothing done between is %d hints", n)
	}
	must(r.Include("2026-05-03-aaaaa"))
	low := readBody
	low.Setting = meter.Setting{Function: meter.LowZ}
	doAll(t, r, low, breaker, pull, cord)
	must(r.Conclude(practice.Conclusion{Faults: []string{"open-ground"}, Place: faulttree.Supply, Deciding: []int{1}, Sure: practice.Sure,
		Open: []faulttree.FaultAt{{Fault: "leak", Place: faulttree.Vehicle}}, Do: "site", RepairBy: "electrician", Tell: "Do not plug in here.", At: time.Minute}))
	must(r.Repair())
	doAll(t, r, practice.Act{Kind: practice.Throw, Name: "plug", On: true}, practice.Act{Kind: practice.Throw, Name: "pedestal", On: true}, readBody)
	return r, log
}

var asShown = cmpopts.IgnoreUnexported(practice.Act{})

func TestAttemptIsOnRecord(t *testing.T) {
	c := with(t, "open-ground")
	r, log := whole(t, c)
	k, keep, err := practice.ReadJournal(log.text)
	if err != nil || keep != len(log.text) || len(k.Damage) > 0 || k.Torn {
		t.Fatal(err, k.Damage, keep)
	}
	if diff := cmp.Diff(r.Attempt(), k.Attempt, asShown); diff != "" {
		t.Errorf("(-recorded +read):\n%s", diff)
	}
	if diff := cmp.Diff(header, k.Header); diff != "" {
		t.Errorf("(-header +read):\n%s", diff)
	}
	again := resumed(t, c, log)
	if diff := cmp.Diff(r.Learner().State(), again.Learner().State()); diff != "" || !again.Learner().Tried("another-cord") {
		t.Errorf("the vehicle stands differently (-then +now):\n%s", diff)
	}
	acts := r.Attempt().Acts
	if body := acts[len(acts)-1]; body.Reading().High > faulttree.One {
		t.Errorf("after the repair the body reads %s", body.Shown)
	}
	for i, a := range acts {
		p, ok := r.Attempt().Predicted(i)
		if first := i == 3; ok != first || ok && (p.Expects != "about 120 V" || a.Red != "panel.l1") {
			t.Errorf("before act %d, %s, was said %+v", practice.Number(i), a.Kind, p)
		}
	}
	want := "prove read in read read change-fuse load take-back read throw throw swap throw throw read"
	if got := kinds(acts); strings.ReplaceAll(got, "out ", "") != want && got != want {
		t.Errorf("the acts are %s", got)
	}
	text := must.Have(json.Marshal(k.Attempt))(t)
	decoded := must.Have(practice.Decode(text))(t)
	if _, differs, err := c.Verify(decoded); differs != nil || err != nil {
		t.Error(differs, err)
	}
}

// A program that is stopped at any byte of what it writes loses no act that was
// confirmed, and the attempt goes on from there.
func TestAttemptStoppedAtAnyByte(t *testing.T) {
	c := with(t, "open-ground")
	r, log := whole(t, c)
	first := bytes.IndexByte(log.text, '\n')
	for n := range len(log.text) + 1 {
		k, keep, err := practice.ReadJournal(log.text[:n])
		if n < first {
			if err == nil {
				t.Fatalf("%d bytes of a header are taken for an attempt", n)
			}
			continue
		}
		if err != nil || len(k.Damage) > 0 || k.Torn != (keep != n) {
			t.Fatalf("cut at %d: %v, damage %v, torn %v, %d kept", n, err, k.Damage, k.Torn, keep)
		}
		acts := k.Attempt.Acts
		if diff := cmp.Diff(r.Attempt().Acts[:len(acts)], acts, asShown, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("cut at %d (-recorded +read):\n%s", n, diff)
		}
		confirmed := bytes.Count(log.text[:n], []byte(`"kind":"read"`))
		if got := strings.Count(kinds(acts), "read"); got < confirmed-1 || got > confirmed {
			t.Fatalf("cut at %d: %d readings of %d", n, got, confirmed)
		}
		if log.text[max(n-1, 0)] != '\n' {
			continue
		}
		on := &lines{text: slices.Clone(log.text[:keep])}
		again := resumed(t, c, on)
		if again.Attempt().Ended() && again.Attempt().Repaired == 0 {
			if _, err := again.Do(prove); err == nil {
				t.Fatal("an act after the conclusion is on record")
			}
			continue
		}
		doAll(t, again, prove)
		if k, _, err := practice.ReadJournal(on.text); err != nil || len(k.Damage) > 0 || len(k.Attempt.Acts) != len(acts)+1 {
			t.Fatalf("cut at %d and gone on: %v, %v", n, err, k.Damage)
		}
	}
}

// Whatever byte is damaged, it is told, what else is on record is read, and
// nobody goes on with a vehicle of which an act is lost.
func TestDamagedAttempt(t *testing.T) {
	c := with(t, "open-ground")
	r, log := whole(t, c)
	first := bytes.IndexByte(log.text, '\n')
	for n := range log.text {
		hurt := slices.Clone(log.text)
		hurt[n] ^= 1 << (n % 8)
		k, keep, err := practice.ReadJournal(hurt)
		if err != nil {
			if n > first {
				t.Fatalf("byte %d: %v", n, err)
			}
			continue
		}
		if len(k.Damage) == 0 || keep != len(hurt) || len(k.Doubts()) == 0 {
			t.Fatalf("byte %d, %q to %q: damage %v, %d of %d kept", n, log.text[n], hurt[n], k.Damage, keep, len(hurt))
		}
		if k.Lost() {
			if _, err := c.Resume(&lines{}, k); err == nil {
				t.Fatalf("byte %d: gone on with what is lost", n)
			}
		} else if len(k.Attempt.Acts) != len(r.Attempt().Acts) {
			t.Fatalf("byte %d: %d acts, and nothing is said to be lost", n, len(k.Attempt.Acts))
		}
		if _, _, err := c.Verify(k.Attempt); err != nil {
			t.Fatalf("byte %d: what is left cannot be looked at: %v", n, err)
		}
	}
}

// A log that fails leaves attempt, vehicle and meter as they were.
func TestNothingIsDoneThatIsNotOnRecord(t *testing.T) {
	c := with(t, "open-ground")
	r, log := recorded(t, c)
	doAll(t, r, prove, load)
	stood, attempt := r.Learner().State(), r.Attempt()
	log.full = errors.New("no space left")
	jack := meter.Setting{Function: meter.VoltsAC, Jack: meter.AmpereJack}
	for _, a := range []practice.Act{breaker, goOut, readPanel, {Kind: practice.Unplug, Name: "appliances"}, slip, readBody} {
		if a.Kind == practice.Read {
			r.Learner().Set(jack)
		}
		a.Asked, a.At = true, time.Minute
		if done, err := r.Do(a); !errors.Is(err, log.full) || done != nil {
			t.Fatalf("%s: %v, %v", a.Kind, done, err)
		}
		if diff := cmp.Diff(stood, r.Learner().State()); diff != "" || !r.Learner().Inside() || r.Learner().Tried("appliances") {
			t.Errorf("after %s, which is not on record, the vehicle stands differently:\n%s", a.Kind, diff)
		}
	}
	if err := r.Conclude(practice.Conclusion{Faults: []string{"open-ground"}}); !errors.Is(err, log.full) || r.Attempt().Ended() {
		t.Errorf("a conclusion that is not on record: %v", err)
	}
	if diff := cmp.Diff(attempt, r.Attempt(), asShown); diff != "" {
		t.Error(diff)
	}
	log.full = nil
	doAll(t, r, slip) // what was done before is still the last act
	r.Learner().Set(meter.Setting{Function: meter.AmpsAC})
	doAll(t, r, load, practice.Act{Kind: practice.Read, Red: "panel.l1"})
	if a := r.Attempt().Acts; a[len(a)-1].Reading().Low < 9*faulttree.One {
		t.Error("the fuse is blown by a reading that is not on record")
	}
	must.Do(t, r.Conclude(practice.Conclusion{Faults: []string{"open-ground"}}))
	log.full = errors.New("no space left")
	if err := r.Repair(); !errors.Is(err, log.full) || r.Attempt().Repaired != 0 {
		t.Errorf("a repair that is not on record: %v", err)
	}
	log.full = nil
	if err := r.Repair(); err != nil {
		t.Error(err)
	}
	resumed(t, c, log)
}

// What the order of things forbids is refused and not on record.
func TestOutOfOrder(t *testing.T) {
	r, log := recorded(t, with(t, "open-ground"))
	refuse := func(what string, err error) {
		t.Helper()
		if err == nil {
			t.Errorf("%s is taken", what)
		}
	}
	refuse("a repair before the conclusion", r.Repair())
	doAll(t, r, prove, load)
	refuse("a deciding act that is no reading", r.Conclude(practice.Conclusion{Faults: []string{"x"}, Deciding: []int{1}}))
	refuse("a deciding act that is none", r.Conclude(practice.Conclusion{Faults: []string{"x"}, Deciding: []int{-1}}))
	refuse("an endless text", r.Conclude(practice.Conclusion{Tell: strings.Repeat("a", practice.MostText+1)}))
	refuse("a place outside the folder of visits", r.Include("../secret"))
	must.Do(t, r.Conclude(practice.Conclusion{Faults: []string{"x"}}))
	before := len(log.text)
	refuse("a second conclusion", r.Conclude(practice.Conclusion{Faults: []string{"y"}}))
	refuse("a hint after the end", r.Hint("now", 0))
	_, err := r.Do(prove)
	refuse("an act after the end", err)
	must.Do(t, r.Repair())
	refuse("a second repair", r.Repair())
	if bytes.Count(log.text[before:], []byte("\n")) != 1 {
		t.Errorf("on record is %s", log.text[before:])
	}
}

// A clock that was set back makes no attempt that runs backwards.
func TestClockSetBack(t *testing.T) {
	c := with(t)
	r, log := recorded(t, c)
	for _, at := range []time.Duration{time.Minute, -time.Hour, time.Second} {
		a := prove
		a.At = at
		must.Have(r.Do(a))(t)
	}
	for _, a := range resumed(t, c, log).Attempt().Acts {
		if a.At != time.Minute {
			t.Errorf("%v", a.At)
		}
	}
}

// What is no attempt of this version is told in a sentence.
func TestNoAttempt(t *testing.T) {
	seal := func(record string) []byte {
		return must.Have(journal.Seal([]byte(record)))(t)
	}
	for _, tt := range []struct{ text, want string }{
		{"", "the record is empty"},
		{"hello\n", "line 1 of the record: it is not a record of an attempt"},
		{string(seal(`{"seq":0,"kind":"attempt","format":2,"whatever":1}`)), "line 1 of the record: it is written in format 2, and this program reads format 1"},
		{string(seal(`{"seq":0,"kind":"visit","format":1,"id":"a"}`)), "line 1 of the record: it is not the beginning of an attempt"},
		{string(seal(`{"seq":0,"kind":"attempt","format":1,"id":"../a"}`)), `line 1 of the record: "../a" cannot be the name of an attempt`},
		{string(seal(`{"seq":0,"kind":"attempt","format":1,"id":"a","meter":{"counts":9000000000000000000}}`)), "line 1 of the record: a meter has 100 to 10000000 counts, not 9000000000000000000"},
	} {
		_, _, err := practice.ReadJournal([]byte(tt.text))
		got := fmt.Sprint(err)
		got, _, _ = strings.Cut(got, "; ")
		if got != tt.want {
			t.Errorf("%.60q gives %q; want %q", tt.text, got, tt.want)
		}
	}
	line, _ := practice.EncodeHeader(header)
	for _, record := range []string{`{"seq":1}`, `{"seq":1,"repaired":true,"beside":"a"}`, `{"seq":1,"acts":[{"kind":"guess"}]}`, `{"seq":1,"later":1}`} {
		k, _, err := practice.ReadJournal(append(slices.Clone(line), seal(record)...))
		if err != nil || len(k.Damage) != 1 || len(k.Attempt.Acts) != 0 {
			t.Errorf("%s is taken: %+v, %v", record, k, err)
		}
	}
}

// What is typed and not said yet is on record, the last of it counts, and it is no part
// of what is handed in. Past its bounds no draft is written, and acts still are.
func TestDraftsAreOnRecord(t *testing.T) {
	c := with(t)
	r, log := recorded(t, c)
	doAll(t, r, prove, readBody)
	said := practice.Draft{Conclusion: practice.Conclusion{Faults: []string{"open-ground"}, Deciding: []int{1}, Tell: "Keep the plug o\u202e"}}
	must.Do(t, r.Keep(said))
	half := practice.Draft{Readings: 2, Expects: "from 105 V to 127 V"}
	for _, d := range []practice.Draft{half, said} {
		must.Do(t, r.Keep(d))
		long := len(log.text)
		must.Do(t, r.Keep(d))
		if len(log.text) != long {
			t.Error("the same draft is written twice")
		}
	}
	doAll(t, r, readBody)
	said.Conclusion.Tell = "Keep the plug o" // what cannot be seen is not kept
	if got := resumed(t, c, log).Draft(); !cmp.Equal(got, said) {
		t.Errorf("read back is %+v", got)
	}
	hidden := map[string]any{"seq": 1, "draft": map[string]any{"conclusion": map[string]any{"tell": "off\u202eon"}}}
	text := append(must.Have(practice.EncodeHeader(header))(t), must.Have(journal.Encode(header.Started, hidden))(t)...)
	if k, _, err := practice.ReadJournal(text); err != nil || k.Draft.Conclusion.Tell != "offon" {
		t.Errorf("read from outside is %q, %v", k.Draft.Conclusion.Tell, err)
	}
	if a := r.Attempt(); a.Ended() || len(a.Predictions) > 0 || strings.Contains(string(must.Have(json.Marshal(a))(t)), "Keep the plug") {
		t.Errorf("the attempt tells of it: %+v", a)
	}
	if r.Keep(practice.Draft{Conclusion: practice.Conclusion{Deciding: []int{7}}}) == nil || r.Keep(practice.Draft{Tells: strings.Repeat("x", practice.MostText+1)}) == nil {
		t.Error("a draft past all bounds is kept")
	}
	var err error
	for n := 0; err == nil && n < 10_000; n++ {
		err = r.Keep(practice.Draft{Conclusion: practice.Conclusion{Tell: strings.Repeat("x", practice.MostText-n%2)}})
	}
	if !errors.Is(err, practice.ErrDrafts) || len(log.text) > 3<<20 {
		t.Errorf("%v after %d bytes", err, len(log.text))
	}
	doAll(t, resumed(t, c, log), readBody)
	must.Do(t, r.Conclude(practice.Conclusion{Faults: []string{practice.NoFault}}))
	must.Do(t, r.Keep(said))
	if got := r.Draft(); !cmp.Equal(got, practice.Draft{}) {
		t.Errorf("after the conclusion the draft is %+v", got)
	}
}
