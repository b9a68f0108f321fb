package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"faultwright/faulttree/logbook"
	"faultwright/faulttree/must"

	"github.com/google/go-cmp/cmp"
)

func opened(t *testing.T) *Store {
	t.Helper()
	s := must.Have(Open(filepath.Join(t.TempDir(), "data", "vehicles")))(t)
	t.Cleanup(func() { s.Close() })
	return s
}

func willow() logbook.Vehicle {
	return logbook.Vehicle{Name: "Willow", Facts: map[string]string{"service": "30a"}, Made: time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC)}
}

// A vehicle is added, changed and read back as it was kept; deleted, it is gone.
func TestVehicleIsKept(t *testing.T) {
	s := opened(t)
	v := must.Have(s.Add(willow()))(t)
	v.Name = "Willow of site 14"
	v = must.Have(s.Save(v))(t)
	if v.Revision != 2 {
		t.Errorf("revision %d", v.Revision)
	}
	if diff := cmp.Diff(v, must.Have(s.Read(v.ID))(t)); diff != "" {
		t.Error(diff)
	}
	must.Do(t, s.Delete(v.ID))
	if _, err := s.Read(v.ID); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	if _, err := s.Save(v); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what is deleted is saved: %v", err)
	}
}

// Of two windows that change one vehicle the later is told, and what the first one kept
// stays.
func TestTwoWindows(t *testing.T) {
	one := opened(t)
	two := must.Have(Open(one.Dir()))(t)
	defer two.Close()
	added := must.Have(one.Add(willow()))(t)
	mine, others := must.Have(one.Read(added.ID))(t), must.Have(two.Read(added.ID))(t)
	mine.Note, others.Note = "mine", "the other's"
	must.Have(one.Save(mine))(t)
	same, err := two.Save(others)
	if !errors.Is(err, ErrChanged) || same.Note != "the other's" || same.Revision != 1 {
		t.Errorf("%v, and what was to be kept is now %+v", err, same)
	}
	if v := must.Have(two.Read(added.ID))(t); v.Note != "mine" {
		t.Errorf("on disk is %q", v.Note)
	}
	if _, err := two.Add(added); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a second one of the same id: %v", err)
	}
}

// What cannot be read is listed beside the others, and stays as it is.
func TestDamagedFileIsListed(t *testing.T) {
	s := opened(t)
	v := must.Have(s.Add(willow()))(t)
	for name, text := range map[string]string{"cut.vehicle": `{"format":"fault`, "huge.vehicle": strings.Repeat("a", MostBytes+1), "notes.txt": "", "other.vehicle": string(must.Have(logbook.Encode(v))(t))} {
		must.Do(t, os.WriteFile(filepath.Join(s.Dir(), name), []byte(text), 0o600))
	}
	all, unread, err := s.List()
	if err != nil || len(all) != 1 || all[0].ID != v.ID || len(unread) != 3 {
		t.Fatal(all, unread, err)
	}
	for i, want := range []string{"the file of vehicle other holds vehicle " + v.ID, "vehicle huge is larger than 256 KiB", "vehicle cut cannot be read: the vehicle is damaged"} {
		if !strings.Contains(unread[i].Err.Error(), want) {
			t.Errorf("%v; want %s", unread[i].Err, want)
		}
	}
	v.ID = "cut"
	if _, err := s.Save(v); err == nil {
		t.Error("a damaged file is written over")
	}
}

// What cannot be kept is told before anything is written.
func TestNotKept(t *testing.T) {
	s := opened(t)
	v := must.Have(s.Add(willow()))(t)
	v.Name = strings.Repeat("a", 10_000)
	if _, err := s.Save(v); err == nil || !strings.Contains(err.Error(), "the name has 10000 letters") {
		t.Error(err)
	}
	if kept := must.Have(s.Read(v.ID))(t); kept.Name != "Willow" {
		t.Errorf("on disk is %q", kept.Name)
	}
}
