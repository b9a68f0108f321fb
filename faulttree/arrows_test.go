package faulttree_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// layers are the packages from the bottom up; each may import itself and what
// stands below it.
var layers = []string{"faulttree", "content", "search", "gui", "cmd"}

// without names packages that a reader's screen and search are built from, and
// what none of them may link, not even through others: whoever only shows the
// handbook needs neither the proofs nor the trials of its trees, and no circuit
// solved but to load it. The reasoning about suspects knows no vehicles.
var without = []struct{ packages, banned []string }{{
	[]string{"content", "content/contact", "content/document", "content/figure", "content/flow", "content/load", "content/shorthand", "content/sheet", "content/view", "search"},
	[]string{"faulttree/prove", "faulttree/trial", "content/check"},
}, {
	[]string{"content", "content/contact", "content/document", "content/figure", "content/flow", "content/sheet", "content/shorthand", "content/view", "faulttree/rig", "faulttree/suspect", "search"},
	[]string{"faulttree/circuit"},
}, {
	[]string{"faulttree/suspect"},
	[]string{"faulttree/rig", "faulttree/bench", "faulttree/vehicle"},
}}

// onlyIn names the one place where a library may be imported.
var onlyIn = map[string]string{
	"fyne.io/fyne/v2" + "/app":        "cmd/faultwright",
	"fyne.io/fyne/v2":                 "gui,cmd/faultwright",
	"github.com/blevesearch/bleve":    "search",
	"github.com/yuin/goldmark":        "content",
	"go.yaml.in/yaml":                 "content",
	"github.com/alecthomas/kong":      "cmd/faultwright-cli",
	"github.com/rogpeppe/go-internal": "content,cmd/faultwright-cli", // in tests
}

// rooms are the packages of gui from the bottom up; those of one floor know
// nothing of each other.
var rooms = [][]string{
	{"gui/look", "gui/place"},
	{"gui/session"},
	{"gui/frame"},
	{"gui/fits", "gui/parts"},
	{"gui/walk", "gui/handbook", "gui/flow", "gui/circuit", "gui/practice", "gui/class", "gui/scenarios", "gui/suspects", "gui/vehicles", "gui/visits", "gui/settings"},
	{"gui"},
}

// dry are the packages that draw nothing.
var dry = []string{"gui/place", "gui/session"}

func floor(room string) int {
	return slices.IndexFunc(rooms, func(all []string) bool { return slices.Contains(all, room) })
}

func TestArrowsPointDown(t *testing.T) {
	eachImport(t, func(file, imported string) { checkArrow(t, file, imported) })
}

// What shows the handbook links neither the proofs nor the trials, and but for
// the loader no circuits.
func TestReadersLinkNoProofs(t *testing.T) {
	imports := map[string][]string{}
	eachImport(t, func(file, imported string) {
		if own, ok := strings.CutPrefix(imported, "faultwright/"); ok && !strings.HasSuffix(file, "_test.go") {
			imports[path.Dir(file)] = append(imports[path.Dir(file)], own)
		}
	})
	for _, rule := range without {
		for _, from := range rule.packages {
			if len(imports[from]) == 0 {
				t.Errorf("%s is not there or imports nothing of the project", from)
			}
			linked := map[string]string{} // to who imports it
			for next := []string{from}; len(next) > 0; next = next[1:] {
				for _, to := range imports[next[0]] {
					if linked[to] == "" {
						linked[to] = next[0]
						next = append(next, to)
					}
				}
			}
			for _, banned := range rule.banned {
				if by := linked[banned]; by != "" {
					t.Errorf("%s links %s, by way of %s", from, banned, by)
				}
			}
		}
	}
}

// eachImport calls do with every import of every file of the project.
func eachImport(t *testing.T, do func(file, imported string)) {
	root := ".."
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".go") {
			return err
		}
		rel, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Errorf("%s: %v", rel, err)
			return nil
		}
		if dir := path.Dir(rel); strings.HasPrefix(dir, "gui") && !strings.HasSuffix(dir, "test") && floor(dir) < 0 {
			t.Errorf("%s is not among the packages of gui whose arrows this test holds", dir)
		}
		for _, spec := range parsed.Imports {
			do(rel, strings.Trim(spec.Path.Value, `"`))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func checkArrow(t *testing.T, file, imported string) {
	dir := path.Dir(file)
	if own, ok := strings.CutPrefix(imported, "faultwright/"); ok {
		from, to := layer(file), layer(own)
		if a, b := floor(dir), floor(own); dir != own && a >= 0 && b >= a && !strings.HasSuffix(file, "_test.go") {
			t.Errorf("%s imports %s, which stands beside or above it", file, imported)
		}
		if to > from {
			t.Errorf("%s imports %s, which stands above it", file, imported)
		}
		if dir == "faulttree" && !strings.HasSuffix(file, "_test.go") && own != "faulttree/source" && own != "faulttree/order" && own != "faulttree/lists" {
			t.Errorf("%s imports %s; package faulttree imports only faulttree/source, faulttree/order and faulttree/lists", file, imported)
		}
		return
	}
	if slices.Contains(dry, dir) && strings.HasPrefix(imported, "fyne.io/") {
		t.Errorf("%s imports %s; %s draws nothing", file, imported, dir)
	}
	longest, allowed := "", ""
	for library, places := range onlyIn {
		if (imported == library || strings.HasPrefix(imported, library+"/")) && len(library) > len(longest) {
			longest, allowed = library, places
		}
	}
	if longest == "" {
		return
	}
	for _, place := range strings.Split(allowed, ",") {
		if place != "" && (dir == place || strings.HasPrefix(dir, place+"/")) {
			return
		}
	}
	t.Errorf("%s imports %s, which belongs to %s", file, imported, allowed)
}

func layer(file string) int {
	top, _, _ := strings.Cut(file, "/")
	for i, l := range layers {
		if l == top {
			return i
		}
	}
	return -1
}
