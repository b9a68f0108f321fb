//go:build unix

package frame

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"fyne.io/fyne/v2/storage"
)

// A pipe is not offered among the files to open: the window library would open
// it on the main goroutine and wait.
func TestPipesAreNotOffered(t *testing.T) {
	dir := t.TempDir()
	pipe, plain := filepath.Join(dir, "pipe.md"), filepath.Join(dir, "plain.md")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(plain, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	offered := plainOnly{storage.NewExtensionFileFilter([]string{".md"})}
	if offered.Matches(storage.NewFileURI(pipe)) || !offered.Matches(storage.NewFileURI(plain)) {
		t.Error("a pipe is offered, or a plain file is not")
	}
}
