package visit

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/must"

	"github.com/google/go-cmp/cmp"
)

// longJournal is a journal with 33 records.
func longJournal(t testing.TB) []byte {
	r, log := begin(t, header(), tingle())
	for n := 0; len(r.Visit().Records) < 33; n++ {
		var err error
		switch {
		case r.Walk().Ended():
			r, err = r.Retest(minute(n), faulttree.Ref{})
		case r.Walk().Step().ID == "felt":
			r, err = r.Answer(minute(n), faulttree.Answer{Choice: "no"})
		default:
			r, err = r.Answer(minute(n), reply(t, r.Walk(), "12.5"))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return log.text
}

// lineSpan is where one line of a journal stands, its line end left out.
type lineSpan struct{ from, to int }

func spans(journal []byte) []lineSpan {
	var out []lineSpan
	at := 0
	for _, line := range bytes.SplitAfter(journal, []byte("\n")) {
		if len(line) > 0 {
			out = append(out, lineSpan{at, at + len(line) - 1})
		}
		at += len(line)
	}
	return out
}

// tally counts what was recovered from damaged journals.
type tally struct{ journals, sound, missed, cut int }

// check reads a damaged journal in which only the bytes from a to below b
// differ from the sound one, or are missing at its end. Every record that has
// none of them must be read, and stay on disk.
func (c *tally) check(t *testing.T, what string, sound, hurt []byte, a, b int) Visit {
	t.Helper()
	v, keep, err := Read(hurt)
	c.journals++
	read := map[int]bool{}
	for _, r := range v.Records {
		read[r.Seq] = err == nil
	}
	for seq, s := range spans(sound) {
		if seq == 0 || s.to > a && s.from < b {
			continue
		}
		c.sound++
		if !read[seq] {
			c.missed++
			t.Errorf("%s: record %d is sound and is not read: %v", what, seq, err)
		}
		if s.to > keep {
			c.cut++
			t.Errorf("%s: record %d is sound and is cut off", what, seq)
		}
	}
	return v
}

func (c tally) log(t *testing.T, what string) {
	t.Logf("%s: %d journals with %d sound records; %d not read, %d cut off", what, c.journals, c.sound, c.missed, c.cut)
}

// nearLineEnd reports whether a line ends at byte n or next to it.
func nearLineEnd(journal []byte, n int) bool {
	return bytes.IndexByte(journal[max(n-1, 0):min(n+2, len(journal))], '\n') >= 0
}

// Whatever bit flips, at most the record it stands in is lost, nothing is cut
// off the disk, and it is said.
func TestFlippedBit(t *testing.T) {
	sound := longJournal(t)
	var c tally
	for n := range sound {
		for bit := range 8 {
			if bit != n%8 && !nearLineEnd(sound, n) {
				continue
			}
			hurt := slices.Clone(sound)
			hurt[n] ^= 1 << bit
			what := fmt.Sprintf("bit %d of byte %d, %q to %q", bit, n, sound[n], hurt[n])
			v := c.check(t, what, sound, hurt, n, n+1)
			if len(v.Damage) == 0 {
				t.Errorf("%s: nothing is said", what)
			}
			if _, keep, _ := Read(hurt); keep != len(hurt) {
				t.Errorf("%s: %d bytes are cut off", what, len(hurt)-keep)
			}
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	c.log(t, "every bit flipped")
}

// Zeros, as a power loss leaves them in place of bytes or after them, are
// damage: no record is cut off with them.
func TestZeros(t *testing.T) {
	sound := longJournal(t)
	var c tally
	for n := range len(sound) + 1 {
		more := []int{4096, 1, 0}[(len(sound)-n)%3]
		hurt := append(slices.Clone(sound[:n]), make([]byte, len(sound)-n+more)...)
		what := fmt.Sprintf("zeros from byte %d on and %d more", n, more)
		v := c.check(t, what, sound, hurt, n, len(hurt))
		if _, keep, err := Read(hurt); err == nil && keep != len(hurt) {
			t.Errorf("%s: %d bytes are cut off", what, len(hurt)-keep)
		}
		if len(v.Records) > 0 && len(v.Damage) == 0 {
			t.Errorf("%s: nothing is said", what)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	c.log(t, "zeros from every byte on")
}

// A journal that ends anywhere keeps every whole record, and is torn, not
// damaged: so an interrupted write leaves it.
func TestCutAtEveryByte(t *testing.T) {
	sound := longJournal(t)
	var c tally
	for n := range sound {
		v := c.check(t, fmt.Sprintf("cut at byte %d", n), sound, sound[:n], n, len(sound))
		if n > spans(sound)[0].to && len(v.Damage) > 0 {
			t.Fatalf("cut at byte %d: an interrupted write is called damage: %v", n, v.Damage)
		}
	}
	c.log(t, "cut at every byte")
}

// Only what an interrupted write can leave is taken for it.
func TestWhatIsTorn(t *testing.T) {
	whole, _ := EncodeRecord(Record{Seq: 1, At: began, Kind: Detailed, Details: Details{Note: "wet"}})
	line := string(bytes.TrimSuffix(whole, []byte("\n")))
	head, _ := EncodeHeader(header())
	tests := []struct {
		name, tail string
		torn       bool
		records    int
	}{
		{"nothing", "", false, 0},
		{"the beginning of a line", line[:40], true, 0},
		{"one byte", line[:1], true, 0},
		{"all but the line end", line, false, 1},
		{"a damaged line end", line + "\v", false, 1},
		{"a zero in it", line[:40] + "\x00", false, 0},
		{"zeros alone", strings.Repeat("\x00", 512), false, 0},
		{"a whole record that does not check", strings.Replace(line, "wet", "dry", 1), false, 0},
		{"the beginning of something else", "hello", false, 0},
		{"a record and the beginning of one on a line", line + "\v" + line[:40], false, 1},
		{"a line longer than any record", line[:40] + strings.Repeat("a", MaxLine), false, 0},
	}
	for _, tt := range tests {
		journal := string(head) + tt.tail
		v, keep, err := Read([]byte(journal))
		if err != nil || v.Torn != tt.torn || len(v.Records) != tt.records {
			t.Errorf("%s: torn %v, %d records, %v; want %v, %d", tt.name, v.Torn, len(v.Records), err, tt.torn, tt.records)
		}
		if cut := len(journal) - keep; cut != 0 && !tt.torn || cut != len(tt.tail) && tt.torn {
			t.Errorf("%s: %d of %d bytes are cut off", tt.name, cut, len(tt.tail))
		}
	}
}

// One damaged byte in the first line does not hide the answers: the visit is
// walked as an owner's, and what is lost is named.
func TestDamagedFirstLine(t *testing.T) {
	h := header()
	h.Role = faulttree.Qualified
	r, log := begin(t, h, tingle())
	walked(t, r, "", "no", "118", "6 V")
	hurt := bytes.Replace(log.text, []byte(`"counts":6000`), []byte(`"counts":9000`), 1)
	v, keep, err := Read(hurt)
	if err != nil || keep != len(hurt) {
		t.Fatal(err, keep)
	}
	want := "line 1 of the record: it says who reads, with which meter, where and from which step on, and cannot be read. " +
		"The visit is taken for an owner's with an ordinary meter, from tingle#first on"
	if len(v.Damage) != 1 || v.Damage[0].String() != want {
		t.Errorf("damage is %v", v.Damage)
	}
	if v.Header.Role != faulttree.Owner || v.Header.Meter != faulttree.DefaultMeter() || v.Header.ID != "" {
		t.Errorf("the header is %+v", v.Header)
	}
	if got := trail(v.Replay(tingle())[0].Walk); got != "first= felt=no leg=118 body=6 V @body" {
		t.Errorf("the walk is %s", got)
	}
}

// A first line that is sound, of a later version, is not guessed at.
func TestLaterFormatIsRefused(t *testing.T) {
	line, _ := journal.Seal([]byte(`{"seq":0,"kind":"visit","format":2,"whatever":1}`))
	record, _ := EncodeRecord(Record{Seq: 1, At: began, Kind: Retested, Start: faulttree.Ref{Tree: "tingle", Step: "first"}})
	_, _, err := Read(append(line, record...))
	if err == nil || err.Error() != "line 1 of the record: it is written in format 2, and this program reads format 1" {
		t.Errorf("a later format gives %v", err)
	}
}

// A walk whose record has lost something never ends in an all-clear: what is
// lost may have been the reading that hurts.
func TestLossClearsNothing(t *testing.T) {
	forest := tingle()
	forest.Trees["tingle"].Step("low").Finding.Clears = []faulttree.Place{faulttree.Vehicle}
	r, log := begin(t, header(), forest)
	r = walked(t, r, "", "no", "118", "0.4 V")
	hurts, _ := faulttree.ParseReading("58 V", forest.Quantities[body])
	r, _, err := r.Change(minute(9), 3, faulttree.Answer{Readings: []faulttree.Reading{hurts}})
	if err != nil {
		t.Fatal(err)
	}
	if _, stopped := r.Walk().Stop(); !stopped {
		t.Fatal("58 V on the body is no STOP")
	}
	hurt := bytes.Replace(log.text, []byte(`"58 V"`), []byte(`"08 V"`), 1)
	v, _, err := Read(hurt)
	if err != nil {
		t.Fatal(err)
	}
	again := &lines{text: hurt}
	for range 2 { // as read at once, and after the next answer has followed the loss
		rec, err := Resume(again, v, forest)
		if err != nil {
			t.Fatal(err)
		}
		f, ok := rec.Walk().Finding()
		if !ok || len(f.Finding.Clears) > 0 || f.Finding.Signal < faulttree.Warning || !strings.Contains(f.Finding.Sure, "Part of the record is lost") {
			t.Fatalf("with 58 V on the body lost the walk ends in %+v", f)
		}
		if rec, err = rec.Describe(minute(10), Details{Site: "Quillback Hollow"}); err != nil {
			t.Fatal(err)
		}
		if v, _, err = Read(again.text); err != nil || len(v.Damage) != 1 || !v.Damage[0].Lost {
			t.Fatalf("after going on the loss is told as %v, %v", v.Damage, err)
		}
	}
	lastLine := spans(log.text)[5]
	whole := read(t, log.text[:lastLine.from])
	if f, _ := whole.Replay(forest)[0].Walk.Finding(); len(f.Finding.Clears) != 1 {
		t.Errorf("without loss the walk clears %v: this test shows nothing", f.Finding.Clears)
	}
}

// A visit written by an earlier version of the program reads as it was typed.
func TestEarlierJournal(t *testing.T) {
	text := must.Have(os.ReadFile("testdata/format1.visit"))(t)
	v := read(t, text)
	var got []string
	for _, p := range v.Replay(tingle()) {
		got = append(got, trail(p.Walk))
		for _, u := range p.Round.Undone {
			got = append(got, fmt.Sprint(u.ID, " ", u.How))
		}
	}
	want := []string{
		"first= felt=no leg=119 V body=58 V stop= ground=OL @open", "4 0", "7 0", "3 1",
		"first= felt=yes body=1.2 V @low",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if v.Header.Meter != faulttree.DefaultMeter() || v.Header.Details != header().Details || v.Details() != (Details{}) || !v.Header.Started.Equal(began) {
		t.Errorf("the header is %+v, the details %+v", v.Header, v.Details())
	}
}

// A record damaged in many places is told of in few sentences, and none of the
// loss is left out.
func TestDoubtsAreSummedUp(t *testing.T) {
	v := Visit{Torn: true}
	for n := range 1000 {
		v.Damage = append(v.Damage, Damage{Line: n + 2, To: n + 2, Message: "its checksum does not agree with its text", Lost: n == 999})
	}
	got := v.Doubts()
	if len(got) != 10 || got[0].Why != "line 2 of the record: its checksum does not agree with its text." || got[8].Why != "992 more places are damaged." || !got[8].Lost || got[9].Lost {
		t.Errorf("%d doubts: %+v", len(got), got)
	}
}

// Line ends that a mail or an editor has changed, or a disk has lost, cost no
// record.
func TestLineEndsChanged(t *testing.T) {
	sound := longJournal(t)
	for _, end := range []string{"\r\n", "\r", "", "\x00", "\n\n"} {
		hurt := bytes.ReplaceAll(sound, []byte("\n"), []byte(end))
		v, keep, err := Read(hurt)
		if err != nil || v.Header.ID != header().ID || len(v.Records) != 33 || keep != len(hurt) {
			t.Errorf("lines that end in %q: %d of 33 records, %d of %d bytes kept, %v", end, len(v.Records), keep, len(hurt), err)
		}
		for _, d := range v.Damage {
			if d.Lost {
				t.Errorf("lines that end in %q: nothing is lost, and it says %v", end, d)
			}
		}
		if end != "" && len(v.Damage) == 0 {
			t.Errorf("lines that end in %q: nothing is said", end)
		}
	}
}

// What is written is byte for byte what was written when visits alone had
// journals.
func TestWritesAsEarlier(t *testing.T) {
	earlier := must.Have(os.ReadFile("testdata/written.visit"))(t)
	v := read(t, earlier)
	got := must.Have(EncodeHeader(v.Header))(t)
	for _, r := range v.Records {
		line := must.Have(EncodeRecord(r))(t)
		got = append(got, line...)
	}
	if diff := cmp.Diff(string(earlier), string(got)); diff != "" {
		t.Errorf("(-earlier +today):\n%s", diff)
	}
}
