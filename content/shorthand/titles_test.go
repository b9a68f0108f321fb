package shorthand

import (
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// TestTheHandbooksOwnTitles holds that a line that begins with the title or the
// id of a quantity is a reading of it.
func TestTheHandbooksOwnTitles(t *testing.T) {
	for _, q := range reader().quantities {
		for _, text := range []string{q.Title + " 0.5 " + q.Unit.Symbol(), q.ID + ": 0.5", "- " + strings.ToUpper(q.Title) + "\t0.5"} {
			list, err := reader().Read(text)
			if err != nil || len(list.Rows) != 1 || list.Rows[0].Quantity != q.ID {
				t.Errorf("%q is read as %+v, want %s", text, list.Rows, q.ID)
			}
		}
	}
}

// TestWordsOfTitlesAreNotMistaken holds that the words of a title in another
// order are never read as another quantity: it, or what it may be, or nothing.
func TestWordsOfTitlesAreNotMistaken(t *testing.T) {
	read := 0
	for _, q := range reader().quantities {
		for _, text := range []string{"reading: " + q.Title + " = 0.5 " + q.Unit.Symbol(), "0.5 " + q.Unit.Symbol() + " " + strings.ReplaceAll(q.Title, ":", ",")} {
			list := must.Have(reader().Read(text))(t)
			for _, row := range list.Rows {
				switch {
				case row.Kind == Taken && row.Quantity != q.ID:
					t.Errorf("%q is read as %s, want %s or nothing", text, row.Quantity, q.ID)
				case row.Kind == Taken:
					read++
				}
			}
		}
	}
	if read < len(reader().quantities) {
		t.Errorf("only %d of two times %d are read", read, len(reader().quantities))
	}
}
