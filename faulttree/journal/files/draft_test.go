package files

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"faultwright/faulttree/journal"
	"faultwright/faulttree/must"
)

var (
	notes = Kind{One: "note", Many: "notes", Ending: ".note", Most: 1 << 20}
	day   = time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC)
)

func head(id string) ([]byte, error) { return journal.Encode(day, map[string]string{"id": id}) }

func opened(t *testing.T) *Folder {
	t.Helper()
	d := must.Have(Open(filepath.Join(t.TempDir(), "data", "notes"), notes))(t)
	t.Cleanup(func() { d.Close() })
	return d
}

// A program killed while it begins a journal leaves a draft; the next start takes
// it away, and leaves alone the one that is being written.
func TestDraftsOfKilledPrograms(t *testing.T) {
	d := opened(t)
	draft := func(name string) *os.File {
		return must.Have(os.Create(filepath.Join(d.dir, name)))(t)
	}
	draft("2026-05-03-aaaaa.new").Close()
	draft("notes.new.txt").Close()
	live := draft("2026-05-03-bbbbb.new")
	defer live.Close()
	unlock := must.Have(lock(d.root, live, "2026-05-03-bbbbb.note"))(t)
	defer unlock()
	again := must.Have(Open(d.dir, notes))(t)
	defer again.Close()
	found, _ := filepath.Glob(filepath.Join(d.dir, "*.new*"))
	for i := range found {
		found[i] = filepath.Base(found[i])
	}
	if want := []string{"2026-05-03-bbbbb.new", "notes.new.txt"}; !slices.Equal(found, want) {
		t.Errorf("the folder holds %q, want %q", found, want)
	}
}

// Beginning a journal works while other programs start and take drafts away.
func TestCreateWhileOthersStart(t *testing.T) {
	d := opened(t)
	done := make(chan struct{})
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-done:
				return
			default:
				d.removeDrafts()
			}
		}
	}()
	for n := range 50 {
		f, _, err := d.Create("", day, head)
		if err != nil {
			t.Errorf("note %d: %v", n, err)
			break
		}
		f.Close()
	}
	close(done)
	<-stopped
}
