// Package plainfile opens files and folders that come from outside. What is
// neither a plain file nor a folder (a pipe, a device, a socket) is refused
// without being opened: opening a pipe waits for somebody who may never write,
// and reading a device may never end.
package plainfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// ErrNotPlain means that a name leads to something that is no plain file.
var ErrNotPlain = errors.New("this is not a plain file")

// Open opens a plain file for reading, links followed. It never waits. The
// error is ErrNotPlain for anything else, a folder included.
func Open(name string) (*os.File, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: ErrNotPlain}
	}
	f, err := os.OpenFile(name, os.O_RDONLY|withoutWaiting, 0)
	if err != nil {
		return nil, err
	}
	return f, closeUnless(f, name, func(m fs.FileMode) bool { return m.IsRegular() })
}

// closeUnless looks at what was opened, which may have been changed since its
// name was looked at, and closes it if it is not as wanted.
func closeUnless(f *os.File, name string, wanted func(fs.FileMode) bool) error {
	info, err := f.Stat()
	if err == nil && !wanted(info.Mode()) {
		err = &fs.PathError{Op: "open", Path: name, Err: ErrNotPlain}
	}
	if err != nil {
		f.Close()
	}
	return err
}

// IsPlain reports whether a name leads to a plain file.
func IsPlain(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular()
}

// Folder opens a folder that nothing can lead out of. Close it after use.
func Folder(dir string) (*os.Root, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("%s is not a folder", dir)
	}
	return os.OpenRoot(dir + string(os.PathSeparator) + ".") // a pipe put there since is no folder, and is not waited for
}

// FS is the plain files and folders below root; opening anything else is an
// ErrNotPlain.
func FS(root *os.Root) fs.FS { return tree{root} }

type tree struct{ root *os.Root }

func (t tree) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	plain := func(m fs.FileMode) bool { return m.IsRegular() || m.IsDir() }
	info, err := t.root.Stat(name)
	if err != nil {
		return nil, err
	}
	if !plain(info.Mode()) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: ErrNotPlain}
	}
	f, err := t.root.OpenFile(name, os.O_RDONLY|withoutWaiting, 0)
	if err != nil {
		return nil, err
	}
	if err := closeUnless(f, name, plain); err != nil {
		return nil, err
	}
	return f, nil
}

func (t tree) Stat(name string) (fs.FileInfo, error) { return t.root.Stat(name) }
