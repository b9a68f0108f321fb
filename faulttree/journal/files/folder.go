package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"faultwright/faulttree/journal"
)

// ErrElsewhere means that another window or program has a journal open.
var ErrElsewhere = errors.New("open in another window; close it there to go on here, or look at it without changing it")

// ErrGone means that an open journal is no longer where it was.
var ErrGone = errors.New("was moved or deleted while it was open, so this is not on record")

// Kind is what a folder keeps.
type Kind struct {
	One, Many string // "visit", "visits"
	Ending    string // of its files: ".visit"
	Most      int64  // bytes of the largest journal that is read or written
}

// most is the size of the largest journal, in words.
func (k Kind) most() string {
	if k.Most < 1<<20 {
		return fmt.Sprintf("%d KiB", k.Most>>10)
	}
	return fmt.Sprintf("%d MiB", k.Most>>20)
}

// Folder is a folder of journals. Close it after use.
type Folder struct {
	root *os.Root
	dir  string
	kind Kind
}

// Open uses the folder dir and makes it if it is not there, for the user
// alone. Nothing outside it is ever read or written, whatever links it holds.
func Open(dir string, kind Kind) (*Folder, error) {
	_, err := os.Stat(dir)
	made := err != nil
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("the folder for %s cannot be made: %w", kind.Many, err)
	}
	for parent := filepath.Dir(dir); made && parent != filepath.Dir(parent); parent = filepath.Dir(parent) {
		if d, err := os.Open(parent); err == nil {
			made = syncFolder(d) == nil // as far up as the user may
			d.Close()
		} else {
			made = false
		}
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder for %s cannot be opened: %w", kind.Many, err)
	}
	d := &Folder{root, dir, kind}
	d.removeDrafts()
	return d, nil
}

// Dir is where the folder is.
func (d *Folder) Dir() string { return d.dir }

// names lists what is in the folder, in no order.
func (d *Folder) names() ([]string, error) {
	here, err := d.root.Open(".")
	if err != nil {
		return nil, fmt.Errorf("the folder for %s cannot be opened: %w", d.kind.Many, err)
	}
	defer here.Close()
	names, err := here.Readdirnames(mostNames)
	if err != nil && err != io.EOF {
		return nil, fmt.Errorf("the folder for %s cannot be read: %w", d.kind.Many, err)
	}
	return names, nil
}

// Close lets go of the folder; open files stay open.
func (d *Folder) Close() error { return d.root.Close() }

// sync makes the names in the folder last, where the system can.
func (d *Folder) sync() error {
	here, err := d.root.Open(".")
	if err != nil {
		return fmt.Errorf("the folder for %s cannot be opened: %w", d.kind.Many, err)
	}
	defer here.Close()
	return syncFolder(here)
}

// Read is the text of a journal, without opening it for writing: for looking,
// listing and reports, also while it is open elsewhere.
func (d *Folder) Read(id string) ([]byte, error) {
	file, err := d.open(id, os.O_RDONLY)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return d.text(file, id)
}

// Open opens a journal to go on with it. Read is given its text and says how many
// bytes to keep: a torn last line is cut off, and damaged bytes at the end are
// followed by a line end, so that the next record begins on a line of its own. The
// error is [ErrElsewhere] if another window has it.
func (d *Folder) Open(id string, read func(text []byte) (keep int, err error)) (_ *File, err error) {
	file, err := d.open(id, os.O_RDWR|os.O_APPEND)
	if err != nil {
		return nil, err
	}
	unlock, err := d.lock(file, id)
	if err != nil {
		file.Close()
		return nil, err
	}
	f := &File{file: file, folder: d, name: id + d.kind.Ending, unlock: unlock}
	defer func() {
		if err != nil {
			f.Close()
		}
	}()
	if err := d.same(file, f.name); err != nil {
		return nil, fmt.Errorf("%s %s: %w", d.kind.One, id, err)
	}
	text, err := d.text(file, id)
	if err != nil {
		return nil, err
	}
	keep, err := read(text)
	if err != nil {
		return nil, err
	}
	return f, f.prepare(int64(keep))
}

// lock takes the lock of a journal.
func (d *Folder) lock(file *os.File, id string) (unlock func() error, err error) {
	unlock, err = lock(d.root, file, id+d.kind.Ending)
	if errors.Is(err, ErrElsewhere) {
		err = fmt.Errorf("this %s is %w", d.kind.One, err)
	}
	return unlock, err
}

// same reports whether the locked file is still the one of that name: it may
// have been deleted between opening and locking.
func (d *Folder) same(file *os.File, name string) error {
	mine, err := file.Stat()
	if err != nil {
		return err
	}
	there, err := d.root.Lstat(name)
	if err != nil || !os.SameFile(mine, there) {
		return fs.ErrNotExist
	}
	return nil
}

func (d *Folder) open(id string, flag int) (*os.File, error) {
	if !journal.ValidID(id) {
		return nil, d.badID(id)
	}
	switch info, err := d.root.Lstat(id + d.kind.Ending); {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no %s %s: %w", d.kind.One, id, fs.ErrNotExist)
	case err != nil:
		return nil, fmt.Errorf("%s %s cannot be read: %w", d.kind.One, id, err)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s %s is not an ordinary file", d.kind.One, id)
	}
	file, err := d.root.OpenFile(id+d.kind.Ending, flag, 0)
	if err != nil {
		return nil, fmt.Errorf("%s %s cannot be opened: %w", d.kind.One, id, err)
	}
	return file, nil
}

// text is all of a file.
func (d *Folder) text(file *os.File, id string) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(file, d.kind.Most+1))
	if err != nil {
		return nil, fmt.Errorf("%s %s cannot be read: %w", d.kind.One, id, err)
	}
	if int64(len(text)) > d.kind.Most {
		return nil, fmt.Errorf("%s %s is larger than %s and is not read", d.kind.One, id, d.kind.most())
	}
	return text, nil
}

// Delete removes a journal for good. Ask the user first. The error is
// ErrElsewhere if a window has it open.
func (d *Folder) Delete(id string) error {
	file, err := d.open(id, os.O_RDWR)
	if err != nil {
		return err
	}
	defer file.Close()
	unlock, err := d.lock(file, id)
	if err != nil {
		return err
	}
	defer unlock()
	if err := d.root.Remove(id + d.kind.Ending); err != nil {
		return fmt.Errorf("%s %s cannot be deleted: %w", d.kind.One, id, err)
	}
	return d.sync()
}

// Named is what is wrong with a journal of this id whose header says another, or
// that could not be read; nil for nothing.
func (k Kind) Named(id, says string, unread error) error {
	switch {
	case unread != nil:
		return fmt.Errorf("%s %s cannot be read: %w", k.One, id, unread)
	case says != id:
		return fmt.Errorf("the file of %s %s holds %s %s; give it its own name back", k.One, id, k.One, says)
	}
	return nil
}

func (d *Folder) badID(id string) error {
	return fmt.Errorf("%q cannot be a name among the %s; expected something like 2026-05-03-k7fqm", id, d.kind.Many)
}
