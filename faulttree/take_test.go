package faulttree

import (
	"fmt"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

func TestTakeSaysWhichReadingCounts(t *testing.T) {
	for _, c := range []struct{ text, want, said string }{
		{"highest of [frame, door frame, step]", "1 [frame door frame step] [] []", "type the highest: frame, door frame, step."},
		{"lowest of [l1, l2]", "2 [] [l1 l2] []", "type the lowest: L1, and L2 if there is one."},
		{"farthest from the first of [loads off, each  load]", "3 [] [] [0 1]", "type the figure farthest from the first: no load on, each alone."},
		{"highest of [frame, step, loads off, all loads]", "1 [frame step] [] [0 2]", "type the highest: frame, step; each with no load on, all."},
	} {
		got, err := ParseTake(c.text)
		if s := fmt.Sprint(got.Counts, got.Places, got.Contacts, got.Loads); err != nil || s != c.want {
			t.Errorf("%s: %s, %v; want %s", c.text, s, err, c.want)
		}
		if !strings.HasSuffix(got.String(), c.said) {
			t.Errorf("%s: %q; want the end %q", c.text, got, c.said)
		}
	}
	for text, want := range map[string]string{
		"the highest":                                       "does not say what counts",
		"highest of [a, b":                                  "does not say what counts",
		"mean of [frame, step]":                             "does not say what counts",
		"highest of [step]":                                 "less than two readings",
		"highest of [l1, step]":                             "l1 alone is named",
		"highest of [loads off, every load]":                "no way in which loads are switched",
		"farthest from the first of [all loads, loads off]": "begins with all loads on",
	} {
		if _, err := ParseTake(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want an error that says %q", text, err, want)
		}
	}
}

// Whoever is known to have one hot is told of no other; whoever has two is told so
// without an if.
func TestTakeSpeaksOfTheHotsThatThereAre(t *testing.T) {
	points := map[string]Point{"plug.l1": {}, "plug.l2": {Needs: Needs{"service": {"50a"}}}, "plug.n": {}}
	q := Quantity{Red: "plug.l1", Black: "plug.n"}
	for take, want := range map[string]map[string]string{
		"lowest of [l1, l2]":              {"": "L1, and L2 if there is one.", "30a": "", "50a": ": L1, and L2."},
		"lowest of [frame, l1, l2, step]": {"": "L1, and L2 if there is one.", "30a": ": frame, step.", "50a": "L1, and L2."},
	} {
		parsed := must.Have(ParseTake(take))(t)
		for service, end := range want {
			said := parsed.Tells(q, points, func(string) string { return service })
			if !strings.HasSuffix(said, end) || end == "" && said != "" {
				t.Errorf("%s by %q: %q; want the end %q", take, service, said, end)
			}
		}
	}
}

func TestThePickOfSeveralReadings(t *testing.T) {
	values := []float64{118, 121, 109}
	for counts, want := range map[Counts]float64{TakeOnce: 118, TakeHighest: 121, TakeLowest: 109, TakeFarthest: 109} {
		if got := (Take{Counts: counts}).Pick(values); got != want {
			t.Errorf("%d of %v is %v; want %v", counts, values, got, want)
		}
	}
	q := Quantity{ID: "x", Red: "body", Black: "plug.l1", Take: Take{Counts: TakeHighest, Contacts: []string{"l1", "l2"}}}
	if at := q.At(); len(at) != 2 || at[0].Black != "plug.l1" || at[1].Black != "plug.l2" || at[1].ID != "x" || q.Black != "plug.l1" {
		t.Errorf("it is read at %v", at)
	}
	q.Red = "cord.l1"
	if at := q.At(); len(at) != 2 || at[1].Red != "cord.l2" || at[1].Black != "plug.l2" {
		t.Errorf("a conductor from end to end is read at %v", at)
	}
	q.Red, q.Black = "body", "plug.n"
	if at := q.At(); len(at) != 1 {
		t.Errorf("a quantity without a hot contact is read at %v", at)
	}
	if of := q.Take.Of(q); of.Several() {
		t.Errorf("a quantity without a hot contact is read several times: %s", of)
	}
}
