package search

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestWritingsOfOneWordMeet holds that two ways to write a query find the same
// in the same order.
func TestWritingsOfOneWordMeet(t *testing.T) {
	x := shippedIndex(t)
	for _, c := range [][2]string{
		{"120V outlet dead", "120 V outlet dead"}, {"230V supply", "230 V supply"}, {"12V lights", "12 V lights"}, {"12 volts lights", "12V lights"},
		{"50A inlet", "50 A inlet"}, {"30 amp inlet", "30a inlet"},
		{"it won't charge", "it wont charge"}, {"it isn't charging", "it is not charging"}, {"it wouldn't start", "it would not start"},
		{"colour of the wire", "color of the wire"}, {"neighbour's fault", "neighbor's fault"}, {"energised body", "energized body"},
		{"insulation of the aluminium frame", "insulation of the aluminum frame"},
	} {
		a, b := x.Find(Query{Text: c[0] + " "}), x.Find(Query{Text: c[1] + " "})
		if len(a.Hits) == 0 || list(a.Hits) != list(b.Hits) {
			t.Errorf("%q finds %s\n%q finds %s", c[0], list(a.Hits), c[1], list(b.Hits))
		}
	}
}

// TestStemsAreKnownWords holds that a form of a word that the handbook has is
// not taken for a typo of another, and that "one" is not "on".
func TestStemsAreKnownWords(t *testing.T) {
	x := shippedIndex(t)
	for _, word := range []string{"shocks", "resetting", "won't", "isn't", "couldn't", "grounds", "measuring", "tingles", "corroding"} {
		for _, w := range x.queryWords("the " + word + " again ") {
			for term := range w.near {
				if w.word == word && !strings.HasPrefix(term, meaningMark) {
					t.Errorf("%q is corrected to %q", word, term)
				}
			}
			if w.unknown {
				t.Errorf("no page is said to have %q", w.word)
			}
		}
	}
	if one := x.queryWords("one ")[0]; one.term == "on" {
		t.Error("\"one\" is taken for \"on\"")
	}
}

// TestIDFindsItsDocument holds that every id and every title, typed as it
// stands, finds its document before all others.
func TestIDFindsItsDocument(t *testing.T) {
	x := shippedIndex(t)
	for i := 0; i < len(x.entries); i += 7 { // a seventh of them is enough
		e := &x.entries[i]
		for _, text := range []string{e.id, e.title, strings.ToUpper(e.title)} {
			hits := x.Find(Query{Text: text, Limit: 200}).Hits
			at := slices.IndexFunc(hits, func(h Hit) bool { return h.ID == e.id && h.Kind == e.kind })
			for _, before := range hits[:max(at, 0)] { // others may have the same title
				if title, _, _ := strings.Cut(before.Title, " · "); !strings.EqualFold(title, e.title) && before.ID != text {
					t.Errorf("%q: %s stands before %s", text, before.ID, e.id)
					break
				}
			}
			if at < 0 {
				t.Errorf("%q does not find %s", text, e.id)
			}
		}
	}
}

// TestBeginningWithATypo holds that a word is completed although its beginning
// has a typo.
func TestBeginningWithATypo(t *testing.T) {
	x := shippedIndex(t)
	for text, id := range map[string]string{"open nuet": "open-neutral", "lihtiu": "lithium-rest-voltage", "gfic": "gfci-tripped", "recpet": "receptacle-tt-30"} {
		if hits := x.Find(Query{Text: text, Limit: 8}).Hits; !slices.ContainsFunc(hits, func(h Hit) bool { return h.ID == id }) {
			t.Errorf("%q does not find %s; found %s", text, id, list(hits))
		}
	}
}

// TestWordsOfOtherReaders holds that words of British, Canadian and marina
// readers find what the handbook's own words find.
func TestWordsOfOtherReaders(t *testing.T) {
	x := shippedIndex(t)
	for text, id := range map[string]string{
		"no mains": "supply-dead", "mains lead": "undersized-cord", "hook-up lead": "undersized-cord", "genny": "generators-and-bonding",
		"no earth": "open-ground", "consumer unit": "vehicle-bond", "leisure battery flat": "battery-low", "RCD trips": "gfci-tripped",
		"caravan tingle": "body-voltage", "marina power": "reading-a-pedestal", "earth wire": "names-of-conductors",
	} {
		if hits := x.Find(Query{Text: text, Limit: 10}).Hits; !slices.ContainsFunc(hits, func(h Hit) bool { return h.ID == id }) {
			t.Errorf("%q does not find %s; found %s", text, id, list(hits))
		}
	}
}

// TestNoPageHasTheWords holds that a query whose words no page has is said to
// be one, and that a query which the handbook answers is not.
func TestNoPageHasTheWords(t *testing.T) {
	x := shippedIndex(t)
	for text, want := range map[string]string{
		"chocolate recipe": "[chocolate recipe]", "chocolate recipe for the camper": "[chocolate recipe]", "recipe for 4 on 120 V": "[recipe]",
		"change engine oil interval": "[oil]", "best campground in Yellowstone": "[yellowstone]",
		"zzzzzz": "[zzzzzz]", "tingle": "[]", "tingel": "[]", "open neu": "[]", "the dog got a shock from the step": "[]", "58": "[]", "won't": "[]", "": "[]",
	} {
		if got := fmt.Sprint(x.Find(Query{Text: text}).NoPage); got != want {
			t.Errorf("%q: no page is said to have %s, want %s", text, got, want)
		}
	}
	notes := x.Find(Query{Text: "chocolate recipe"}).Notes()
	if len(notes) != 1 || notes[0] != "No page has: chocolate, recipe." {
		t.Errorf("the reader is told %q", notes)
	}
}
