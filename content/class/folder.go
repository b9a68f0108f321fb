package class

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"faultwright/content"
)

// Class is what a folder holds of one assignment, verified.
type Class struct {
	Assignment *Assignment
	Scenarios  []*content.Scenario // in the order of the tasks
	Learners   []*Learner          // by name
	Told       []Told              // files that are no attempt at it, in the order of their names
	// Handbook says that the assignment was made with another handbook than the one
	// that verifies, "" where it was not.
	Handbook string
}

// Told is a file and why it does not count, a sentence without its full stop.
type Told struct{ File, Why string }

// Options is how the attempts of a folder are collected.
type Options struct {
	Assignment *Assignment           // nil: the one that lies in the folder
	Zone       *time.Location        // of the instructor, by whose calendar a file is late; nil is UTC
	Tell       func(done, total int) // called after every file; may be nil
}

// Bounds on a folder.
const (
	mostFiles      = 2_000
	mostClassActs  = 300_000  // of all attempts together
	mostClassBytes = 64 << 20 // of their text
)

// ErrNoAssignment means that no assignment was named and none lies in the folder.
var ErrNoAssignment = errors.New("there is no assignment in the folder; put the file that was handed out beside the attempts, or name it")

// Collect verifies the attempts of a folder, and of the folders in it. A file that is
// none is told, and the others load. Nothing is marked yet; see [Class.Mark]. The
// error is for what makes the whole impossible, and ctx ends it between two files.
func Collect(ctx context.Context, lib *content.Library, folder fs.FS, o Options) (*Class, error) {
	files, err := list(folder)
	if err != nil {
		return nil, err
	}
	tell := func(done int) {
		if o.Tell != nil {
			o.Tell(done, 2*len(files))
		}
	}
	var told []Told
	var found []*AttemptFile
	var from []string
	acts, size := 0, 0
	o.Assignment, err = eachFile(ctx, folder, files, o.Assignment, func(i int, name string, f *AttemptFile, err error) {
		switch {
		case err != nil:
			told = append(told, Told{name, err.Error()})
		case f != nil && (acts+f.acts() > mostClassActs || size+f.size > mostClassBytes):
			told = append(told, Told{name, fmt.Sprintf("the attempts before it and this one have more than %d acts or %d MiB; it is not verified", mostClassActs, mostClassBytes>>20)})
		case f != nil:
			acts, size = acts+f.acts(), size+f.size
			found, from = append(found, f), append(from, name)
		}
		tell(i + 1)
	})
	if err != nil {
		return nil, err
	}
	v, err := newVerifier(ctx, lib, o.Assignment, o.Zone)
	if err != nil {
		return nil, err
	}
	c := v.class
	c.Told = told
	of, one := make([]verified, len(found)), make(chan bool, len(found))
	onCores(len(found), func(i int) {
		if ctx.Err() == nil {
			of[i] = v.verify(from[i], found[i])
		}
		one <- true
	})
	for i := range found {
		<-one
		tell(2*len(files) - len(found) + i + 1)
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	for _, x := range of {
		v.take(x)
	}
	slices.SortFunc(c.Told, func(a, b Told) int { return strings.Compare(a.File, b.File) })
	slices.SortStableFunc(c.Learners, func(a, b *Learner) int { return strings.Compare(nameKey(a.Name), nameKey(b.Name)) })
	c.pointOutCopies()
	return c, nil
}

// Verify verifies one file, as a class of one learner.
func Verify(ctx context.Context, lib *content.Library, a *Assignment, name string, f *AttemptFile) (*Class, error) {
	v, err := newVerifier(ctx, lib, a, nil)
	if err != nil {
		return nil, err
	}
	v.take(v.verify(name, f))
	if len(v.class.Learners) == 0 {
		return nil, errors.New(v.class.Told[0].Why)
	}
	return v.class, nil
}

// FindAssignment is the assignment that lies in a folder.
func FindAssignment(ctx context.Context, folder fs.FS) (*Assignment, error) {
	files, err := list(folder)
	if err != nil {
		return nil, err
	}
	return eachFile(ctx, folder, files, nil, func(int, string, *AttemptFile, error) {})
}

// eachFile reads the files of a folder: do is called with the attempts of each, or
// why there are none. It returns the assignment that was named, else the one in the
// folder, of which there may be only one.
func eachFile(ctx context.Context, folder fs.FS, files []string, named *Assignment, do func(i int, name string, f *AttemptFile, err error)) (*Assignment, error) {
	var only *Assignment
	first := ""
	for i, name := range files {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		a, f, err := openOne(folder, name)
		switch {
		case a == nil || err != nil || named != nil:
		case only == nil:
			only, first = a, name
		case only.ID != a.ID:
			return nil, fmt.Errorf("there are two assignments in the folder, %s and %s; leave only the one that was handed out", plain(first), plain(name))
		case fmt.Sprint(*only) != fmt.Sprint(*a):
			return nil, fmt.Errorf("two files in the folder, %s and %s, say that they are the assignment %q, and differ; leave only the one that was handed out", plain(first), plain(name), a.Title)
		}
		do(i, name, f, err)
	}
	if named = cmp.Or(named, only); named == nil {
		return nil, ErrNoAssignment
	}
	return named, nil
}

// list is the names of the plain files of a folder, sorted.
func list(folder fs.FS) ([]string, error) {
	var out []string
	err := fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil && name == ".":
			return fmt.Errorf("the folder cannot be read: %w", err)
		case err != nil || !d.IsDir():
			out = append(out, name)
		}
		if len(out) > mostFiles {
			return fmt.Errorf("the folder has more than %d files; expected the attempts of one class", mostFiles)
		}
		return nil
	})
	slices.Sort(out)
	return out, err
}

// openOne reads a file that is an assignment or an attempt.
func openOne(folder fs.FS, name string) (*Assignment, *AttemptFile, error) {
	file, err := folder.Open(name)
	if err != nil {
		var failed *fs.PathError
		if errors.As(err, &failed) {
			err = failed.Err
		}
		return nil, nil, fmt.Errorf("it cannot be opened: %w", err)
	}
	defer file.Close()
	files, err := read(file)
	if err != nil {
		return nil, nil, err
	}
	if _, ok := files[assignmentEntry]; ok {
		a, err := assignmentOf(files)
		return a, nil, err
	}
	if _, ok := files[attemptEntry]; !ok {
		return nil, nil, errors.New("this is no assignment and no attempt: the ZIP file holds something else")
	}
	f, err := attemptsOf(files)
	return nil, f, err
}
