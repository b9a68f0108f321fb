package load_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"faultwright/content/load"
	"faultwright/faulttree/must"
)

// A change is told once the folder stands still, whatever the change is.
func TestAFolderIsFollowed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "handbook")
	must.Do(t, os.CopyFS(dir, os.DirFS("../../testdata/handbook")))
	card := filepath.Join(dir, "cards", "new.md")
	tree := filepath.Join(dir, "trees", "tingle.md")
	write := func(name, text string) func() {
		return func() { must.Do(t, os.WriteFile(name, []byte(text), 0o600)) }
	}
	nothing := func() {}
	f := load.Follow(dir)
	for _, c := range []struct {
		what  string
		steps []func() // what is done before each look; told at the last
	}{
		{"a new file", []func(){nothing, write(card, "one"), nothing}},
		{"a file that is still being written", []func(){write(card, "o"), write(card, "on"), write(card, "one two"), nothing}},
		{"another file renamed over it", []func(){write(tree+"~", "half"), func() { must.Do(t, os.Rename(tree+"~", tree)) }, nothing}},
		{"a file with the same size", []func(){func() {
			write(card, "two one")()
			must.Do(t, os.Chtimes(card, time.Time{}, time.Date(2031, 1, 1, 0, 0, 0, 0, time.UTC)))
		}, nothing}},
		{"a file that is deleted", []func(){func() { must.Do(t, os.Remove(card)) }, nothing}},
		{"the folder taken away", []func(){func() { must.Do(t, os.Rename(dir, dir+".away")) }, nothing}},
		{"the folder put back", []func(){nothing, func() { must.Do(t, os.Rename(dir+".away", dir)) }, nothing}},
	} {
		looks := 0
		err := f.Changed(t.Context(), func(context.Context) error {
			if looks == len(c.steps) {
				return errors.New("not told")
			}
			c.steps[looks]()
			looks++
			return nil
		})
		if err != nil || looks != len(c.steps) {
			t.Errorf("%s: told after %d looks, want %d (%v)", c.what, looks, len(c.steps), err)
		}
	}
}

// Nothing is told of what stays as it is, nor of the hidden files of an editor.
func TestAFolderThatStaysAsItIs(t *testing.T) {
	dir := t.TempDir()
	end := errors.New("the end")
	for _, followed := range []string{dir, filepath.Join(dir, "none")} {
		looks := 0
		err := load.Follow(followed).Changed(t.Context(), func(context.Context) error {
			looks++
			if looks > 3 {
				return end
			}
			return os.WriteFile(filepath.Join(dir, ".tree.md.swp"), make([]byte, looks), 0o600)
		})
		if !errors.Is(err, end) {
			t.Errorf("%s: %v, want that nothing was told", followed, err)
		}
	}
}
