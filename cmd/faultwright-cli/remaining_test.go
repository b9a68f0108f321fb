package main

import (
	"bytes"
	"context"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/faulttree/must"
)

// ownHandbook is a copy of the shipped handbook without lists of what remains.
func ownHandbook(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, content.ShippedFiles()))
	must.Do(t, os.RemoveAll(filepath.Join(dir, "remaining")))
	return dir
}

// cli runs the program and returns its code and what it wrote.
func cli(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(""), &o, &e, func(string) string { return "" })
	return code, o.String(), e.String()
}

// files is every file below a folder with its text.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, d os.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			var text []byte
			text, err = os.ReadFile(name)
			all[strings.TrimPrefix(name, dir+"/")] = string(text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// What is written is what is printed, the same each time, and one file of the
// handbook more, which check then takes.
func TestRemainingIsWritten(t *testing.T) {
	dir := ownHandbook(t)
	before := files(t, dir)
	ask := []string{"--content", dir, "remaining", "twelve-volt", "--rigs", "300"}
	code, printed, errs := cli(ask...)
	if code != exitFine || !strings.Contains(printed, "\nremaining: twelve-volt\n") || !strings.Contains(printed, "\n    - ") {
		t.Fatalf("code %d, %s\n%s", code, errs, printed)
	}
	if !maps.Equal(files(t, dir), before) {
		t.Error("printing changes the folder")
	}
	for range 2 {
		if code, _, errs := cli(append(ask, "--write")...); code != exitFine {
			t.Fatalf("code %d: %s", code, errs)
		}
		after := files(t, dir)
		if after["remaining/twelve-volt.yaml"] != printed {
			t.Errorf("written is\n%s\nprinted\n%s", after["remaining/twelve-volt.yaml"], printed)
		}
		delete(after, "remaining/twelve-volt.yaml")
		if !maps.Equal(after, before) {
			t.Error("another file came or changed")
		}
	}
	if _, out, _ := cli("check", filepath.Join(dir, "remaining", "twelve-volt.yaml")); out != "" {
		t.Errorf("check says %s", out)
	}
}

// A list that is out of date hinders nobody from making it anew; a tree with
// errors does.
func TestRemainingOfWhatIsBroken(t *testing.T) {
	dir := ownHandbook(t)
	write := func(name, text string) {
		must.Do(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		must.Do(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	write("remaining/twelve-volt.yaml", "remaining: twelve-volt\nfindings: {gone: [no-fault@dc]}\n")
	ask := []string{"--content", dir, "remaining", "twelve-volt", "--rigs", "60", "--write"}
	if code, _, errs := cli(ask...); code != exitFine {
		t.Errorf("a list out of date: code %d, %s", code, errs)
	}
	write("trees/twelve-volt.md", strings.Replace(files(t, dir)["trees/twelve-volt.md"], "start: ", "start: not-", 1))
	if code, _, errs := cli(ask...); code != exitBadInput || !strings.Contains(errs, "trees/twelve-volt.md:") {
		t.Errorf("a broken tree: code %d, %s", code, errs)
	}
}

// Where a list cannot take its place none does, no draft stays, and nothing is
// written outside the folder.
func TestRemainingIsWrittenWholeOrNotAtAll(t *testing.T) {
	outside := t.TempDir()
	for name, spoil := range map[string]func(dir string) error{
		"the folder is a file":      func(dir string) error { return os.WriteFile(filepath.Join(dir, "remaining"), nil, 0o644) },
		"the folder leads outside":  func(dir string) error { return os.Symlink(outside, filepath.Join(dir, "remaining")) },
		"one list is a folder":      func(dir string) error { return os.MkdirAll(filepath.Join(dir, "remaining/twelve-volt.yaml"), 0o755) },
		"one list is a link to it":  func(dir string) error { return linked(dir, "../quantities.yaml") },
		"one list leads outside it": func(dir string) error { return linked(dir, filepath.Join(outside, "list.yaml")) },
	} {
		dir := ownHandbook(t)
		must.Do(t, spoil(dir))
		before := files(t, dir)
		code, out, errs := cli("--content", dir, "remaining", "twelve-volt", "own-source", "--rigs", "30", "--write")
		if code != exitBadInput || out != "" || !strings.Contains(errs, "remaining") || strings.Contains(errs, ".faultwright-") {
			t.Errorf("%s: code %d, %s%s", name, code, out, errs)
		}
		if after := files(t, dir); !maps.Equal(after, before) {
			t.Errorf("%s: there are now %v", name, slices.Sorted(maps.Keys(after)))
		}
		if left := files(t, outside); len(left) > 0 {
			t.Errorf("%s: outside are now %v", name, left)
		}
	}
}

// linked makes the list of one tree a link.
func linked(dir, to string) error {
	if err := os.Mkdir(filepath.Join(dir, "remaining"), 0o755); err != nil {
		return err
	}
	return os.Symlink(to, filepath.Join(dir, "remaining/twelve-volt.yaml"))
}

func TestRemainingRefusesWhatItCannotDo(t *testing.T) {
	for want, args := range map[string][]string{
		"--write needs --content": {"remaining", "--write"},
		"there is no walk":        {"remaining", "twelve-volts"},
		"--rigs is from 1":        {"remaining", "--rigs", "0"},
	} {
		if code, out, errs := cli(args...); code != exitBadInput || out != "" || !strings.Contains(errs, want) {
			t.Errorf("%v: code %d, %s%s", args, code, out, errs)
		}
	}
}
