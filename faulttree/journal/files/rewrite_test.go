package files

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"faultwright/faulttree/must"
)

// A full disk, or one that cannot sync, keeps the old text and leaves nothing behind.
func TestRewriteOnAFullDiskKeepsTheOldText(t *testing.T) {
	d := opened(t)
	must.Do(t, d.Take("one", []byte("old\n")))
	for name, disk := range map[string]failing{"full": {room: 7}, "unsynced": {room: -1, sync: errDisk}} {
		f := must.Have(d.draft("one", "one"+draftEnding))(t)
		failing := disk
		failing.File = f.file.(*os.File)
		f.file = &failing
		if err := d.put(f, "one"+d.kind.Ending, []byte("a new and longer text\n")); !errors.Is(err, errDisk) {
			t.Fatalf("%s: %v", name, err)
		}
		f.discard()
		if text := must.Have(d.Read("one"))(t); string(text) != "old\n" {
			t.Errorf("%s: on disk is %q", name, text)
		}
		names := must.Have(d.names())(t)
		if len(names) != 1 {
			t.Errorf("%s: the folder holds %q", name, names)
		}
	}
	must.Do(t, d.Rewrite("one", func([]byte) ([]byte, error) { return []byte("new\n"), nil }))
	if text := must.Have(d.Read("one"))(t); string(text) != "new\n" {
		t.Errorf("on disk is %q", text)
	}
}

// What change refuses is not written; a file that is not there is not made.
func TestRewriteRefused(t *testing.T) {
	d := opened(t)
	must.Do(t, d.Take("one", []byte("old\n")))
	no := errors.New("no")
	if err := d.Rewrite("one", func([]byte) ([]byte, error) { return []byte("new\n"), no }); err != no {
		t.Error(err)
	}
	if text := must.Have(d.Read("one"))(t); string(text) != "old\n" {
		t.Errorf("on disk is %q", text)
	}
	if err := d.Rewrite("two", func([]byte) ([]byte, error) { return nil, nil }); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	if err := d.Take("one", []byte("other\n")); !errors.Is(err, fs.ErrExist) {
		t.Error(err)
	}
}

// Of many that rewrite one file at the same time none undoes what another has written.
func TestRewritesTogether(t *testing.T) {
	one := opened(t)
	two := must.Have(Open(one.Dir(), one.kind))(t)
	defer two.Close()
	must.Do(t, one.Take("sum", []byte("0\n")))
	var done [2]int
	var wait sync.WaitGroup
	for i, d := range []*Folder{one, two} {
		wait.Go(func() {
			for range 40 {
				err := d.Rewrite("sum", func(now []byte) ([]byte, error) {
					n, err := strconv.Atoi(strings.TrimSpace(string(now)))
					return fmt.Appendf(nil, "%d\n", n+1), err
				})
				switch {
				case err == nil:
					done[i]++
				case !errors.Is(err, ErrElsewhere):
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	if text := must.Have(one.Read("sum"))(t); strings.TrimSpace(string(text)) != strconv.Itoa(done[0]+done[1]) || done[0]+done[1] == 0 {
		t.Errorf("%d and %d were written, and on disk is %q", done[0], done[1], text)
	}
}
