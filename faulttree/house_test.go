package faulttree_test

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The house in DEVELOPERS.md lists every package, and nothing that is not there.
func TestTheHouseListsEveryPackage(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, house, _ := strings.Cut(string(text), "## The house\n\n```\n")
	house, _, found := strings.Cut(house, "\n```")
	if !found {
		t.Fatal("DEVELOPERS.md has no block under “The house”")
	}
	listed := listedIn(house)
	for _, dir := range listed {
		if info, err := os.Stat(filepath.Join("..", dir)); err != nil || !info.IsDir() {
			t.Errorf("the house lists %s, which is not there", dir)
		}
	}
	err = filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(file, ".go") {
			return err
		}
		rel, err := filepath.Rel("..", path.Dir(filepath.ToSlash(file)))
		dir := filepath.ToSlash(rel)
		if !slices.Contains(listed, dir) && !strings.HasSuffix(dir, "test") {
			t.Errorf("the house does not list %s", dir)
			listed = append(listed, dir) // told once
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// listedIn is the folders of the block: each line is indented under its parent by
// two blanks and begins with one folder or several, behind which stands what they
// are.
func listedIn(house string) []string {
	var out, above []string
	for line := range strings.Lines(house) {
		depth := (len(line) - len(strings.TrimLeft(line, " "))) / 2
		for i, word := range strings.Fields(line) {
			if i > 0 && !strings.HasSuffix(word, "/") {
				break
			}
			above = append(above[:min(depth, len(above))], strings.TrimSuffix(word, "/"))
			out = append(out, path.Join(above...))
		}
	}
	return out
}
