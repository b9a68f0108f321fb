package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// output is a stream the program writes to. It keeps the first error, so that
// no command needs to look for it.
type output struct {
	w   io.Writer
	err error
}

// Write writes to the stream, once it has failed no more.
func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(p)
	if err != nil {
		o.err = err
	}
	return n, err
}

// terminal is the terminal that w writes to, or nil.
func terminal(w io.Writer) *os.File {
	if o, ok := w.(*output); ok {
		w = o.w
	}
	f, ok := w.(*os.File)
	if !ok {
		return nil
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	return f
}

// errThere means that a file is there and is not to be replaced.
var errThere = errors.New("it is there already")

// writeFile makes a file whole or not at all. One that is there is replaced if
// replace says so, keeping its permissions; a link keeps leading to it, and a
// device or pipe is written to.
func writeFile(name string, replace bool, write func(io.Writer) error) error {
	info, err := os.Stat(name)
	switch {
	case err == nil && !replace:
		return fmt.Errorf("%s: %w", name, errThere)
	case err == nil && info.IsDir():
		return fmt.Errorf("%s is a folder", name)
	case err == nil && !info.Mode().IsRegular():
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		return errors.Join(write(f), f.Close())
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	draft, err := newDraft(name)
	if err != nil {
		return err
	}
	err = write(draft)
	if err == nil && info != nil {
		err = draft.Chmod(info.Mode().Perm())
	}
	if err = errors.Join(err, draft.Close()); err == nil {
		err = os.Rename(draft.Name(), name)
	}
	if err != nil {
		os.Remove(draft.Name())
	}
	return err
}

// newDraft is a new file beside the one it is to become, with the permissions
// that any new file has.
func newDraft(name string) (*os.File, error) {
	draft := filepath.Join(filepath.Dir(name), ".faultwright-"+rand.Text())
	file, err := os.OpenFile(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	var failed *fs.PathError
	if errors.As(err, &failed) { // of the name that was asked for; nobody knows the other
		return nil, fmt.Errorf("%s: %w", name, failed.Err)
	}
	return file, err
}

// tryFile reports whether writeFile could replace or make a file, before work
// is done for it. It leaves nothing behind.
func tryFile(name string) error {
	switch info, err := os.Stat(name); {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s is a folder", name)
	case err == nil && !info.Mode().IsRegular():
		return nil
	case err == nil:
		f, err := os.OpenFile(name, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		f.Close()
	}
	draft, err := newDraft(name)
	if err != nil {
		return err
	}
	return errors.Join(draft.Close(), os.Remove(draft.Name()))
}
