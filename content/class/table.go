package class

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"faultwright/content/view"
)

// Table is learners by scenarios, to be shown to a class.
type Table struct {
	Columns []string // titles of the scenarios
	Rows    []Row
}

// mostWorded is how many scenarios have their titles and words in a table. More of them
// are numbered, with the shapes alone in its cells, so that it stays one.
const mostWorded = 5

// Worded reports whether a table has room for titles and words.
func (t Table) Worded() bool { return len(t.Columns) <= mostWorded }

// Heads is what stands above its columns: their titles, or else their numbers.
func (t Table) Heads() []string {
	if t.Worded() {
		return t.Columns
	}
	var out []string
	for i := range t.Columns {
		out = append(out, strconv.Itoa(i+1))
	}
	return out
}

// Row is one learner.
type Row struct {
	Name  string
	Cells []Cell
	Late  bool
}

// Cell is how one learner did at one scenario, in a word behind a shape, so that
// it can be read without colour.
type Cell struct {
	Shape, Word string
	Total       string // "74", "" where nothing is marked
	Unsafe      string // "▲ 2 unsafe acts", "" for none
	Doubt       string // "= alike", "" for none
}

// Short is a cell without words, for a table of many scenarios: "● 74 ▲ ="; what has
// neither shape nor total keeps its word.
func (c Cell) Short() string {
	out := []string{cmp.Or(strings.TrimSpace(c.Shape+" "+c.Total), c.Word)}
	if c.Unsafe != "" {
		out = append(out, unsafeShape)
	}
	if c.Doubt != "" {
		out = append(out, copiedShape)
	}
	return strings.Join(out, " ")
}

// Shapes of a cell.
const (
	missingShape  = "–"
	unmarkedShape = "?"
	openShape     = "…"
	editedShape   = "≠"
	unsafeShape   = "▲"
	copiedShape   = "="
)

// shapes are how much of a hundred was reached, in quarters.
var shapes = []string{"○", "◔", "◑", "◕", "●"}

// Legend says what the shapes mean.
func Legend() []string {
	return []string{
		"○ ◔ ◑ ◕ ●  the marks, to the nearest quarter", unsafeShape + "  an unsafe act, which caps the marks", editedShape + "  edited: a line does not follow, nothing is marked",
		copiedShape + "  alike: like somebody else's", openShape + "  without a conclusion", missingShape + "  not handed in", unmarkedShape + "  not marked",
	}
}

// Table is the table of the class, by name. With names hidden the learners have
// numbers, in an order that tells nothing of their names; see [Class.Called].
func (c *Class) Table(hidden bool) Table {
	var t Table
	for _, s := range c.Scenarios {
		t.Columns = append(t.Columns, s.Title)
	}
	for _, l := range c.Ordered(hidden) {
		row := Row{Name: c.Called(l, hidden), Late: l.Late}
		for _, x := range l.Tries {
			row.Cells = append(row.Cells, cellOf(x))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Ordered is the learners by name; with names hidden by what nobody can tell a name
// from.
func (c *Class) Ordered(hidden bool) []*Learner {
	if !hidden {
		return c.Learners
	}
	key := func(l *Learner) string {
		sum := sha256.Sum256([]byte(c.Assignment.ID + "\x00order\x00" + nameKey(l.Name)))
		return string(sum[:])
	}
	out := slices.Clone(c.Learners)
	slices.SortStableFunc(out, func(a, b *Learner) int { return cmp.Compare(key(a), key(b)) })
	return out
}

// Called is what a learner is called on a page: the name, or "Learner 3".
func (c *Class) Called(l *Learner, hidden bool) string {
	if !hidden {
		return l.Name
	}
	return fmt.Sprintf("Learner %d", slices.Index(c.Ordered(true), l)+1)
}

// State is a word for what came of an attempt, marked or not.
func (x *Checked) State() (shape, word string) {
	switch {
	case x == nil:
		return missingShape, "not handed in"
	case x.Edited != "" && x.Elsewhere:
		return editedShape, "does not follow"
	case x.Edited != "":
		return editedShape, "edited"
	case !x.Attempt.Ended():
		return openShape, "no conclusion"
	case x.Unmarked != "":
		return unmarkedShape, "not marked"
	case x.Marks == nil:
		return "", "handed in"
	}
	return shapes[min(len(shapes)-1, (x.Marks.Total*4+50)/100)], x.Marks.Word
}

// Total is the points, "" where nothing is marked or concluded.
func (x *Checked) Total() string {
	if x.Marks == nil || !x.Attempt.Ended() {
		return ""
	}
	return fmt.Sprint(x.Marks.Total)
}

// cellOf is the cell of an attempt; nil where none was handed in.
func cellOf(x *Checked) Cell {
	var out Cell
	out.Shape, out.Word = x.State()
	if x == nil {
		return out
	}
	if len(x.Copied) > 0 {
		out.Doubt = copiedShape + " alike"
	}
	if x.Marks == nil {
		return out
	}
	out.Total = x.Total()
	if n := len(x.Marks.Caps); n > 0 {
		out.Unsafe = fmt.Sprintf("%s %s", unsafeShape, view.Count(n, "unsafe act"))
	}
	return out
}
