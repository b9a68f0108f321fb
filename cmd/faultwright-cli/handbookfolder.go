package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"

	"faultwright/content/plainfile"
)

// handbookFolder is the folder of a handbook into which lists are written; nothing
// outside it is, whatever links it holds.
type handbookFolder struct{ *os.Root }

// openHandbook opens the folder of a handbook and makes sure that lists can be
// written into a folder in it, "." for itself.
func openHandbook(content, dir string) (*handbookFolder, error) {
	root, err := plainfile.Folder(content)
	if err != nil {
		return nil, err
	}
	to := &handbookFolder{root}
	if err := root.Mkdir(dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		root.Close()
		return nil, err
	}
	draft, err := to.draft(dir, nil)
	if err == nil {
		err = root.Remove(draft)
	}
	if err != nil {
		root.Close()
		return nil, err
	}
	return to, nil
}

// write makes or replaces every file, or none where one cannot be written: each
// is written whole beside its place before the first takes its own.
func (to *handbookFolder) write(files map[string][]byte) (err error) {
	drafts := map[string]string{} // by the name they are to have
	defer func() {
		for _, draft := range drafts {
			to.Remove(draft)
		}
	}()
	for name, text := range files {
		if info, err := to.Lstat(name); err == nil && !info.Mode().IsRegular() {
			return fmt.Errorf("%s is no plain file", name)
		}
		draft, err := to.draft(path.Dir(name), text)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		drafts[name] = draft
	}
	for name, draft := range drafts {
		if err := to.Rename(draft, name); err != nil {
			return err
		}
		delete(drafts, name)
	}
	return nil
}

// draft is the name of a new file with a text, in a folder of the handbook.
func (to *handbookFolder) draft(dir string, text []byte) (string, error) {
	name := path.Join(dir, ".faultwright-"+rand.Text())
	f, err := to.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		if failed := (*fs.PathError)(nil); errors.As(err, &failed) { // of the folder; nobody knows the draft
			err = fmt.Errorf("%s: %w", dir, failed.Err)
		}
		return "", err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		to.Remove(name)
		return "", err
	}
	return name, nil
}
