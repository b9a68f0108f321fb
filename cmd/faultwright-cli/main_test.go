package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"faultwright/content/check"
	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
	"faultwright/faulttree/visit/store"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the wanted outputs in the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"faultwright-cli": main})
}

// letGoKey is under which a script keeps what lets go of the visit it holds.
const letGoKey = "let go"

// Each script runs the program as a person would, against the small handbook
// of testdata/handbook, which it finds as $HANDBOOK, or that of a chart, in the
// folder pedestal.
func TestScripts(t *testing.T) {
	handbook := must.Have(filepath.Abs("testdata/handbook"))(t)
	pedestal := must.Have(filepath.Abs("../../testdata/pedestal"))(t)
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Values[letGoKey] = new(func())
			e.Setenv("HANDBOOK", filepath.Join(e.WorkDir, "handbook"))
			e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "data"))
			e.Setenv("SOURCE_DATE_EPOCH", "1777818600")
			e.Setenv("COLUMNS", "80")
			if err := os.CopyFS(filepath.Join(e.WorkDir, "pedestal"), os.DirFS(pedestal)); err != nil {
				return err
			}
			return os.CopyFS(filepath.Join(e.WorkDir, "handbook"), os.DirFS(handbook))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exitcode": exitCode, "keepid": keepID, "replace-id": replaceID, "hold-open": holdOpen, "let-go": letGo, "damage": damage},
	})
}

// exitCode runs the program in-process: "exitcode 3 walk tingle …" fails the
// script if the code is another one. An argument @name is a file of the script,
// $TYPED is what is typed, | ending a line. Output goes to the files out and err.
func exitCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: exitcode code arguments…")
	}
	var out, errs bytes.Buffer
	stdin := strings.NewReader("")
	if text := ts.Getenv("TYPED"); text != "" {
		stdin = strings.NewReader(strings.ReplaceAll(text, "|", "\n") + "\n")
	}
	arguments := append([]string(nil), args[1:]...)
	for i, a := range arguments {
		if name, ok := strings.CutPrefix(a, "@"); ok {
			arguments[i] = ts.MkAbs(name)
		}
	}
	code := run(context.Background(), arguments, stdin, &out, &errs, ts.Getenv)
	ts.Logf("[stdout]\n%s[stderr]\n%s", out.String(), errs.String())
	ts.Check(os.WriteFile(ts.MkAbs("out"), out.Bytes(), 0o600))
	ts.Check(os.WriteFile(ts.MkAbs("err"), errs.Bytes(), 0o600))
	if itoa(code) != args[0] {
		ts.Fatalf("exit code %d, want %s", code, args[0])
	}
}

// keepID puts the id of the only visit on record into $ID.
func keepID(ts *testscript.TestScript, neg bool, args []string) {
	found, err := filepath.Glob(filepath.Join(ts.Getenv("XDG_DATA_HOME"), "faultwright", "visits", "*.visit"))
	ts.Check(err)
	if len(found) != 1 {
		ts.Fatalf("%d visits on record, want 1", len(found))
	}
	ts.Setenv("ID", strings.TrimSuffix(filepath.Base(found[0]), ".visit"))
}

// replaceID writes VISIT where the output names the visit, whose letters are
// drawn by chance.
func replaceID(ts *testscript.TestScript, neg bool, args []string) {
	text := strings.ReplaceAll(ts.ReadFile(args[0]), ts.Getenv("ID"), "VISIT")
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o600))
}

// holdOpen has a visit open as another window would, until let-go or the end.
func holdOpen(ts *testscript.TestScript, neg bool, args []string) {
	s, err := store.Open(filepath.Join(ts.Getenv("XDG_DATA_HOME"), "faultwright", "visits"))
	ts.Check(err)
	f, err := s.Open(args[0])
	ts.Check(err)
	let := sync.OnceFunc(func() { f.Close(); s.Close() })
	*ts.Value(letGoKey).(*func()) = let
	ts.Defer(let)
}

// damage hurts the record of a visit: "damage ID zeros" writes zeros after it,
// "first-line" changes a letter of its first line, "cut" takes its end away.
func damage(ts *testscript.TestScript, neg bool, args []string) {
	file := filepath.Join(ts.Getenv("XDG_DATA_HOME"), "faultwright", "visits", args[0]+".visit")
	text := []byte(ts.ReadFile(file))
	switch args[1] {
	case "zeros":
		text = append(text, make([]byte, 512)...)
	case "first-line":
		text = bytes.Replace(text, []byte("Quillback"), []byte("Quiilback"), 1)
	case "cut":
		text = text[:len(text)-10]
	}
	ts.Check(os.WriteFile(file, text, 0o600))
}

func letGo(ts *testscript.TestScript, neg bool, args []string) {
	(*ts.Value(letGoKey).(*func()))()
}

// linkEnd is what a link leads to, as inline writes it.
var linkEnd = regexp.MustCompile(`\[[a-z0-9#-]+\]|<https?:[^>]*>`)

// The page must say everything: no word of a shipped document is lost between
// the block model and the terminal, at a narrow and at the usual width.
func TestNothingIsLostOnThePage(t *testing.T) {
	lib := shipped()
	bodies := map[string][]document.Block{}
	for id, c := range lib.Cards {
		bodies[id] = c.Body
	}
	for id, c := range lib.Faults {
		bodies[id] = c.Body
	}
	for ref, blocks := range lib.Prose {
		bodies[ref.String()] = blocks
	}
	for id, body := range bodies {
		for _, width := range []int{narrowest, usual} {
			var b bytes.Buffer
			page{w: &b, width: width}.blocks("", body)
			shown := strings.Join(strings.Fields(strings.ReplaceAll(b.String(), "| ", "")), "")
			shown = linkEnd.ReplaceAllString(shown, "")
			for _, word := range strings.Fields(strings.ReplaceAll(document.Plain(body), "|", " ")) {
				if !strings.Contains(shown, word) {
					t.Errorf("%s at width %d: the word %q is lost", id, width, word)
				}
			}
		}
	}
}

func TestWrap(t *testing.T) {
	tests := []struct {
		text  string
		width int
		want  []string
	}{
		{"one two three", 10, []string{"one two", "three"}},
		{"one\ntwo", 10, []string{"one", "two"}},
		{"abcdefghijklm no", 10, []string{"abcdefghij", "klm no"}},
		{"x abcdefghijklm", 10, []string{"x", "abcdefghij", "klm"}},
		{"ΩΩΩΩ ΩΩΩΩ ΩΩ", 10, []string{"ΩΩΩΩ ΩΩΩΩ", "ΩΩ"}},
		{"", 10, []string{""}},
	}
	for _, tt := range tests {
		if diff := cmp.Diff(tt.want, wrap(tt.text, tt.width)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", tt.text, diff)
		}
	}
}

// Text of a handbook cannot steer the terminal it is shown on.
func TestCleanTakesOutControl(t *testing.T) {
	got := clean("a\x1b[31mb\x07c\u202e\u200f\u200e\u061c\u2067d\u009be\tf\ng\u0000")
	if want := "a[31mbcde f\ng"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestColour(t *testing.T) {
	p := &program{env: func(string) string { return "" }}
	if p.colour(&bytes.Buffer{}) {
		t.Error("a buffer is taken for a terminal")
	}
	for name, value := range map[string]string{"NO_COLOR": "1", "TERM": "dumb"} {
		p := &program{env: func(n string) string { return map[string]string{name: value}[n] }}
		if p.colour(os.Stdout) {
			t.Errorf("colour although %s=%s", name, value)
		}
	}
	var b bytes.Buffer
	page{w: &b, width: 80, colour: true}.signal(faulttree.Danger, "Unplug.")
	if got, want := b.String(), "\x1b[1;97;41mDANGER\x1b[0m   Unplug.\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// The handbook of these tests has no error of its own.
func TestHandbookOfTheTests(t *testing.T) {
	lib := must.Have(load.Dir(context.Background(), "testdata/handbook"))(t)
	for _, d := range check.Library(context.Background(), lib) {
		if d.Severity == source.Error {
			t.Error(d)
		}
	}
}

// The same files give the same fingerprint, other files another.
func TestFingerprint(t *testing.T) {
	a := shipped()
	b := must.Have(load.Dir(context.Background(), "testdata/handbook"))(t)
	if a.Fingerprint() != load.Shipped().Fingerprint() || a.Fingerprint() == b.Fingerprint() || len(a.Fingerprint()) != 16 {
		t.Errorf("fingerprints are %s and %s", a.Fingerprint(), b.Fingerprint())
	}
}
