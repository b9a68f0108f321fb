package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// A learner who stops half-way at an assignment goes on where he was under the same name,
// as in the window, and goes back from a conclusion that he has begun to the vehicle.
// Somebody else at the same computer begins anew.
func TestALearnerGoesOnInTheTerminal(t *testing.T) {
	t.Chdir(t.TempDir())
	env := map[string]string{"XDG_DATA_HOME": t.TempDir(), "COLUMNS": "100"}
	sit := func(typed string, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		if code := run(context.Background(), args, strings.NewReader(typed), &out, &out, func(key string) string { return env[key] }); code != exitFine && code != exitRanOut {
			t.Fatalf("%q exits %d: %s", args, code, out.String())
		}
		return strings.Join(strings.Fields(out.String()), " ")
	}
	sit("", "assign", "lamps-like-candles", "--out", "week.zip")
	play := func(name, typed string) string {
		t.Helper()
		return sit(typed, "scenario", "play", "lamps-like-candles", "--assignment", "week.zip", "--name", name)
	}
	const onward = "You go on where you were, after 1 act"
	if got := play("Wren Ash", "prove\nquit\n"); strings.Contains(got, onward) {
		t.Errorf("the first time it says %q", got)
	}
	got := play("wren  ash", "read battery.pos moon\ndone\n2\nback\nacts\nquit\n")
	for _, want := range []string{onward, `There is no point "moon" here; points lists them.`, "1. A source known to be live", "Nothing is concluded yet; you are before the vehicle again.", "What was done stays on record. The same command goes on with it."} {
		if !strings.Contains(got, want) {
			t.Errorf("the second time it does not say %q: %s", want, got)
		}
	}
	if got := play("Finch", "quit\n"); strings.Contains(got, "go on where") {
		t.Errorf("somebody else goes on with it: %s", got)
	}
	if kept := must.Have(filepath.Glob(filepath.Join(env["XDG_DATA_HOME"], "faultwright", "practice", "*.attempt")))(t); len(kept) != 2 {
		t.Errorf("%d attempts are on record: %q", len(kept), kept)
	}
}
