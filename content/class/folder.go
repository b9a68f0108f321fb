package class

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

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
	Mark       Marker                // nil: nothing is marked
	Tell       func(done, total int) // called after every file; may be nil
}

// Bounds on a folder.
const (
	mostFiles     = 2_000
	mostClassActs = 300_000 // of all attempts together
)

// ErrNoAssignment means that no assignment was named and none lies in the folder.
var ErrNoAssignment = errors.New("there is no assignment in the folder; put the file that was handed out beside the attempts, or name it")

// Collect verifies the attempts of a folder, and of the folders in it. A file that is
// none is told, and the others load. The error is for what makes the whole
// impossible, and ctx ends it between two attempts.
func Collect(ctx context.Context, lib *content.Library, folder fs.FS, o Options) (*Class, error) {
	files, err := list(folder)
	if err != nil {
		return nil, err
	}
	c := &Class{Assignment: o.Assignment}
	var found []*AttemptFile
	var from []string
	assigned := map[string]string{} // the text of each assignment that was found, by id
	for i, name := range files {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		a, f, err := openOne(folder, name)
		switch {
		case err != nil:
			c.Told = append(c.Told, Told{name, err.Error()})
		case f != nil:
			found, from = append(found, f), append(from, name)
		default:
			if err := c.offer(a, o.Assignment != nil, assigned); err != nil {
				return nil, err
			}
		}
		if o.Tell != nil {
			o.Tell(i+1, 2*len(files))
		}
	}
	if c.Assignment == nil {
		return nil, ErrNoAssignment
	}
	if c.Scenarios, err = c.Assignment.Scenarios(ctx, lib); err != nil {
		return nil, err
	}
	if c.Assignment.Handbook != lib.Fingerprint() {
		c.Handbook = "The assignment was made with another handbook than this one. Where they differ, a reading may not follow although nobody changed it."
	}
	v := &verifier{lib: lib, class: c, mark: o.Mark}
	for i, f := range found {
		if err := v.take(ctx, from[i], f); err != nil {
			return nil, err
		}
		if o.Tell != nil {
			o.Tell(2*len(files)-len(found)+i+1, 2*len(files))
		}
	}
	slices.SortFunc(c.Told, func(a, b Told) int { return strings.Compare(a.File, b.File) })
	slices.SortStableFunc(c.Learners, func(a, b *Learner) int { return strings.Compare(nameKey(a.Name), nameKey(b.Name)) })
	c.pointOutCopies()
	return c, nil
}

// offer takes an assignment that lies in the folder. Where none was named, only one
// may be there.
func (c *Class) offer(a *Assignment, named bool, assigned map[string]string) error {
	text := fmt.Sprint(*a)
	before, again := assigned[a.ID]
	assigned[a.ID] = text
	switch {
	case named:
		return nil
	case again && before != text:
		return fmt.Errorf("two files in the folder say that they are the assignment %q, and differ; name the one that was handed out", a.Title)
	case len(assigned) > 1:
		return errors.New("there are several assignments in the folder; name the one to mark")
	}
	c.Assignment = a
	return nil
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
