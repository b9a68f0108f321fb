//go:build unix

package frame

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"fyne.io/fyne/v2/storage"
)

// Neither a pipe nor a folder is offered as a file to open: the window library
// would open it on the main goroutine, and wait for the pipe.
func TestPipesAreNotOffered(t *testing.T) {
	dir := t.TempDir()
	pipe, plain := filepath.Join(dir, "pipe.md"), filepath.Join(dir, "plain.md")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(plain, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(dir, "folder.md")
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	offered := plainOnly{storage.NewExtensionFileFilter([]string{".md"})}
	for name, want := range map[string]bool{pipe: false, folder: false, plain: true} {
		if offered.Matches(storage.NewFileURI(name)) != want {
			t.Errorf("%s: want it offered %v", filepath.Base(name), want)
		}
	}
}
