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

func (d *Folder) create(id string, line []byte) (_ *File, err error) {
	if !journal.ValidID(id) {
		return nil, d.badID(id)
	}
	name, draft := id+d.kind.Ending, id+draftEnding
	file, err := d.root.OpenFile(draft, os.O_RDWR|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("a new %s cannot be written: %w", d.kind.One, err)
	}
	unlock := func() error { return nil }
	defer func() {
		if err != nil {
			unlock()
			file.Close()
			d.root.Remove(draft)
		}
	}()
	locked, err := lock(d.root, file, name)
	if err == nil {
		unlock, err = locked, d.same(file, draft)
	}
	if errors.Is(err, ErrElsewhere) || errors.Is(err, fs.ErrNotExist) {
		err = errDraftGone
	}
	if err != nil {
		return nil, err
	}
	// Who holds the draft is the only one to begin a journal of this name.
	if _, err = d.root.Lstat(name); err == nil {
		err = fmt.Errorf("%s %s: %w", d.kind.One, id, fs.ErrExist)
	} else if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err != nil {
		return nil, err
	}
	f := &File{file: file, folder: d, name: draft, unlock: unlock}
	if err = f.Append(line); err != nil {
		return nil, err
	}
	if err = d.root.Rename(draft, name); err != nil {
		return nil, fmt.Errorf("a new %s cannot be written: %w", d.kind.One, err)
	}
	f.name = name
	if err = d.sync(); err != nil {
		d.root.Remove(name)
		return nil, err
	}
	return f, nil
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
