package view

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/visit"
)

// Compared is what one quantity read over the visits of a vehicle, in time order.
type Compared struct {
	Quantity faulttree.Quantity
	Title    string
	Values   []ComparedValue
	Change   string // what has become of it, in a sentence
	Moved    bool   // by more than the meters can be off, or over the range
}

// ComparedValue is the last reading of a quantity before a repair, or after one.
type ComparedValue struct {
	Visit   string
	At      time.Time
	Text    string // "0.4 V"
	After   bool   // it was taken after a repair in the same visit
	Reading faulttree.Reading

	off   faulttree.Amount // by how much it can be off, by the meter of its visit
	began time.Time        // the visit, or its test after the repair
	clock bool             // another visit began on the same day
}

// ComparedNote says what a comparison is, and what it is not.
const ComparedNote = "Loads and supply differ from day to day. What has changed is a reason to look closer; what has not changed clears nothing."

// Compare puts the readings of a vehicle's visits side by side, of every quantity that was
// read at two of them or more. What has moved by more than the meter's error comes first.
// Visits are in time order.
func Compare(lib *content.Library, visits []visit.Visit) []Compared {
	all := map[string]*Compared{}
	onDay := map[string]int{}
	for _, v := range visits {
		onDay[v.Header.Started.Format(time.DateOnly)]++
	}
	for _, v := range visits {
		for n, round := range v.Rounds() {
			for _, value := range lastOf(lib, v, round) {
				q := value.quantity
				key := q.ID + " " + q.Unit.Symbol()
				if all[key] == nil {
					all[key] = &Compared{Quantity: q, Title: cmp.Or(q.Title, q.ID)}
				}
				value.After, value.began = n > 0, round.Began
				value.clock = onDay[round.Began.Format(time.DateOnly)] > 1
				all[key].Values = append(all[key].Values, value.ComparedValue)
			}
		}
	}
	var out []Compared
	for _, key := range slices.Sorted(maps.Keys(all)) {
		c := all[key]
		if c.visits() < 2 {
			continue
		}
		c.change()
		out = append(out, *c)
	}
	slices.SortStableFunc(out, func(a, b Compared) int {
		switch {
		case a.Moved != b.Moved && a.Moved:
			return -1
		case a.Moved != b.Moved:
			return 1
		}
		return strings.Compare(a.Title, b.Title)
	})
	return out
}

// of is a value and what it is of.
type of struct {
	ComparedValue
	quantity faulttree.Quantity
}

// lastOf is the last reading of each quantity in a round, in the order of their ids. What
// could not be measured, and the proofs of the reader's own gear, are left out.
func lastOf(lib *content.Library, v visit.Visit, round visit.Round) []of {
	last := map[string]of{}
	take := func(t visit.Taken, at time.Time) {
		q, known := lib.Forest.Quantities[t.Quantity]
		switch {
		case t.Quantity == "" || t.Quality == faulttree.NotPossible || q.Proves != 0:
			return
		case t.Unit == 0 && known:
			t.Unit = q.Unit
		case !known || q.Unit != t.Unit: // as another handbook called it
			q = faulttree.Quantity{ID: t.Quantity, Unit: t.Unit}
		}
		last[q.ID] = of{ComparedValue{
			Visit: v.Header.ID, At: at, Text: t.Reading.Show(q.Unit), Reading: t.Reading, off: v.Header.Meter.Uncertainty(t.Reading, q),
		}, q}
	}
	for _, t := range round.Unasked {
		take(t, round.Began)
	}
	for _, item := range round.Items {
		for _, t := range item.Reply.Readings {
			take(t, item.At)
		}
	}
	return lists.Each(slices.Sorted(maps.Keys(last)), func(id string) of { return last[id] })
}

// visits is how many visits the values are of.
func (c *Compared) visits() int {
	seen := map[string]bool{}
	for _, v := range c.Values {
		seen[v.Visit] = true
	}
	return len(seen)
}

// middle is a reading as one amount, without its sign where that tells nothing.
func (c *Compared) middle(v ComparedValue) faulttree.Amount {
	m := v.Reading.Low/2 + v.Reading.High/2
	if c.Quantity.SizeOnly {
		return m.Abs()
	}
	return m
}

// room is how far to either side of its middle a value can lie.
func (c *Compared) room(v ComparedValue) faulttree.Amount {
	return v.off + (v.Reading.High-v.Reading.Low).Abs()/2
}

// change says what has become of the quantity from the first of its values to the last.
func (c *Compared) change() {
	first, last := c.Values[0], c.Values[len(c.Values)-1]
	over := func(v ComparedValue) bool { return v.Reading.Quality == faulttree.OverRange }
	a, b := c.middle(first), c.middle(last)
	switch apart := (b - a).Abs() > c.room(first)+c.room(last); {
	case over(first) && over(last):
		c.Change = "Over the meter's range at the first and at the last of them."
	case over(last):
		c.Change, c.Moved = "The last is over the meter's range; the first was not.", true
	case over(first):
		c.Change, c.Moved = "The first was over the meter's range; the last is not.", true
	case !apart:
		c.Change = "The first and the last differ by no more than the meters can be off."
	case b > a:
		c.Change, c.Moved = "The last is higher than the first by more than the meters can be off.", true
		if c.climbs() {
			c.Change = "It rose every time, and by more than the meters can be off."
		}
	default:
		c.Change, c.Moved = "The last is lower than the first by more than the meters can be off.", true
	}
}

// climbs reports whether each of three values or more is higher than the one before it.
func (c *Compared) climbs() bool {
	for i, v := range c.Values[1:] {
		if v.Reading.Quality == faulttree.OverRange || c.Values[i].Reading.Quality == faulttree.OverRange || c.middle(v) <= c.middle(c.Values[i]) {
			return false
		}
	}
	return len(c.Values) > 2
}

// Line is the quantity and what it read, in one line: "Pedestal: neutral to ground 0.4,
// 0.5, 1.9 V".
func (c Compared) Line() string {
	var texts []string
	for i, v := range c.Values {
		text := v.Text
		if next := i + 1; next < len(c.Values) && unitOf(text) != "" && unitOf(text) == unitOf(c.Values[next].Text) {
			text = strings.TrimSuffix(text, " "+unitOf(text))
		}
		texts = append(texts, text)
	}
	return c.Title + " " + strings.Join(texts, ", ")
}

// unitOf is the unit that stands behind a figure; "" for none.
func unitOf(text string) string {
	_, unit, _ := strings.Cut(text, " ")
	if strings.Contains(unit, " ") {
		return ""
	}
	return unit
}

// Course is the values as a figure draws them.
func (c Compared) Course() figure.Course {
	out := figure.Course{Title: c.Title, Unit: c.Quantity.Unit.Symbol(), Signed: c.Quantity.Unit.Signed() && !c.Quantity.SizeOnly}
	for _, v := range c.Values {
		p := figure.CoursePoint{Label: v.Day(), Text: v.Text, Over: v.Reading.Quality == faulttree.OverRange}
		if v.Reading.Low != v.Reading.High {
			p.Text = strings.Replace(v.Text, " "+c.Quantity.Unit.Symbol()+" to ", "–", 1)
		}
		if !p.Over {
			p.Value, p.Off = c.middle(v).Float(), c.room(v).Float()
		}
		out.Points = append(out.Points, p)
	}
	return out
}

// Day is when the visit of a value began, in a few letters: "3 May 26", or "3 May 09:40" where
// several did on one day, with a mark behind it for the test after a repair.
func (v ComparedValue) Day() string {
	day := v.began.Format("2 Jan 06")
	if v.clock {
		day = v.began.Format("2 Jan 15:04")
	}
	if v.After {
		day += " *"
	}
	return day
}

// ComparedRepair says what the mark of [ComparedValue.Day] means; "" where none has it.
func ComparedRepair(all []Compared) string {
	for _, c := range all {
		if slices.ContainsFunc(c.Values, func(v ComparedValue) bool { return v.After }) {
			return "* after a repair at that visit."
		}
	}
	return ""
}

// mostColumns is how many visits, and rounds of them, a table of comparison shows.
const mostColumns = 6

// ComparedTable is the readings as a table: a row for each quantity, a column for each
// visit and each round of it, the newest six.
func ComparedTable(all []Compared) document.Table {
	type column struct {
		visit string
		after bool
		at    time.Time
		day   string
	}
	var columns []column
	for _, c := range all {
		for _, v := range c.Values {
			if !slices.ContainsFunc(columns, func(k column) bool { return k.visit == v.Visit && k.after == v.After }) {
				columns = append(columns, column{v.Visit, v.After, v.At, v.Day()})
			}
		}
	}
	slices.SortStableFunc(columns, func(a, b column) int { return a.at.Compare(b.at) })
	columns = columns[max(0, len(columns)-mostColumns):]
	cell := func(text string) []document.Inline { return []document.Inline{document.Text{Value: text}} }
	t := document.Table{Header: [][]document.Inline{cell("Reading")}, Align: make([]document.Align, 1+len(columns))}
	for _, k := range columns {
		t.Header = append(t.Header, cell(k.day))
	}
	for _, c := range all {
		row := [][]document.Inline{cell(c.Title)}
		for _, k := range columns {
			text := "" // the last of several tests after repair
			for _, v := range c.Values {
				if v.Visit == k.visit && v.After == k.after {
					text = v.Text
				}
			}
			row = append(row, cell(cmp.Or(text, "–")))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
