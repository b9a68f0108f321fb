package files

import (
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"

	"faultwright/faulttree/journal"
)

// draftEnding is that of a journal whose first line is being written.
const draftEnding = ".new"

// mostTries is how often a journal is begun anew where a name was taken or another
// program, which starts in that moment, took the draft away. Each draft stands
// unlocked for an instant only, but on a busy machine twenty in a row were hit.
const mostTries = 1000

// Create begins a journal on disk and opens it; head makes its first line. An
// empty id is drawn, from the day of started on.
func (d *Folder) Create(id string, started time.Time, head func(id string) ([]byte, error)) (*File, string, error) {
	for range mostTries {
		name := id
		if name == "" {
			var b [8]byte
			rand.Read(b[:])
			name = journal.NewID(started, binary.LittleEndian.Uint64(b[:]))
		}
		line, err := head(name)
		if err == nil {
			err = oneLine(line)
		}
		if err != nil {
			return nil, "", err
		}
		f, err := d.create(name, line)
		if id == "" && errors.Is(err, fs.ErrExist) || err == errDraftGone {
			continue
		}
		return f, name, err
	}
	return nil, "", fmt.Errorf("no free name for a new %s was found", d.kind.One)
}

// errDraftGone means that another program took a draft for an abandoned one in
// the moment before it was locked.
var errDraftGone = errors.New("the draft of a new journal was taken away")

func (d *Folder) create(id string, text []byte) (*File, error) {
	if !journal.ValidID(id) {
		return nil, d.badID(id)
	}
	name := id + d.kind.Ending
	f, err := d.draft(id, name)
	if err != nil {
		return nil, err
	}
	// Who holds the draft is the only one to begin a journal of this name.
	if _, err = d.root.Lstat(name); err == nil {
		err = fmt.Errorf("%s %s: %w", d.kind.One, id, fs.ErrExist)
	} else if errors.Is(err, fs.ErrNotExist) {
		err = d.put(f, name, text)
	}
	if err != nil {
		f.discard()
		return nil, err
	}
	if err = d.sync(); err != nil {
		d.root.Remove(name)
		f.Close()
		return nil, err
	}
	return f, nil
}

// draft makes the file in which the text of an id is written until it is whole. Locked
// is the name under which it is locked.
func (d *Folder) draft(id, locked string) (*File, error) {
	name := id + draftEnding
	file, err := d.root.OpenFile(name, os.O_RDWR|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("a new %s cannot be written: %w", d.kind.One, err)
	}
	f := &File{file: file, folder: d, name: name, unlock: func() error { return nil }}
	unlock, err := lock(d.root, file, locked)
	if err == nil {
		f.unlock, err = unlock, d.same(file, name)
	}
	if errors.Is(err, ErrElsewhere) || errors.Is(err, fs.ErrNotExist) {
		err = errDraftGone
	}
	if err != nil {
		f.discard()
		return nil, err
	}
	return f, nil
}

// put writes the whole text of a draft and gives it its name.
func (d *Folder) put(f *File, name string, text []byte) error {
	if err := f.write(text); err != nil {
		return err
	}
	if err := d.root.Rename(f.name, name); err != nil {
		return fmt.Errorf("the %s cannot be written: %w", d.kind.One, err)
	}
	f.name = name
	return nil
}

// discard takes a draft away.
func (f *File) discard() {
	f.Close()
	f.folder.root.Remove(f.name)
}

// Rewrite puts another text in the place of all of a file that is kept whole: there is
// always the old one or the new one, never half of one. Change is given the present text;
// where it gives an error nothing changes. The error is [ErrElsewhere] while another
// window does the same.
func (d *Folder) Rewrite(id string, change func(now []byte) ([]byte, error)) error {
	for range mostTries {
		file, err := d.open(id, os.O_RDWR)
		if err != nil {
			return err
		}
		err = d.rewrite(file, id, change)
		file.Close()
		if !errors.Is(err, errReplaced) {
			return err
		}
	}
	return fmt.Errorf("%s %s: %w", d.kind.One, id, ErrElsewhere)
}

// errReplaced means that a file was replaced in the moment before it was locked.
var errReplaced = errors.New("another window has just written it")

func (d *Folder) rewrite(file *os.File, id string, change func(now []byte) ([]byte, error)) error {
	unlock, err := d.lock(file, id)
	if err != nil {
		return err
	}
	defer unlock()
	name := id + d.kind.Ending
	if d.same(file, name) != nil {
		return errReplaced
	}
	now, err := d.text(file, id)
	if err != nil {
		return err
	}
	text, err := change(now)
	if err != nil {
		return err
	}
	f, err := d.draft(id, id+draftEnding)
	if err == errDraftGone {
		return errReplaced
	}
	if err != nil {
		return err
	}
	if err := d.put(f, name, text); err != nil {
		f.discard()
		return err
	}
	return errors.Join(d.sync(), f.Close())
}

// Take begins a journal with the whole text of one that was made elsewhere, under its
// own id. The error is an [fs.ErrExist] where there is one of this id.
func (d *Folder) Take(id string, text []byte) error {
	f, err := d.create(id, text)
	if err != nil {
		return err
	}
	return f.Close()
}

// removeDrafts takes away what a program has left that was stopped while it
// began a journal. A draft that is locked is being written; whatever else does
// not go stays.
func (d *Folder) removeDrafts() {
	names, _ := d.names()
	for _, name := range names {
		id, ok := strings.CutSuffix(name, draftEnding)
		if !ok || !journal.ValidID(id) {
			continue
		}
		if info, err := d.root.Lstat(name); err != nil || !info.Mode().IsRegular() {
			continue
		}
		file, err := d.root.OpenFile(name, os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if unlock, err := lock(d.root, file, id+d.kind.Ending); err == nil {
			d.root.Remove(name)
			unlock()
		}
		file.Close()
	}
}
