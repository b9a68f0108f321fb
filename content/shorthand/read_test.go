package shorthand

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode"

	"faultwright/content/contact"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

// FuzzRead holds that whatever is pasted, nothing is lost, nothing is made up,
// and every row has its place in the text.
func FuzzRead(f *testing.F) {
	for _, c := range writtenLists(&testing.T{}) {
		f.Add(strings.Join(c.text, "\n"))
	}
	f.Add("L1-N\t\x00\n|||\n::::?? 1\u200b2 \xff L1 \u2212.5")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := reader().Read(text)
		if len(text) > mostBytes {
			if !errors.Is(err, ErrTooLong) {
				t.Fatalf("a text of %d bytes: %v", len(text), err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		checkList(t, list, text)
		for round := 0; list.Open() && round < 4; round++ {
			for i, b := range list.Blocks {
				var a Answer
				if len(b.Places) > 0 {
					a.Place = b.Places[0].ID
				}
				if len(b.States) > 0 {
					a.State = State(b.States[0].ID)
				}
				if len(b.Units) > 0 {
					a.Unit = b.Units[0].ID
				}
				list = reader().Resolve(list, i, a)
			}
		}
		if list.Open() {
			t.Errorf("%q: something is still asked when all was answered: %s", text, asked(list))
		}
		checkList(t, list, text)
	})
}

// checkList fails where a letter or a digit of the text stands nowhere in the
// list, or a row says what was not typed.
func checkList(t *testing.T, list *List, text string) {
	if len(list.Rows) > mostRows+1 {
		t.Fatalf("%d rows", len(list.Rows))
	}
	left := map[rune]int{}
	tally := func(s string, n int) {
		for _, c := range s {
			if unicode.IsLetter(c) || unicode.IsDigit(c) {
				left[c] += n
			}
		}
	}
	tally(text, 1)
	line, column := 0, 0
	for _, r := range list.Rows {
		tally(r.Text, -1)
		if r.Line < line || r.Line == line && r.Column < column {
			t.Errorf("%q: %d:%d stands behind %d:%d", text, r.Line, r.Column, line, column)
		}
		line, column = r.Line, r.Column
		if r.Block < 0 || r.Block >= len(list.Blocks) {
			t.Fatalf("%q: row %q is of block %d", text, r.Text, r.Block)
		}
		if r.Kind == Refused && r.Why == "" {
			t.Errorf("%q: %q is refused without a reason", text, r.Text)
		}
		if r.Kind == Taken {
			want, err := faulttree.ParseReading(r.Typed, reader().byID[r.Quantity])
			if err != nil || want != r.Reading {
				t.Errorf("%q: %q as %s is %+v, want %+v (%v)", text, r.Typed, r.Quantity, r.Reading, want, err)
			}
			tidy := faulttree.Tidy(text)
			if digits := strings.Fields(r.Typed)[0]; len(contact.Numbers(tidy)) == 0 && !strings.Contains(tidy, digits) {
				t.Errorf("%q: %q was not typed", text, r.Typed)
			}
		}
	}
	for _, b := range list.Blocks {
		tally(b.Header, -1)
	}
	for c, n := range left {
		if n > 0 {
			t.Errorf("%q: %q stands nowhere in the list", text, c)
		}
	}
}

// TestBounds holds that a long text costs little, and is neither cut nor
// refused but at its bound.
func TestBounds(t *testing.T) {
	if _, err := reader().Read(strings.Repeat("x", mostBytes+1)); !errors.Is(err, ErrTooLong) {
		t.Errorf("the error of a text that is too long is %v", err)
	}
	for _, unit := range []string{"L1-N 59 ", "L1-N 59\n", "1", "?", "-1-1", "between ", "L1:", "a\tb\t", "zero volts ", "OL", "(", "\U0001f50c", "nuetralx "} {
		text := strings.Repeat(unit, mostBytes/len(unit))
		list := must.Have(reader().Read(text))(t)
		checkList(t, list, text)
	}
	list, err := reader().Read(strings.Repeat("L1-N 59\n", 600))
	if err != nil || len(list.Rows) != mostRows+1 {
		t.Fatalf("%d rows (%v)", len(list.Rows), err)
	}
	if last := list.Rows[mostRows]; last.Line != mostRows+1 || strings.Count(last.Text, "59") != 100 || last.Why == "" {
		t.Errorf("the rest begins in line %d and holds %d readings", last.Line, strings.Count(last.Text, "59"))
	}
}

// TestResolveKeepsTheListGiven holds that an answer changes nothing in the list
// that it was given for, and that it can be given anew.
func TestResolveKeepsTheListGiven(t *testing.T) {
	list := must.Have(reader().Read("L1-N 59 L2-N 177 N-G 59"))(t)
	at := func(l *List) []string {
		return lists.Each(l.Rows, func(r Row) string { return r.Quantity })
	}
	panel := reader().Resolve(list, 0, Answer{Place: "panel", State: LoadsOn})
	pedestal := reader().Resolve(panel, 0, Answer{Place: "pedestal"})
	if list.Taken() != 0 || !list.Open() {
		t.Errorf("the list given was changed: %v", at(list))
	}
	if got := at(panel); !slices.Equal(got, []string{"panel.l1-n@loaded", "panel.l2-n@loaded", "panel.n-g@loaded"}) {
		t.Errorf("at the panel: %v", got)
	}
	if got := at(pedestal); !slices.Equal(got, []string{"pedestal.l1-n", "pedestal.l2-n", "pedestal.n-g"}) {
		t.Errorf("at the pedestal: %v", got)
	}
}

// TestEveryQuantityCanBeAsked holds that each place and each state in which the
// shipped handbook reads something is a choice, and none is one for nothing.
func TestEveryQuantityCanBeAsked(t *testing.T) {
	seen := map[State]bool{}
	for _, q := range reader().quantities {
		if q.state != "" {
			seen[q.state] = true
		}
		if q.place != "" && !slices.ContainsFunc(places, func(c Choice) bool { return c.ID == q.place }) {
			t.Errorf("%s is read at %q, which is no choice of place", q.ID, q.place)
		}
	}
	for _, s := range states {
		if !seen[s] || stateTitles[s] == "" {
			t.Errorf("no quantity is read in the state %s, or it has no title", s)
		}
	}
}
