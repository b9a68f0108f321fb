package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit"

	"github.com/google/go-cmp/cmp"
)

const legs = 12 // measure steps in a row

// chain is a tree of measure steps, one after the other, to a finding.
func chain() *faulttree.Forest {
	q := faulttree.Quantity{ID: "panel.l1-n", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 1000 * faulttree.One}
	t := &faulttree.Tree{ID: "chain", Start: "s0"}
	for n := range legs {
		to := fmt.Sprintf("s%d", n+1)
		e := faulttree.Exit{Text: to, To: faulttree.Ref{Tree: "chain", Step: to}}
		t.Steps = append(t.Steps, &faulttree.Step{
			Tree: "chain", ID: fmt.Sprintf("s%d", n), Kind: faulttree.KindMeasure,
			Measure:   []faulttree.Variable{{Name: "v", Quantity: q}},
			Branches:  []faulttree.Branch{{Bounds: []faulttree.Bound{{Span: q.Domain()}}, Exit: e}},
			OverRange: e, NotPossible: e,
		})
	}
	t.Steps = append(t.Steps, &faulttree.Step{Tree: "chain", ID: fmt.Sprintf("s%d", legs), Kind: faulttree.KindFinding})
	t.Index()
	return &faulttree.Forest{Quantities: faulttree.Quantities{q.ID: q}, Trees: map[string]*faulttree.Tree{"chain": t}}
}

func header() visit.Header {
	return visit.Header{
		Start: faulttree.Ref{Tree: "chain", Step: "s0"}, Meter: faulttree.DefaultMeter(),
		Details: visit.Details{Site: "Quillback Hollow"}, Started: time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC),
	}
}

func volts(text string) faulttree.Answer {
	r, err := faulttree.ParseReading(text, chain().Quantities["panel.l1-n"])
	if err != nil {
		panic(err)
	}
	return faulttree.Answer{Readings: []faulttree.Reading{r}}
}

func opened(t *testing.T) *Store {
	t.Helper()
	s := must.Have(Open(filepath.Join(t.TempDir(), "data", "visits")))(t)
	t.Cleanup(func() { s.Close() })
	return s
}

// made is a visit with these readings, closed again.
func made(t *testing.T, s *Store, readings ...string) string {
	t.Helper()
	f, err := s.Create(header())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := must.Have(visit.Resume(f, f.Record(), chain()))(t)
	for i, text := range readings {
		if r, err = r.Answer(header().Started.Add(time.Duration(i+1)*time.Minute), volts(text)); err != nil {
			t.Fatal(err)
		}
	}
	return f.Record().Header.ID
}

func path(s *Store, id string) string { return filepath.Join(s.Folder.Dir(), id+".visit") }

func TestCreateReadList(t *testing.T) {
	s := opened(t)
	first := made(t, s, "118", "119.5")
	second := made(t, s, "120")
	v := must.Have(s.Read(first))(t)
	if len(v.Records) != 2 || v.Records[1].Replies[0].Readings[0].Reading.Text != "119.5" {
		t.Errorf("records: %v", v.Records)
	}
	want := header()
	want.ID = first
	if diff := cmp.Diff(want, v.Header); diff != "" {
		t.Errorf("header (-want +got):\n%s", diff)
	}
	list := must.Have(s.List())(t)
	got := lists.Each(list, func(l Summary) string { return fmt.Sprintf("%s %d %s", l.ID, l.Answers, l.Details.Site) })
	if diff := cmp.Diff([]string{first + " 2 Quillback Hollow", second + " 1 Quillback Hollow"}, got); diff != "" {
		t.Errorf("list (-want +got):\n%s", diff)
	}
	info, err := os.Stat(path(s, first))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("a visit is readable by others: %v, %v", info.Mode(), err)
	}
}

func TestTwoWindows(t *testing.T) {
	s := opened(t)
	id := made(t, s, "118")
	f := must.Have(s.Open(id))(t)
	if _, err := s.Open(id); !errors.Is(err, ErrElsewhere) {
		t.Errorf("a second window opens the visit: %v", err)
	}
	if err := s.Delete(id); !errors.Is(err, ErrElsewhere) {
		t.Errorf("an open visit is deleted: %v", err)
	}
	if v, err := s.Read(id); err != nil || len(v.Records) != 1 {
		t.Errorf("a second window cannot look: %v, %v", v, err)
	}
	must.Do(t, f.Close())
	if err := f.Append([]byte("{}\n")); err == nil {
		t.Error("a closed visit takes a record")
	}
	again, err := s.Open(id)
	if err != nil {
		t.Fatalf("after closing it stays locked: %v", err)
	}
	again.Close()
	must.Do(t, s.Delete(id))
	if _, err := s.Read(id); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a deleted visit is still there: %v", err)
	}
	if _, err := s.Open(id); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a deleted visit opens: %v", err)
	}
	if list, _ := s.List(); len(list) != 0 {
		t.Errorf("a deleted visit is listed: %v", list)
	}
}

func TestNewVisitIsLocked(t *testing.T) {
	s := opened(t)
	f := must.Have(s.Create(header()))(t)
	defer f.Close()
	if _, err := s.Open(f.Record().Header.ID); !errors.Is(err, ErrElsewhere) {
		t.Errorf("a visit just begun opens a second time: %v", err)
	}
}

// However the last line was torn, the visit opens, and the next record stands
// on a line of its own.
func TestResumeAfterTornLine(t *testing.T) {
	s := opened(t)
	id := made(t, s, "118", "119")
	whole := must.Have(os.ReadFile(path(s, id)))(t)
	lastLine := bytes.LastIndexByte(whole[:len(whole)-1], '\n') + 1
	for n := lastLine; n <= len(whole); n++ {
		must.Do(t, os.WriteFile(path(s, id), whole[:n], 0o600))
		f, err := s.Open(id)
		if err != nil {
			t.Fatalf("cut at %d: %v", n, err)
		}
		r := must.Have(visit.Resume(f, f.Record(), chain()))(t)
		must.Have(r.Answer(header().Started, volts("121")))(t)
		f.Close()
		v, err := s.Read(id)
		if err != nil || v.Torn || len(v.Damage) > 0 {
			t.Fatalf("cut at %d: %v, %v", n, err, v.Damage)
		}
		want := 2
		if n >= len(whole)-1 {
			want = 3
		}
		if len(v.Records) != want {
			t.Fatalf("cut at %d: %d records, want %d", n, len(v.Records), want)
		}
	}
}

func TestHostileFolder(t *testing.T) {
	s := opened(t)
	good := made(t, s, "118")
	outside := filepath.Join(t.TempDir(), "secret")
	write := func(name string, text []byte) {
		t.Helper()
		must.Do(t, os.WriteFile(filepath.Join(s.Folder.Dir(), name), text, 0o600))
	}
	os.WriteFile(outside, []byte("secret\n"), 0o600)
	must.Do(t, os.Symlink(outside, path(s, "linked")))
	must.Do(t, os.Mkdir(path(s, "folder"), 0o700))
	write("huge.visit", nil)
	must.Do(t, os.Truncate(path(s, "huge"), MostBytes+1))
	write("empty.visit", nil)
	write("noise.visit", bytes.Repeat([]byte("\x00\xff\n"), 100_000))
	write("deep.visit", append(bytes.Repeat([]byte("["), 1<<20), '\n'))
	write("BAD NAME.visit", []byte("x"))
	text, _ := os.ReadFile(path(s, good))
	write("renamed.visit", text)

	list := must.Have(s.List())(t)
	seen := map[string]string{}
	for _, l := range list {
		if l.Err != nil {
			seen[l.ID] = l.Err.Error()
		} else {
			seen[l.ID] = ""
		}
	}
	want := map[string]string{
		good:      "",
		"linked":  "visit linked is not an ordinary file",
		"folder":  "visit folder is not an ordinary file",
		"huge":    "visit huge is larger than 8 MiB and is not read",
		"empty":   "visit empty cannot be read: the record is empty",
		"noise":   "visit noise cannot be read: line 1 of the record: it is not a record of a visit",
		"deep":    "visit deep cannot be read: line 1 of the record: it is not a record of a visit",
		"renamed": "the file of visit renamed holds visit " + good + "; give it its own name back",
	}
	if diff := cmp.Diff(want, seen); diff != "" {
		t.Errorf("list (-want +got):\n%s", diff)
	}
	for _, id := range []string{"../secret", "linked", "folder", "huge", "", "a/b"} {
		if _, err := s.Open(id); err == nil {
			t.Errorf("%q opens", id)
		}
		if s.Delete(id) == nil && id != "huge" {
			t.Errorf("%q is deleted", id)
		}
	}
	if text, err := os.ReadFile(outside); err != nil || string(text) != "secret\n" {
		t.Errorf("a file outside the folder was touched: %q, %v", text, err)
	}
}

func TestOnlyLinesAreAppended(t *testing.T) {
	s := opened(t)
	f := must.Have(s.Create(header()))(t)
	defer f.Close()
	for _, line := range []string{"", "\n", "no end", "two\nlines\n", strings.Repeat("a", visit.MaxLine) + "\n"} {
		if f.Append([]byte(line)) == nil {
			t.Errorf("%.20q is appended", line)
		}
	}
	if v, err := s.Read(f.Record().Header.ID); err != nil || len(v.Damage) > 0 {
		t.Errorf("a refused line was written: %v, %v", v.Damage, err)
	}
}

func TestFolder(t *testing.T) {
	tests := []struct {
		env  map[string]string
		want string
	}{
		{map[string]string{"XDG_DATA_HOME": "/data", "HOME": "/home/a"}, "/data/faultwright/visits"},
		{map[string]string{"XDG_DATA_HOME": "data", "HOME": "/home/a"}, "/home/a/.local/share/faultwright/visits"},
		{map[string]string{"HOME": "/home/a"}, "/home/a/.local/share/faultwright/visits"},
	}
	for _, tt := range tests {
		got, err := Folder(func(name string) string { return tt.env[name] })
		if err != nil || filepath.ToSlash(got) != tt.want {
			t.Errorf("%v: %q, %v; want %q", tt.env, got, err, tt.want)
		}
	}
	if got, err := Folder(func(string) string { return "" }); err == nil {
		t.Errorf("without a home the folder is %q", got)
	}
}

// A visit that is there is never begun anew over its own record.
func TestCreateOverwritesNothing(t *testing.T) {
	s := opened(t)
	id := made(t, s, "118")
	h := header()
	h.ID = id
	if f, err := s.Create(h); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second visit of the same name begins: %v, %v", f, err)
	}
	if v, err := s.Read(id); err != nil || len(v.Records) != 1 {
		t.Errorf("the first one has %d records, %v", len(v.Records), err)
	}
	if left, _ := filepath.Glob(filepath.Join(s.Folder.Dir(), "*.new")); len(left) > 0 {
		t.Errorf("what was not begun has left %q", left)
	}
}
