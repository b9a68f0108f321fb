package search

import (
	"slices"
	"strings"
	"testing"
)

// TestAListOfReadingsIsOfferedAsOne holds that readings of several pairs are
// recognised as a list, that the offer carries them as typed, and that no step
// is offered with a reading of another pair.
func TestAListOfReadingsIsOfferedAsOne(t *testing.T) {
	x := shippedIndex(t)
	for _, c := range []struct {
		text  string
		pairs map[string]string // of every offer with a reading: the end of the quantity and the reading
	}{
		{"L1-N 59 L2-N 177 N-G 59", map[string]string{"l1-n": "59 V", "l2-n": "177 V", "n-g": "59 V"}},
		{"hot to neutral 118, neutral to ground 3", map[string]string{"h-n": "118 V", "l1-n": "118 V", "n-g": "3 V"}},
		{"at the panel under load: L1-N 98, L2-N 141", map[string]string{"l1-n@loaded": "98 V", "l2-n@loaded": "141 V"}},
		{"L1-N 59\nL2-N 177", map[string]string{"l1-n": "59 V", "l2-n": "177 V"}},
		{"L1N 59 NG 59", map[string]string{"l1-n": "59 V", "n-g": "59 V"}},
	} {
		hits := x.Find(Query{Text: c.text}).Hits
		at := slices.IndexFunc(hits, func(h Hit) bool { return h.Kind == KindReadings })
		if at < 0 || hits[at].List != c.text || slices.ContainsFunc(hits[:at], func(h Hit) bool { return !h.danger }) {
			t.Errorf("%q: want the list offered first, found %s", c.text, list(hits))
			continue
		}
		for _, h := range hits {
			_, pair, _ := strings.Cut(h.Quantity, ".")
			if h.Reading != "" && c.pairs[strings.ReplaceAll(pair, "out-", "")] != h.Reading {
				t.Errorf("%q: %s is offered for %s", c.text, h.Reading, h.Quantity)
			}
		}
	}
	for _, text := range []string{"58 volts on the bumper", "L1-N 59", "hot to neutral 118", "L1 to L2 240 V", "tingle", "50 amp outlet, 30 amp plug", "neutral to ground bond", "12.6 V battery and 13.4 V converter"} {
		for _, h := range x.Find(Query{Text: text}).Hits {
			if h.Kind == KindReadings {
				t.Errorf("%q is taken for a list of readings", text)
			}
		}
	}
	for _, h := range x.Find(Query{Text: "L1-N 59 L2-N 177", Kind: KindCard}).Hits {
		if h.Kind != KindCard {
			t.Errorf("a filter by card let %s through", h.Kind)
		}
	}
}

// TestADangerOfAListIsToldFirst holds that a reading over a danger limit, of
// which everything was said, comes before the offer of the list: 58 V is over
// the 30 V of NAVEDTRA 14097.
func TestADangerOfAListIsToldFirst(t *testing.T) {
	hits := shippedIndex(t).Find(Query{Text: "pedestal L1-N 120, plugged in: body to spike 58 V"}).Hits
	if len(hits) < 2 || hits[0].Quantity != "body-earth" || hits[0].Reading != "58 V" {
		t.Errorf("found %s", list(hits))
	}
	if !slices.ContainsFunc(hits[:min(4, len(hits))], func(h Hit) bool { return h.Kind == KindReadings }) {
		t.Errorf("the list is not offered: %s", list(hits))
	}
}
