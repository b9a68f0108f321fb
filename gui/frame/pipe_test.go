//go:build unix

package frame

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"fyne.io/fyne/v2/storage"

	"faultwright/faulttree/must"
)

// Neither a pipe nor a folder is offered as a file to open: the window library
// would open it on the main goroutine, and wait for the pipe.
func TestPipesAreNotOffered(t *testing.T) {
	dir := t.TempDir()
	pipe, plain := filepath.Join(dir, "pipe.md"), filepath.Join(dir, "plain.md")
	must.Do(t, syscall.Mkfifo(pipe, 0o600))
	must.Do(t, os.WriteFile(plain, nil, 0o600))
	folder := filepath.Join(dir, "folder.md")
	must.Do(t, os.Mkdir(folder, 0o700))
	offered := plainOnly{storage.NewExtensionFileFilter([]string{".md"})}
	for name, want := range map[string]bool{pipe: false, folder: false, plain: true} {
		if offered.Matches(storage.NewFileURI(name)) != want {
			t.Errorf("%s: want it offered %v", filepath.Base(name), want)
		}
	}
}
