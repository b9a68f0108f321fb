package class

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/archive"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/source"
)

// Assignment is what an instructor hands out.
type Assignment struct {
	ID         string         `json:"id"` // drawn when it was made
	Title      string         `json:"title"`
	Note       string         `json:"note,omitzero"` // to the learners
	Made       time.Time      `json:"made"`
	Due        Day            `json:"due,omitzero"`
	Level      practice.Level `json:"level"`
	Role       faulttree.Role `json:"role"`
	Supervised bool           `json:"supervised,omitzero"` // the learners are trainees; see [practice.RoleName]
	Open       Open           `json:"open"`
	Held       bool           `json:"look_back_held"` // the look back is shown when the instructor releases it, not at once
	Handbook   string         `json:"handbook"`       // fingerprint of the one it was made with
	Tasks      []Task         `json:"tasks"`
}

// Open is what a learner may look at while at it.
type Open struct {
	Tree     bool `json:"tree"`
	Handbook bool `json:"handbook"`
	Hints    bool `json:"hints"`
}

// Task is a scenario of an assignment.
type Task struct {
	Scenario string `json:"scenario"`
	File     string `json:"file"`          // the entry of the archive with the scenario's text
	Own      bool   `json:"own,omitzero"`  // every learner gets a variant of his own; see [Assignment.Seed]
	Seed     uint64 `json:"seed,omitzero"` // else the variant for all; 0: as it was written

	// Text is the scenario as a file.
	Text string `json:"-"`
}

// Day is a date without a time, "2026-12-04"; "" is none.
type Day string

// Check reports a text that is no date.
func (d Day) Check() error {
	if d == "" {
		return nil
	}
	if _, err := time.Parse(time.DateOnly, string(d)); err != nil {
		return fmt.Errorf("%q is no date; expected one such as 2026-12-04", string(d))
	}
	return nil
}

// Over reports whether a day is over at a time, by the calendar of that time.
func (d Day) Over(t time.Time) bool { return d != "" && t.Format(time.DateOnly) > string(d) }

// Bounds on an assignment.
const (
	MostTasks = 50
	mostTitle = 200   // bytes
	mostNote  = 4_000 // bytes
	mostName  = 200   // bytes
)

const assignmentEntry = "assignment.json"

// NewAssignment puts scenarios of a handbook into an assignment that has all but
// its tasks. Own says that every learner gets a variant of his own; else all get that
// of seed, 0 for the scenario as it was written.
func NewAssignment(lib *content.Library, a Assignment, scenarios []*content.Scenario, own bool, seed uint64) (*Assignment, error) {
	a.ID = strings.ToLower(rand.Text()[:10])
	a.Made = a.Made.UTC().Truncate(time.Second)
	a.Handbook = lib.Fingerprint()
	a.Tasks = nil
	for _, s := range scenarios {
		a.Tasks = append(a.Tasks, Task{Scenario: s.ID, File: "scenarios/" + s.ID + ".md", Own: own, Seed: seed, Text: load.ScenarioText(lib, s)})
	}
	return &a, a.check()
}

// Called is what is said of an assignment that is made now, by the instructor's clock. A
// day that is over is told, since everybody would be late.
func (a *Assignment) Called(now time.Time) string {
	if a.Due.Over(now) {
		return "The assignment, due on a day that is over,"
	}
	return "The assignment"
}

// Repeats reports whether an assignment hands out the same as another, but for when it
// was made.
func (a *Assignment) Repeats(b *Assignment) bool {
	x, y := *a, *b
	x.ID, x.Made = y.ID, y.Made
	return reflect.DeepEqual(x, y)
}

// check reports what is wrong with an assignment as it stands.
func (a *Assignment) check() error {
	switch {
	case !isID(a.ID):
		return fmt.Errorf("the assignment has no id; expected letters and digits, not %q", a.ID)
	case strings.TrimSpace(a.Title) == "":
		return fmt.Errorf("the assignment has no title")
	case len(a.Title) > mostTitle || len(a.Note) > mostNote:
		return fmt.Errorf("the title has %d bytes and the note %d; at most %d and %d are taken", len(a.Title), len(a.Note), mostTitle, mostNote)
	case len(a.Tasks) == 0 || len(a.Tasks) > MostTasks:
		return fmt.Errorf("the assignment has %d scenarios; expected 1 to %d", len(a.Tasks), MostTasks)
	}
	if a.Supervised && a.Role != faulttree.Qualified {
		return fmt.Errorf("the assignment is for role %q and supervised; expected %q, which supervised makes a trainee's", a.Role, faulttree.Qualified)
	}
	for i, t := range a.Tasks {
		switch {
		case !isID(t.Scenario):
			return fmt.Errorf("scenario %d of the assignment has no id that could be one: %q", i+1, t.Scenario)
		case slices.ContainsFunc(a.Tasks[:i], func(o Task) bool { return o.Scenario == t.Scenario }):
			return fmt.Errorf("the scenario %s stands twice in the assignment", t.Scenario)
		}
	}
	return a.Due.Check()
}

// isID reports whether a text can be an id: letters, digits and hyphens.
func isID(text string) bool {
	return text != "" && len(text) <= 100 && !strings.ContainsFunc(text, func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-'
	})
}

// Bytes is the assignment as a file.
func (a *Assignment) Bytes() ([]byte, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	text, err := archive.Encode(struct {
		archive.Head
		*Assignment
	}{archive.Ours(assignmentFormat), a})
	if err != nil {
		return nil, err
	}
	entries := []archive.Entry{{Name: assignmentEntry, Text: text}}
	for _, t := range a.Tasks {
		entries = append(entries, archive.Entry{Name: t.File, Text: []byte(t.Text)})
	}
	return archive.Pack(entries, a.Made)
}

// ReadAssignment reads what [Assignment.Bytes] writes. Its scenarios are read by
// [Assignment.Scenarios].
func ReadAssignment(r io.Reader) (*Assignment, error) {
	files, err := read(r)
	if err != nil {
		return nil, err
	}
	return assignmentOf(files)
}

func assignmentOf(files map[string][]byte) (*Assignment, error) {
	text, ok := files[assignmentEntry]
	if _, handedIn := files[attemptEntry]; handedIn && !ok {
		return nil, errors.New("this is a file to hand in, and no assignment; open the one that was handed out")
	}
	if !ok {
		return nil, fmt.Errorf("this is no assignment: the ZIP file has no entry %s", assignmentEntry)
	}
	a := &Assignment{}
	if err := archive.Decode(text, assignmentFormat, "assignment", a); err != nil {
		return nil, err
	}
	if err := a.check(); err != nil {
		return nil, err
	}
	for i, t := range a.Tasks {
		text, ok := files[t.File]
		if !ok {
			return nil, fmt.Errorf("the assignment carries no scenario %s: the ZIP file has no entry %q", t.Scenario, t.File)
		}
		a.Tasks[i].Text = string(text)
	}
	a.Title, a.Note = plain(a.Title), plainLines(a.Note)
	return a, nil
}

// handedOut is before the name of a file of an assignment, which else would be that of
// a file of the handbook.
const handedOut = "handed-out/"

// Scenarios reads the scenarios of the assignment for the rigs and faults of a
// handbook, in the order of the tasks. One that the handbook has word for word stands
// where it stands there, so that its best order is known. The error names the
// first that this handbook cannot read, with file, line and column.
func (a *Assignment) Scenarios(ctx context.Context, lib *content.Library) ([]*content.Scenario, error) {
	var out []*content.Scenario
	for _, t := range a.Tasks {
		if own := lib.Scenarios[t.Scenario]; own != nil && t.Text == load.ScenarioText(lib, own) {
			s := *own
			out = append(out, &s)
			continue
		}
		s, diags := load.Scenario(ctx, lib, handedOut+t.File, bytes.NewReader([]byte(t.Text)), nil)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case s == nil && len(diags) > 0:
			return nil, fmt.Errorf("the scenario %s cannot be read with this handbook: %s", t.Scenario, diags[0])
		case s == nil || s.ID != t.Scenario:
			return nil, fmt.Errorf("the file of the scenario %s holds another one", t.Scenario)
		}
		out = append(out, s)
	}
	return out, nil
}

// Task is the task of a scenario; ok is false where there is none.
func (a *Assignment) Task(scenario string) (i int, ok bool) {
	i = slices.IndexFunc(a.Tasks, func(t Task) bool { return t.Scenario == scenario })
	return i, i >= 0
}

// Seed is the variant of a task that a learner of this name gets, or the first of
// those; see [Assignment.Seeds]. It follows from assignment, scenario and name, so
// that an attempt under another name, or at another variant, shows. It is 0 only where
// all get the scenario as it was written.
func (a *Assignment) Seed(task int, learner string) uint64 {
	t := a.Tasks[task]
	if !t.Own {
		return t.Seed
	}
	sum := sha256.Sum256([]byte(a.ID + "\x00" + t.Scenario + "\x00" + nameKey(learner)))
	return binary.BigEndian.Uint64(sum[:8]) | 1
}

// nameKey is what two ways of typing the same name have in common.
func nameKey(name string) string { return strings.ToLower(plain(name)) }

// plain is text from outside as one line that hides nothing.
func plain(text string) string { return strings.Join(strings.Fields(plainLines(text)), " ") }

// plainLines is text from outside without what hides: control characters other than
// line ends, and marks that turn the direction of writing.
func plainLines(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.IsControl(r):
			return ' '
		case source.Hidden(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
