package files

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"faultwright/faulttree/journal"
)

// disk is what a journal is written to: an [os.File], or in tests one that
// fails.
type disk interface {
	io.Writer
	io.ReaderAt
	io.Closer
	Sync() error
	Truncate(size int64) error
	Stat() (os.FileInfo, error)
}

// File is one journal open for writing: a [journal.Log].
type File struct {
	file   disk
	folder *Folder
	name   string // of the file in the folder
	unlock func() error
	size   int64
	failed error // after this nothing more is written
}

// Close lets go of the journal, so that another window may open it.
func (f *File) Close() error {
	if f.file == nil {
		return nil
	}
	err := errors.Join(f.unlock(), f.file.Close())
	f.file = nil
	return err
}

// Append writes one line and returns once it is on disk. After an error the
// line is not part of the record. If it cannot even be taken away again the
// journal must be opened anew.
func (f *File) Append(line []byte) error {
	switch {
	case f.file == nil:
		return fmt.Errorf("the %s is closed; open it again to go on", f.folder.kind.One)
	case f.failed != nil:
		return f.failed
	}
	if err := oneLine(line); err != nil {
		return err
	}
	return f.write(line)
}

// oneLine reports a record that is not one line.
func oneLine(record []byte) error {
	if len(record) < 2 || len(record) > journal.MaxLine || bytes.IndexByte(record, '\n') != len(record)-1 {
		return errors.New("a record must be one line")
	}
	return nil
}

// write appends a text as Append does a line.
func (f *File) write(text []byte) error {
	if f.size+int64(len(text)) > f.folder.kind.Most {
		return fmt.Errorf("this %s is full: its record has reached %s; begin a new one", f.folder.kind.One, f.folder.kind.most())
	}
	if err := f.undisturbed(); err != nil {
		return err
	}
	if _, err := f.file.Write(text); err != nil {
		return f.undo(err)
	}
	if err := f.file.Sync(); err != nil {
		return f.undo(err)
	}
	f.size += int64(len(text))
	return nil
}

// undisturbed reports whether the journal still is where it was and as it was
// left: it could be moved, deleted or written to by something that asks for no
// lock.
func (f *File) undisturbed() error {
	one := f.folder.kind.One
	mine, err := f.file.Stat()
	if err != nil {
		return fmt.Errorf("the record of this %s cannot be looked at, so this is not on record: %w", one, err)
	}
	there, err := f.folder.root.Lstat(f.name)
	switch {
	case err != nil || !os.SameFile(mine, there):
		return fmt.Errorf("the record of this %s %w; put the file %s back, or begin a new %s", one, ErrGone, f.name, one)
	case mine.Size() != f.size:
		return fmt.Errorf("another program has changed the record of this %s, the file %s, so this is not on record; open the %s again to go on", one, f.name, one)
	}
	return nil
}

// undo takes back what a failed write may have left, so that the next record
// is not glued to half a line.
func (f *File) undo(cause error) error {
	cause = fmt.Errorf("this could not be put on disk, so it is not on record: %w", cause)
	if err := errors.Join(f.file.Truncate(f.size), f.file.Sync()); err != nil {
		f.failed = fmt.Errorf("%w; open the %s again to go on", cause, f.folder.kind.One)
		return f.failed
	}
	return cause
}

// prepare makes the file ready for the next line: what an interrupted write has
// left after the kept bytes is cut off, and the last line is ended. Damaged
// bytes are kept bytes.
func (f *File) prepare(keep int64) error {
	info, err := f.file.Stat()
	if err != nil {
		return err
	}
	f.size = keep
	if info.Size() > keep {
		if err := errors.Join(f.file.Truncate(keep), f.file.Sync()); err != nil {
			return fmt.Errorf("the unfinished last line cannot be cut off: %w", err)
		}
	}
	last := make([]byte, 1)
	if _, err := f.file.ReadAt(last, keep-1); err != nil {
		return err
	}
	if last[0] == '\n' {
		return nil
	}
	if _, err := f.file.Write([]byte("\n")); err != nil {
		return err
	}
	f.size++
	return f.file.Sync()
}
