package store

import (
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"faultwright/faulttree/visit"
)

// draftEnding is that of a journal whose first line is being written.
const draftEnding = ".new"

// mostTries is how often a visit is begun anew where a name was taken or another
// program, which starts in that moment, took the draft away. Each draft stands
// unlocked for an instant only, but on a busy machine twenty in a row were hit.
const mostTries = 1000

// Create begins a visit on disk and opens it. An empty id is filled in.
func (s *Store) Create(h visit.Header) (*File, error) {
	for range mostTries {
		header := h
		if header.ID == "" {
			var b [8]byte
			rand.Read(b[:])
			header.ID = visit.NewID(h.Started, binary.LittleEndian.Uint64(b[:]))
		}
		f, err := s.create(header)
		if h.ID == "" && errors.Is(err, fs.ErrExist) || err == errDraftGone {
			continue
		}
		return f, err
	}
	return nil, errors.New("no free name for a new visit was found")
}

// errDraftGone means that another program took a draft for an abandoned one in
// the moment before it was locked.
var errDraftGone = errors.New("the draft of a new visit was taken away")

func (s *Store) create(h visit.Header) (_ *File, err error) {
	line, err := visit.EncodeHeader(h)
	if err != nil {
		return nil, err
	}
	name, draft := h.ID+ending, h.ID+draftEnding
	file, err := s.root.OpenFile(draft, os.O_RDWR|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("a new visit cannot be written: %w", err)
	}
	unlock := func() error { return nil }
	defer func() {
		if err != nil {
			unlock()
			file.Close()
			s.root.Remove(draft)
		}
	}()
	locked, err := lock(s.root, file, name)
	if err == nil {
		unlock, err = locked, s.same(file, draft)
	}
	if errors.Is(err, ErrElsewhere) || errors.Is(err, fs.ErrNotExist) {
		err = errDraftGone
	}
	if err != nil {
		return nil, err
	}
	// Who holds the draft is the only one to begin a visit of this name.
	if _, err = s.root.Lstat(name); err == nil {
		err = fmt.Errorf("visit %s: %w", h.ID, fs.ErrExist)
	} else if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err != nil {
		return nil, err
	}
	f := &File{file: file, root: s.root, name: draft, unlock: unlock, visit: visit.Visit{Header: h}}
	if err = f.Append(line); err != nil {
		return nil, err
	}
	if err = s.root.Rename(draft, name); err != nil {
		return nil, fmt.Errorf("a new visit cannot be written: %w", err)
	}
	f.name = name
	if err = s.sync(); err != nil {
		s.root.Remove(name)
		return nil, err
	}
	return f, nil
}

// removeDrafts takes away what a program has left that was stopped while it
// began a visit. A draft that is locked is being written; whatever else does
// not go stays.
func (s *Store) removeDrafts() {
	names, _ := s.names()
	for _, name := range names {
		id, ok := strings.CutSuffix(name, draftEnding)
		if !ok || visit.CheckID(id) != nil {
			continue
		}
		if info, err := s.root.Lstat(name); err != nil || !info.Mode().IsRegular() {
			continue
		}
		file, err := s.root.OpenFile(name, os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if unlock, err := lock(s.root, file, id+ending); err == nil {
			s.root.Remove(name)
			unlock()
		}
		file.Close()
	}
}
