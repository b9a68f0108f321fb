package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var errFull = errors.New("no space left on device")

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// runIn runs the program with its visits in a folder of the test.
func runIn(t *testing.T, data string, out, errs io.Writer, args ...string) int {
	t.Helper()
	env := func(name string) string {
		return map[string]string{"XDG_DATA_HOME": data, "SOURCE_DATE_EPOCH": "1777818600"}[name]
	}
	return run(context.Background(), append([]string{"--content", "../../testdata/handbook"}, args...), strings.NewReader("done\n"), out, errs, env)
}

// No command says that all is well when what it had to say went nowhere.
func TestWriteErrorsReachTheExitCode(t *testing.T) {
	data := t.TempDir()
	if code := runIn(t, data, io.Discard, io.Discard, "walk", "tingle"); code != exitRanOut {
		t.Fatalf("a walk to be reported ends with %d", code)
	}
	made, err := filepath.Glob(filepath.Join(data, "faultwright", "visits", "*.visit"))
	if err != nil || len(made) != 1 {
		t.Fatal(made, err)
	}
	visit := strings.TrimSuffix(filepath.Base(made[0]), ".visit")
	for _, args := range [][]string{
		{"--help"}, {"walk", "--help"}, {"walk", "tingle"}, {"walk", "tingle", "--no-record", "--json"}, {"check", "--json"}, {"search", "ground"},
		{"show", "trees"}, {"show", "tingle"}, {"report", visit}, {"report", visit, "--format", "html"}, {"report", visit, "--out", "-"},
		{"visits"}, {"visits", "--json"}, {"completion", "bash"}, {"names", "all"}, {"names", "visits"}, {"walk", "--resume", visit}, {"delete", visit, "--yes"},
	} {
		var errs bytes.Buffer
		if code := runIn(t, data, full{}, &errs, args...); code != exitBadInput || !strings.HasSuffix(errs.String(), "the output cannot be written: no space left on device\n") {
			t.Errorf("%q onto a full disk ends with %d and says %q", args, code, errs.String())
		}
	}
	if code := runIn(t, data, io.Discard, full{}, "check"); code != exitBadInput {
		t.Errorf("check, whose count went nowhere, ends with %d", code)
	}
}

// A mistyped command, option or name is not printed back with what steers a
// terminal.
func TestMistypedIsPrintedClean(t *testing.T) {
	for _, args := range [][]string{
		{"wa\x1b[31mlk"}, {"walk", "--\x1b[31m"}, {"show", "a\x1b]0;b\x07"}, {"walk", "tin\u009bgle"}, {"delete", "\x1bc"}, {"check", "\x1b[2J"},
		{"report", "x\u202e"}, {"measure", "\x1b[31m", "body-earth"}, {"search", "--limit", "\x1b[1m"},
	} {
		var out, errs bytes.Buffer
		runIn(t, t.TempDir(), &out, &errs, args...)
		if strings.ContainsAny(out.String()+errs.String(), "\x1b\x07\u009b\u202e") || errs.Len() == 0 {
			t.Errorf("%q is answered with %q and %q", args, out.String(), errs.String())
		}
	}
}

func write(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

// A file that is replaced looks to others as one made anew, and nothing is left
// beside it, also where it could not be replaced.
func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	mode := func(name string) os.FileMode {
		info, err := os.Stat(at(name))
		must(err)
		return info.Mode().Perm()
	}
	must(os.WriteFile(at("ordinary"), nil, 0o644))
	must(writeFile(at("new"), false, write("one")))
	must(writeFile(at("forced"), true, write("one")))
	if want := mode("ordinary"); mode("new") != want || mode("forced") != want {
		t.Errorf("new files have %v and, forced, %v; any other has %v", mode("new"), mode("forced"), want)
	}
	if err := writeFile(at("new"), false, write("two")); !errors.Is(err, errThere) {
		t.Errorf("a file is replaced unasked: %v", err)
	}
	must(os.Chmod(at("new"), 0o600))
	must(writeFile(at("new"), true, write("two")))
	if text, _ := os.ReadFile(at("new")); string(text) != "two" || mode("new") != 0o600 {
		t.Errorf("the file holds %q with %v", text, mode("new"))
	}
	must(os.Symlink("new", at("link")))
	must(writeFile(at("link"), true, write("three")))
	if text, _ := os.ReadFile(at("new")); string(text) != "three" {
		t.Errorf("behind the link stands %q", text)
	}
	must(os.Mkdir(at("folder"), 0o700))
	if err := writeFile(at("folder"), true, write("x")); err == nil {
		t.Error("a folder is replaced")
	}
	if err := writeFile(at("new"), true, func(io.Writer) error { return errFull }); !errors.Is(err, errFull) {
		t.Errorf("writing fails with %v", err)
	}
	if text, _ := os.ReadFile(at("new")); string(text) != "three" {
		t.Errorf("after a failed write the file holds %q", text)
	}
	must(tryFile(at("new")))
	must(tryFile(at("not-yet")))
	if tryFile(at("folder")) == nil || tryFile(at("none/there")) == nil {
		t.Error("what cannot be written passes the try")
	}
	var names []string
	entries, err := os.ReadDir(dir)
	must(err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if want := []string{"folder", "forced", "link", "new", "ordinary"}; !slices.Equal(names, want) {
		t.Errorf("the folder holds %q, want %q", names, want)
	}
}
