package check

import (
	"context"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"faultwright/content/load"
)

// What a file may have: bytes, fewer where it is YAML, and lines.
const (
	mostBytes = 1 << 20
	mostYAML  = 512 << 10
	mostLines = 49_000
)

// filled is head, then pieces made for 0, 1, 2 and so on until the file is as
// large as it may be.
func filled(most int, head string, piece func(i int) string) string {
	var b strings.Builder
	b.WriteString(head)
	lines := strings.Count(head, "\n")
	for i := 0; ; i++ {
		next := piece(i)
		lines += strings.Count(next, "\n")
		if b.Len()+len(next) > most || lines > mostLines {
			return b.String()
		}
		b.WriteString(next)
	}
}

// pieces is n of them.
func pieces(n int, piece func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(piece(i))
	}
	return b.String()
}

// costly are files as large as may be, made to take long or to fill memory.
func costly(base map[string]string) map[string]map[string]string {
	tree := "---\ntree: bomb\ntitle: Bomb\nsummary: Bomb.\nstart: a0\nscope: [supply]\n---\n"
	step := func(i int, yaml string) string {
		return fmt.Sprintf("## Step {#a%d}\n\n```yaml step\n%s```\n\n", i, yaml)
	}
	choices := func(i, a, b int) string {
		return step(i, fmt.Sprintf("observe:\n  - {choice: yes, text: \"Yes\", go: a%d, signal: none}\n  - {choice: no, text: \"No\", go: a%d, signal: none}\n", a, b))
	}
	sums := "measure: {a: body-earth, b: pedestal.l1-n, c: pedestal.n-g}\nderive: {s: a + b + c, t: a - b, u: a - c, w: b - c}\nbranches:\n"
	for i := range 64 {
		sums += fmt.Sprintf("  - {a: {from: %d V, below: %d V}, s: {from: %d V, below: %d V}, go: a1, signal: none}\n", i, i+20, i, 3*i+4)
	}
	many := "measure: {v: body-earth}\nbranches:\n"
	for i := range 199 {
		many += fmt.Sprintf("  - {v: {from: %d V, below: %d V}, go: nowhere%d, signal: none}\n", i, i+1, i)
	}
	card := func(body string) map[string]string {
		return map[string]string{"cards/bomb.md": "---\ncard: bomb\ntitle: Bomb\n---\n" + body}
	}
	return map[string]map[string]string{
		"loops that cross":   {"trees/bomb.md": tree + pieces(1000, func(i int) string { return choices(i, (7*i+1)%990, (13*i+5)%990) })},
		"a long chain":       {"trees/bomb.md": tree + pieces(1000, func(i int) string { return choices(i, min(i+1, 999), min(i+2, 999)) })},
		"sums":               {"trees/bomb.md": filled(mostBytes, tree, func(i int) string { return step(i, sums) })},
		"steps to nowhere":   {"trees/bomb.md": filled(mostBytes, tree, func(i int) string { return step(i, many) })},
		"broken YAML":        {"trees/bomb.md": filled(mostBytes, tree, func(i int) string { return step(i, "x: [\n"+strings.Repeat("aaaaaaaaaa,\n", 200)) })},
		"unknown keys":       {"openings.yaml": filled(mostYAML, "", func(i int) string { return fmt.Sprintf("- {k%d: a, l%d: b}\n", i, i) })},
		"what remains":       {"remaining/tingle.yaml": filled(mostYAML, "remaining: tingle\nfindings:\n  live:\n", func(i int) string { return fmt.Sprintf("    - lost-ground%d@cord\n", i) })},
		"remains everywhere": {"remaining/tingle.yaml": filled(mostYAML, "remaining: tingle\nfindings:\n", func(i int) string { return fmt.Sprintf("  a%d: [lost-ground@supply, lost-ground@cord]\n", i) })},
		"synonyms":           {"synonyms.yaml": filled(mostYAML, "", func(i int) string { return "- [a, b]\n" })},
		"long lines of YAML": {"synonyms.yaml": filled(mostYAML, "", func(i int) string { return "- [" + strings.Repeat("a,", 8000) + "]\n" })},
		"parts": {"rigs/small.yaml": filled(mostYAML, base["rigs/small.yaml"], func(i int) string {
			return fmt.Sprintf("  - {part: p%d, resistance: [panel.l1, n%d], ohms: 1 Ω}\n", i, i)
		})},
		"a table": card(strings.Repeat("|", 1501) + "\n" + strings.Repeat("|-", 1500) + "|\n" + strings.Repeat("|\n", 900)),
		"tables": card(filled(mostBytes, "", func(int) string {
			return strings.Repeat("|a", 40) + "|\n" + strings.Repeat("|-", 40) + "|\n" + strings.Repeat("|\n", 200) + "\n"
		})),
		"links":    card(filled(mostBytes, "", func(i int) string { return fmt.Sprintf("[a](card:no-%d)\n\n", i) })),
		"list":     card(filled(mostBytes, "", func(int) string { return "- a\n" })),
		"emphasis": card(filled(mostBytes, "", func(int) string { return strings.Repeat("*a **b ", 100) + "\n\n" })),
	}
}

// Whatever stands in a file of the allowed size, loading and checking it is a
// matter of a second on a quiet machine, and of some tens of megabytes; the
// bounds here allow for a busy one, and for memory that is free again.
func TestNoFileTakesLong(t *testing.T) {
	all := costly(base(t))
	for _, name := range slices.Sorted(maps.Keys(all)) {
		files := base(t)
		maps.Copy(files, all[name])
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		begin := time.Now()
		found := Library(context.Background(), load.FS(context.Background(), folder(files)))
		took := time.Since(begin)
		runtime.ReadMemStats(&after)
		used := (after.TotalAlloc - before.TotalAlloc) >> 20
		t.Logf("%-18s %5d ms, %4d MiB in all, %d errors", name, took.Milliseconds(), used, len(found))
		if took > 10*time.Second || used > 800 {
			t.Errorf("%s: %v, %d MiB allocated in all", name, took, used)
		}
		if len(found) > 3*load.MostErrors {
			t.Errorf("%s: %d errors are shown", name, len(found))
		}
	}
}
