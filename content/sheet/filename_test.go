package sheet

import (
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"faultwright/faulttree"
)

func TestFileNameSaysVehicleDateAndFinding(t *testing.T) {
	lib := small(t)
	live := walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "58.0"})
	in := Input{Vehicle: "Silver Minnow 22, plate QH-14", Started: began, Walk: live}
	first := FileName(in, lib)
	if first != "silver-minnow-22-plate-qh-14_2026-05-03-1430_the-body-is-live" {
		t.Error(first)
	}
	names := map[string]bool{first: true}
	for round := 1; round <= 3; round++ { // tested again within the same minute
		in.Before = append(in.Before, Round{Began: began, Walk: live})
		in.Again, in.Began = true, began
		if name := FileName(in, lib); names[name] || !strings.Contains(name, "after-repair") {
			t.Errorf("test %d is called %s, like an earlier one", round, name)
		} else {
			names[name] = true
		}
	}
	in.Began = began.Add(24 * time.Hour)
	if name := FileName(in, lib); !strings.Contains(name, "_2026-05-04-1430_") {
		t.Error(name)
	}
	if name := FileName(Input{Started: began, Walk: walk(t, lib, "tingle", faulttree.Owner, nil)}, lib); name != "vehicle_2026-05-03-1430_not-finished" {
		t.Error(name)
	}
}

// Whatever is typed, the file lands in the folder it is saved to.
func TestFileNameOfHostileVehicles(t *testing.T) {
	lib := small(t)
	live := walk(t, lib, "tingle", faulttree.Owner, map[string]string{"body-earth": "58.0"})
	for _, bad := range append([]string{"../../etc/passwd", `C:\con`, "nul", ".hidden", "-rf", "a\x00b", "", strings.Repeat("長い", 500), "\u202Eexe", "é\u0301 車"}, hostile...) {
		name := FileName(Input{Vehicle: bad, Started: began, Walk: live}, lib)
		if name != filepath.Base(name) || strings.ContainsAny(name, "/\\:*?\"<>| .\x00\u202E") || strings.HasPrefix(name, "-") || !utf8.ValidString(name) || len(name) > 200 {
			t.Errorf("%q gives %q", bad, name)
		}
	}
}
