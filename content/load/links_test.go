//go:build unix

package load

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"faultwright/faulttree/must"
)

// Nothing leads out of a folder, and nothing in it can hold the loading up: a
// link to a file or a folder outside is refused, a pipe is not opened, a link
// within the folder is read. A pipe in the place of one of its folders is none.
func TestDirStaysInside(t *testing.T) {
	outside, dir := t.TempDir(), t.TempDir()
	for name, text := range archive(t, "testdata/base.txtar") {
		file := filepath.Join(dir, filepath.FromSlash(name))
		must.Do(t, os.MkdirAll(filepath.Dir(file), 0o700))
		must.Do(t, os.WriteFile(file, []byte(text), 0o600))
	}
	secret := filepath.Join(outside, "secret.md")
	for _, err := range []error{
		os.WriteFile(secret, []byte("---\ncard: secret\ntitle: Secret\n---\nText.\n"), 0o600),
		os.Symlink(secret, filepath.Join(dir, "cards", "secret.md")),
		os.Symlink("../../../../../../etc/hostname", filepath.Join(dir, "cards", "upwards.md")),
		os.Symlink("why-live.md", filepath.Join(dir, "cards", "inside.md")),
		syscall.Mkfifo(filepath.Join(dir, "cards", "pipe.md"), 0o600),
		os.RemoveAll(filepath.Join(dir, "sources")),
		os.RemoveAll(filepath.Join(dir, "cautions")),
		syscall.Mkfifo(filepath.Join(dir, "cautions"), 0o600),
		os.Symlink(outside, filepath.Join(dir, "sources")),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	l := must.Have(Dir(context.Background(), dir))(t)
	if l.Cards["secret"] != nil || l.Sources["secret"] != nil || l.Cards["upwards"] != nil {
		t.Error("a file outside the folder was read")
	}
	if l.Cards["why-live"] == nil || l.Cards["inside"] == nil {
		t.Error("a file inside the folder was not read")
	}
	refused := map[string]bool{}
	for _, d := range l.Diagnostics {
		if d.Rule == RuleUnreadable {
			refused[d.Pos.File] = true
		}
		if strings.Contains(d.String(), outside) || strings.Contains(d.String(), dir) {
			t.Errorf("a diagnostic names a folder of this machine: %v", d)
		}
	}
	for _, name := range []string{"cards/secret.md", "cards/upwards.md", "cards/pipe.md", "sources", "cautions"} {
		if !refused[name] {
			t.Errorf("%s was not refused: %v", name, l.Diagnostics)
		}
	}
}

// A folder that is not there is an error.
func TestDirWithoutAFolder(t *testing.T) {
	if _, err := Dir(context.Background(), filepath.Join(t.TempDir(), "nothing")); err == nil {
		t.Error("a missing folder is loaded without an error")
	}
}
