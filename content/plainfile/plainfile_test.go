//go:build unix

package plainfile_test

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"faultwright/content/plainfile"
	"faultwright/faulttree/must"
)

// soon fails the test where do waits for a writer that never comes.
func soon(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { do(); close(done) }()
	select {
	case <-done:
	case <-time.After(10 * time.Second):
		t.Fatalf("%s: nothing came back", what)
	}
}

// folder holds a plain file, a folder, a pipe, a link to each, and a link to a
// device.
func folder(t *testing.T) string {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, err := range []error{
		os.WriteFile(at("plain"), []byte("text"), 0o600),
		os.Mkdir(at("inner"), 0o700),
		syscall.Mkfifo(at("pipe"), 0o600),
		os.Symlink("plain", at("plain-link")),
		os.Symlink("pipe", at("pipe-link")),
		os.Symlink("/dev/zero", at("device-link")),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestOnlyPlainFilesAreOpened(t *testing.T) {
	dir := folder(t)
	root := must.Have(plainfile.Folder(dir))(t)
	defer root.Close()
	within := plainfile.FS(root)
	for _, name := range []string{"plain", "plain-link"} {
		f := must.Have(plainfile.Open(filepath.Join(dir, name)))(t)
		text, err := io.ReadAll(f)
		f.Close()
		if again, e := fs.ReadFile(within, name); string(text) != "text" || string(again) != "text" || err != nil || e != nil {
			t.Errorf("%s holds %q and %q, %v, %v", name, text, again, err, e)
		}
	}
	for _, name := range []string{"inner", "pipe", "pipe-link", "device-link"} {
		soon(t, name, func() {
			if _, err := plainfile.Open(filepath.Join(dir, name)); !errors.Is(err, plainfile.ErrNotPlain) {
				t.Errorf("%s: %v", name, err)
			}
			_, err := within.Open(name)
			if inner := name == "inner"; (err == nil) != inner {
				t.Errorf("%s within its folder: %v", name, err)
			}
		})
	}
}

// A pipe in the place of a folder is no folder.
func TestFolderIsNoPipe(t *testing.T) {
	dir := folder(t)
	for _, name := range []string{"pipe", "pipe-link", "plain", "nothing"} {
		soon(t, name, func() {
			if _, err := plainfile.Folder(filepath.Join(dir, name)); err == nil {
				t.Errorf("%s was opened as a folder", name)
			}
		})
	}
}
