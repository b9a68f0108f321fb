package search

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestEveryPairOfWords says a harmless reading between each two words for test
// points, in several ways, and holds that it is filled in for no quantity but
// one between these two. The table is by hand; the ends of a quantity are those
// that the handbook's list of quantities gives.
func TestEveryPairOfWords(t *testing.T) {
	x := shippedIndex(t)
	ends := map[string][]string{ // what a word may be: the last part of a test point's id
		"bumper": {"body"}, "frame": {"body"}, "door handle": {"body"}, "chassis": {"body"}, "hitch": {"body"},
		"spike": {"earth"}, "wet soil": {"earth"}, "dirt": {"earth"}, "ground rod": {"earth"},
		"ground pin": {"g"}, "green wire": {"g"}, "grounding conductor": {"g"}, "earth wire": {"g"}, "protective earth": {"g"},
		"neutral": {"n"}, "white wire": {"n"}, "hot": {"l1", "l2", "h"}, "live": {"l1", "l2", "h"}, "L1": {"l1", "h"}, "leg 2": {"l2"},
		"panel ground": {"g"}, "outlet ground": {"g"}, "pedestal neutral": {"n"}, "neutral of the outlet": {"n"}, "hot of the panel": {"l1", "l2", "h"},
		"battery positive": {"pos"}, "battery negative": {"neg"},
		"water tap": {}, "sink": {}, "shower tray": {}, "fence": {},
		// "ground" and "earth" by themselves are the contact, or beside the body the soil.
		"ground": {"g", "earth"}, "earth": {"g", "earth"},
	}
	var words []string
	for w := range ends {
		words = append(words, w)
	}
	slices.Sort(words)
	end := func(point string) string { return point[strings.LastIndexByte(point, '.')+1:] }
	filled := 0
	for _, a := range words {
		for _, b := range words {
			for _, form := range []string{"0.1 V %s to %s", "0.1 volts between %s and %s", "from the %s to the %s 0.1 V", "%s to %s reads 0.1", "0.1 ohm from %s to %s", "OL ohms between %s and %s"} {
				text := fmt.Sprintf(form, a, b)
				for _, h := range x.Find(Query{Text: text}).Hits {
					if h.Reading == "" {
						continue
					}
					filled++
					q := x.offers.forest.Quantities[h.Quantity]
					red, black := end(q.Red), end(q.Black)
					straight := slices.Contains(ends[a], red) && slices.Contains(ends[b], black)
					reversed := slices.Contains(ends[b], red) && slices.Contains(ends[a], black)
					if !straight && !reversed {
						t.Errorf("%q is filled in for %s", text, h.Quantity)
					}
				}
			}
		}
	}
	if filled < 300 {
		t.Errorf("only %d readings were filled in", filled)
	}
}
