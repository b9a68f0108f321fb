package main

import (
	"os"
	"path/filepath"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
)

// walkedByHand lists the findings in which the readings files of a folder end;
// none without a folder. A file that stops on the way has reached nothing.
func walkedByHand(lib *content.Library, folder string) ([]faulttree.Ref, error) {
	if folder == "" {
		return nil, nil
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, bad("%v", err)
	}
	var ended []faulttree.Ref
	for _, e := range entries {
		if !e.Type().IsRegular() || filepath.Ext(e.Name()) != ".yaml" {
			continue
		}
		w, err := walkFile(lib, filepath.Join(folder, e.Name()))
		if err != nil {
			return nil, err
		}
		if r, ok := w.Finding(); ok {
			ended = append(ended, r.Ref)
		}
	}
	return ended, nil
}

// walkFile walks as an owner by the readings of a file, as far as they go.
func walkFile(lib *content.Library, path string) (faulttree.Walk, error) {
	tree := treeNamed(lib.Forest, filepath.Base(path))
	if tree == "" {
		return faulttree.Walk{}, bad("%s: the name begins like no tree; expected TREE-….yaml", path)
	}
	in, err := openPlain(path)
	if err != nil {
		return faulttree.Walk{}, bad("%v", err)
	}
	defer in.Close()
	supplied, diags := load.Readings(in, path, lib.Forest)
	if err := diags.Err(); err != nil {
		return faulttree.Walk{}, bad("%v", err)
	}
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, faulttree.Owner, faulttree.DefaultMeter())
	if err != nil {
		return w, bad("%s: %v", path, err)
	}
	if w, _, err = w.Supply(supplied); err != nil {
		return w, bad("%s: %v", path, err)
	}
	return w, nil
}

// treeNamed is the tree with whose id a file's name has the most words in
// common at its beginning, "" where it has none: "body-58.yaml" is of
// body-voltage.
func treeNamed(f *faulttree.Forest, name string) string {
	words := strings.Split(strings.TrimSuffix(name, filepath.Ext(name)), "-")
	best, most := "", 0
	for _, id := range f.Beginnings() {
		n := 0
		for i, word := range strings.Split(id, "-") {
			if i >= len(words) || words[i] != word {
				break
			}
			n++
		}
		if n > most {
			best, most = id, n
		}
	}
	return best
}
