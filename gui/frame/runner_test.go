package frame

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

func TestRunnerInlineRunsAtOnce(t *testing.T) {
	r := Runner{Inline: true}
	got := 0
	Run(&r, "sum", func(context.Context) int { return 2 }, func(v int) { got = v })
	if got != 2 {
		t.Fatalf("done got %d, want 2", got)
	}
	if r.Busy("sum") {
		t.Error("still busy after the work was done")
	}
}

func TestRunnerDropsStaleResults(t *testing.T) {
	r := Runner{Inline: true}
	var got []string
	Run(&r, "find", func(context.Context) string {
		// While the first search is under way the reader types on.
		Run(&r, "find", func(context.Context) string { return "new" }, func(v string) { got = append(got, v) })
		return "old"
	}, func(v string) { got = append(got, v) })
	if len(got) != 1 || got[0] != "new" {
		t.Fatalf("results %q, want only the newest", got)
	}
}

func TestRunnerCancel(t *testing.T) {
	r := Runner{Inline: true}
	var seen error
	Run(&r, "load", func(ctx context.Context) int {
		r.Cancel("load")
		seen = ctx.Err()
		return 1
	}, func(int) { t.Error("a cancelled job called done") })
	if seen == nil {
		t.Error("the work was not told that it was cancelled")
	}
}

// Work leaves the window's thread, and comes back to it, in one file only.
func TestOneSeamForThreads(t *testing.T) {
	files := must.Have(filepath.Glob("../*.go"))(t)
	nested, _ := filepath.Glob("../*/*.go")
	if len(nested) == 0 {
		t.Fatal("no files are looked at")
	}
	for _, name := range append(files, nested...) {
		if filepath.ToSlash(name) == "../frame/runner.go" || strings.HasSuffix(name, "_test.go") {
			continue
		}
		text := must.Have(os.ReadFile(name))(t)
		for _, seam := range []string{"go func", "fyne.Do"} {
			if strings.Contains(string(text), seam) {
				t.Errorf("%s has %q", name, seam)
			}
		}
	}
}

// Progress reaches the window once for each percent, and never goes back.
func TestTryTelling(t *testing.T) {
	r := Runner{Inline: true}
	var told []int
	got := 0
	TryTelling(&r, "walk", func(_ context.Context, tell func(done, total int)) (int, error) {
		for _, done := range []int{0, 1, 500, 499, 505, 510, 1000, 1000} {
			tell(done, 1000)
		}
		return 7, nil
	}, func(done, _ int) { told = append(told, done) }, func(v int, _ error) { got = v })
	if want := []int{0, 500, 510, 1000}; !slices.Equal(told, want) {
		t.Errorf("told %v, want %v", told, want)
	}
	if got != 7 {
		t.Errorf("done got %d", got)
	}
}
