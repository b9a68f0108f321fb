package check

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// seed is a mistake put into a copy of the shipped handbook: the first match
// of find becomes put, and a diagnostic of the rule must stand in its line.
// Where at is set, it is expected at the last match of at that begins in what
// was put in, or above it.
type seed struct {
	file, find, put, rule string
	at                    string
}

var seeds = []seed{
	{file: "cards/earth-spike.md", find: `title:`, put: "titel:", rule: "unknown-key"},
	{file: "cards/ten-megohms.md", find: `\]\((card|caution|fault):[a-z-]+\)`, put: "](card:no-such-card)", rule: load.RuleBrokenLink},
	{file: "cautions/one-hand.md", find: `signal: \w+`, put: "signal: dangerous", rule: load.RuleBadValue},
	{file: "faults/open-neutral.md", find: `place: .*`, put: "place: kitchen", rule: load.RuleBadValue},
	{file: "sources/c84-1.md", find: `source: c84-1`, put: "source: c84", rule: load.RuleIDFileName},
	{file: "trees/pedestal.md", find: `go: [a-z0-9-]+`, put: "go: no-such-step", rule: load.RuleUnknownStep},
	{file: "trees/body-voltage.md", find: `measure: \{v: body-earth\}`, put: "measure: {v: body-erth}", rule: load.RuleUnknownQuantity},
	{file: "trees/body-voltage.md", find: `value: 30 V`, put: "value: 30 W", rule: load.RuleBadUnit},
	{file: "trees/pedestal.md", find: `cards: \[`, put: "cards: [no-such-card, ", rule: load.RuleUnknownCard},
	{file: "trees/half-dead.md", find: `\n## [^\n]*\{#[a-z0-9-]+\}`, put: "\n## Here {#hand-over}", rule: load.RuleReservedID, at: `## Here`},
	{file: "trees/half-dead.md", find: `branches:\n`, put: "branches: [\n", rule: "yaml-syntax", at: `branches: \[`},
	{file: "trees/body-voltage.md", find: `(?s)finding:`, put: "measure: {v: body-earth}\nfinding:", rule: load.RuleBadStep, at: `\nfinding:`},
	{file: "trees/body-voltage.md", find: `\{below: shift\}`, put: "{below: low}", rule: "coverage-gap", at: `\n## `},
	{file: "trees/pedestal.md", find: `over-range: \{go: [a-z0-9-]+`, put: "over-range: {go: no-such-step", rule: load.RuleUnknownStep},
	{file: "quantities.yaml", find: `unit: V AC`, put: "unit: V", rule: load.RuleBadValue},
	{file: "rigs/coach-50a.yaml", find: `ohms: 0\.02 Ω`, put: "ohms: 0.02 V", rule: load.RuleUnitMismatch},
	{file: "rigs/coach-50a.yaml", find: `wires: \[l1, l2, n\]`, put: "wires: [l1, l1, n]", rule: load.RuleDuplicateID},
	{file: "rigs/trailer-30a.yaml", find: `switch: plug\}\n`, put: "switch: plugg}\n", rule: "rig"},
	{file: "faults/open-neutral.md", find: `open: \[`, put: "open: [no-such-part, ", rule: load.RuleUnknownPart},
	{file: "openings.yaml", find: `tree: [a-z0-9-]+`, put: "tree: no-such-tree", rule: load.RuleUnknownTree},
}

// Mistakes seeded into a copy of the handbook are caught at the right line, by
// the way that a person's own folder is read.
func TestSeededMistakesAreCaughtAtTheirLine(t *testing.T) {
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, content.ShippedFiles()))
	for i, s := range seeds {
		t.Run(fmt.Sprintf("%02d-%s", i+1, s.rule), func(t *testing.T) {
			name := filepath.Join(dir, filepath.FromSlash(s.file))
			text := must.Have(os.ReadFile(name))(t)
			at := regexp.MustCompile(s.find).FindIndex(text)
			if at == nil {
				t.Fatalf("%s holds nothing like %q", s.file, s.find)
			}
			broken := string(text[:at[0]]) + s.put + string(text[at[1]:])
			offset := at[0]
			if s.at != "" {
				offset = lastBefore(broken, s.at, offset+len(s.put))
			}
			line := source.NewFile(s.file, []byte(broken)).Pos(offset).Line
			must.Do(t, os.WriteFile(name, []byte(broken), 0o600))
			defer func() {
				must.Do(t, os.WriteFile(name, text, 0o600))
			}()
			l := must.Have(load.Dir(context.Background(), dir))(t)
			found := false
			for _, d := range Library(context.Background(), l) {
				found = found || (d.Pos.File == s.file && d.Pos.Line == line && d.Rule == s.rule)
				if strings.Contains(d.String(), dir) {
					t.Errorf("a diagnostic names a folder of this machine: %v", d)
				}
			}
			if !found {
				t.Errorf("no %s at %s:%d, but\n%v", s.rule, s.file, line, Library(context.Background(), l))
			}
		})
	}
}

// lastBefore is where the last match of find that begins below the offset end
// stands, line ends before it left out.
func lastBefore(text, find string, end int) int {
	offset := 0
	for _, m := range regexp.MustCompile(find).FindAllStringIndex(text, -1) {
		if m[0] < end {
			offset = m[1] - len(strings.TrimLeft(text[m[0]:m[1]], "\n"))
		}
	}
	return offset
}
