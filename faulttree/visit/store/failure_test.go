package store

import (
	"errors"
	"os"
	"testing"

	"faultwright/faulttree/visit"
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

// onFailing is a new visit on a failing disk that still works.
func onFailing(t *testing.T, s *Store) (*File, *failing, visit.Recorder) {
	t.Helper()
	f, err := s.Create(header())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	d := &failing{File: f.file.(*os.File), room: -1}
	f.file = d
	r, err := visit.Resume(f, f.Visit(), chain())
	if err != nil {
		t.Fatal(err)
	}
	if r, err = r.Answer(header().Started, volts("118")); err != nil {
		t.Fatal(err)
	}
	return f, d, r
}

// A full disk refuses an answer and leaves no half of it behind: the walk
// stays where it is and goes on once there is room.
func TestFullDisk(t *testing.T) {
	s := opened(t)
	for _, room := range []int{0, 1, 40} {
		f, d, r := onFailing(t, s)
		d.room = room
		stayed, err := r.Answer(header().Started, volts("119"))
		if !errors.Is(err, errDisk) || len(stayed.Walk().Trail()) != 1 {
			t.Fatalf("room for %d bytes: %v, and the walk has %d answers", room, err, len(stayed.Walk().Trail()))
		}
		d.room = -1
		if r, err = stayed.Answer(header().Started, volts("120")); err != nil {
			t.Fatal(err)
		}
		v, err := s.Read(f.Visit().Header.ID)
		if err != nil || v.Torn || len(v.Damage) > 0 || len(v.Records) != 2 {
			t.Fatalf("room for %d bytes: %v, damage %v, %d records", room, err, v.Damage, len(v.Records))
		}
		if got := v.Records[1].Replies[0].Readings[0].Reading.Text; got != "120" {
			t.Errorf("room for %d bytes: the second answer on record is %q", room, got)
		}
	}
}

// An answer that was written but could not be synced is not confirmed, and is
// taken away again.
func TestSyncFails(t *testing.T) {
	s := opened(t)
	f, d, r := onFailing(t, s)
	d.sync = errDisk
	if _, err := r.Answer(header().Started, volts("119")); !errors.Is(err, errDisk) {
		t.Fatalf("an answer that is not synced is confirmed: %v", err)
	}
	// Syncing fails for the cutting off as well: nothing more is written.
	d.sync = nil
	if _, err := r.Answer(header().Started, volts("120")); !errors.Is(err, errDisk) {
		t.Fatalf("after a failure that could not be mended the file is written: %v", err)
	}
	id := f.Visit().Header.ID
	f.Close()
	again, err := s.Open(id)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if v := again.Visit(); len(v.Records) != 1 || len(v.Damage) > 0 {
		t.Errorf("%d records, damage %v", len(v.Records), v.Damage)
	}
}

// Where the half line cannot be cut off, the visit refuses to go on until it
// is opened again, which drops it.
func TestCutFails(t *testing.T) {
	s := opened(t)
	f, d, r := onFailing(t, s)
	d.room, d.cut = 25, errDisk
	if _, err := r.Answer(header().Started, volts("119")); !errors.Is(err, errDisk) {
		t.Fatal(err)
	}
	d.room, d.cut = -1, nil
	if _, err := r.Answer(header().Started, volts("120")); err == nil {
		t.Fatal("a record is glued to half a line")
	}
	id := f.Visit().Header.ID
	f.Close()
	again, err := s.Open(id)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if v := again.Visit(); !v.Torn || len(v.Records) != 1 || len(v.Damage) > 0 {
		t.Errorf("torn %v, %d records, damage %v", v.Torn, len(v.Records), v.Damage)
	}
}
