package files

import (
	"errors"
	"os"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// failing is a disk that fails on demand: after some bytes of a write, on
// syncing, on cutting off.
type failing struct {
	*os.File
	room      int // bytes that can still be written; -1 for no bound
	sync, cut error
}

var errDisk = errors.New("no space left on device")

func (f *failing) Write(p []byte) (int, error) {
	if f.room < 0 || f.room >= len(p) {
		if f.room > 0 {
			f.room -= len(p)
		}
		return f.File.Write(p)
	}
	n, err := f.File.Write(p[:f.room])
	if err == nil {
		err = errDisk
	}
	return n, err
}

func (f *failing) Sync() error {
	if f.sync != nil {
		return f.sync
	}
	return f.File.Sync()
}

func (f *failing) Truncate(size int64) error {
	if f.cut != nil {
		return f.cut
	}
	return f.File.Truncate(size)
}

// onFailing is a new journal with one line on a failing disk that still works.
func onFailing(t *testing.T, d *Folder) (*File, *failing, string) {
	t.Helper()
	f, id, err := d.Create("", day, head)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	disk := &failing{File: f.file.(*os.File), room: -1}
	f.file = disk
	must.Do(t, f.Append([]byte("first\n")))
	return f, disk, id
}

// kept is the lines of a journal after its first.
func kept(t *testing.T, d *Folder, id string) string {
	t.Helper()
	text := must.Have(d.Read(id))(t)
	_, lines, _ := strings.Cut(string(text), "\n")
	return lines
}

// whole keeps what ends with a line end, as a reader of records does.
func whole(text []byte) (int, error) { return strings.LastIndexByte(string(text), '\n') + 1, nil }

// A full disk refuses a line and leaves no half of it behind; it goes on once
// there is room.
func TestFullDisk(t *testing.T) {
	d := opened(t)
	for _, room := range []int{0, 1, 40} {
		f, disk, id := onFailing(t, d)
		disk.room = room
		if err := f.Append([]byte(strings.Repeat("a", 50) + "\n")); !errors.Is(err, errDisk) {
			t.Fatalf("room for %d bytes: %v", room, err)
		}
		disk.room = -1
		must.Do(t, f.Append([]byte("second\n")))
		if got := kept(t, d, id); got != "first\nsecond\n" {
			t.Fatalf("room for %d bytes: on disk is %q", room, got)
		}
	}
}

// A line that was written but could not be synced is not confirmed, and is taken
// away again.
func TestSyncFails(t *testing.T) {
	d := opened(t)
	f, disk, id := onFailing(t, d)
	disk.sync = errDisk
	if err := f.Append([]byte("second\n")); !errors.Is(err, errDisk) {
		t.Fatalf("a line that is not synced is confirmed: %v", err)
	}
	// Syncing fails for the cutting off as well: nothing more is written.
	disk.sync = nil
	if err := f.Append([]byte("third\n")); !errors.Is(err, errDisk) {
		t.Fatalf("after a failure that could not be mended the file is written: %v", err)
	}
	if got := kept(t, d, id); got != "first\n" {
		t.Errorf("on disk is %q", got)
	}
}

// Where the half line cannot be cut off, the journal refuses to go on until it is
// opened again, which drops it.
func TestCutFails(t *testing.T) {
	d := opened(t)
	f, disk, id := onFailing(t, d)
	disk.room, disk.cut = 25, errDisk
	if err := f.Append([]byte(strings.Repeat("a", 50) + "\n")); !errors.Is(err, errDisk) {
		t.Fatal(err)
	}
	disk.room, disk.cut = -1, nil
	if err := f.Append([]byte("second\n")); err == nil {
		t.Fatal("a line is glued to half a line")
	}
	f.Close()
	again := must.Have(d.Open(id, whole))(t)
	defer again.Close()
	must.Do(t, again.Append([]byte("second\n")))
	if got := kept(t, d, id); got != "first\nsecond\n" {
		t.Errorf("on disk is %q", got)
	}
}
