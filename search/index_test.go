package search

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// TestSynonymsBothWays takes pairs from the handbook's synonym list, a phrase
// among them, and holds that either finds what the other stands in.
func TestSynonymsBothWays(t *testing.T) {
	x := shippedIndex(t)
	for _, c := range []struct{ lay, trade, id string }{
		{"zapped", "electric shock", "body-voltage"},
		{"hot skin", "energised body", "why-the-body-can-be-live"},
		{"power post", "pedestal", "reading-a-pedestal"},
		{"genset", "portable generator", "generators-and-bonding"},
		{"dogbone", "adapter", "adapters"},
		{"phantom voltage", "ghost voltage", "ghost-voltage"},
		{"white wire", "grounded conductor", "names-of-conductors"},
		{"changeover switch", "transfer switch", "transfer-switches"},
		{"LoZ", "low impedance", "low-impedance-meters"},
		{"RCD", "GFCI", "what-a-gfci-does"},
	} {
		for _, text := range []string{c.lay, c.trade} {
			if hits := x.Find(Query{Text: text, Limit: 8}).Hits; !slices.ContainsFunc(hits, func(h Hit) bool { return h.ID == c.id }) {
				t.Errorf("%q does not find %s; found %s", text, c.id, list(hits))
			}
		}
	}
}

// TestPhraseIsNotItsWords holds that a phrase of the synonym list is taken
// whole: "hot water" is the boiler, and does not mean a hot conductor.
func TestPhraseIsNotItsWords(t *testing.T) {
	x := shippedIndex(t)
	meant := func(text string) (out []string) {
		for _, w := range x.queryWords(text) {
			for term := range w.near {
				if strings.HasPrefix(term, meaningMark) {
					out = append(out, term)
				}
			}
		}
		slices.Sort(out)
		return slices.Compact(out)
	}
	same := meant("boiler ") // the blank ends the word, so nothing completes it
	if got := meant("hot water "); len(same) == 0 || !slices.Equal(got, same) {
		t.Errorf("\"hot water\" means %v, want what \"boiler\" means: %v", got, same)
	}
}

func TestStopWordsThatMatter(t *testing.T) {
	x := shippedIndex(t)
	var kept []string
	for _, w := range x.queryWords("the breaker won't go on or off, up and down, over or under; no, it is not ") {
		kept = append(kept, w.term)
	}
	want := "breaker not go on off up down over under no not"
	if got := strings.Join(kept, " "); got != want {
		t.Errorf("kept %q, want %q", got, want)
	}
}

func TestFilterByKind(t *testing.T) {
	x := shippedIndex(t)
	for _, kind := range Kinds() {
		hits := x.Find(Query{Text: "ground neutral voltage", Kind: kind, Limit: 50}).Hits
		if len(hits) == 0 {
			t.Errorf("no %s found", kind)
		}
		for _, h := range hits {
			if h.Kind != kind {
				t.Errorf("a filter by %s let %s of kind %s through", kind, h.ID, h.Kind)
			}
			if strings.Contains(h.ID, "#") != (kind == KindStep || kind == KindFinding) {
				t.Errorf("the id %s does not fit a %s", h.ID, kind)
			}
		}
	}
	if hits := x.Find(Query{Text: "ground", Kind: "nonsense"}).Hits; len(hits) != 0 {
		t.Errorf("an unknown kind found %s", list(hits))
	}
}

func TestLimit(t *testing.T) {
	x := shippedIndex(t)
	for limit, want := range map[int]int{0: usualLimit, 1: 1, 7: 7, -3: usualLimit, 1_000_000: mostLimit} {
		if got := len(x.Find(Query{Text: "ground", Limit: limit}).Hits); got > want || got == 0 || limit < 100 && got < want {
			t.Errorf("a limit of %d gave %d hits, want %d", limit, got, want)
		}
	}
}

// TestFragment holds that a fragment is a piece of the document, marked where
// it answers the query, also by another word of the same meaning.
func TestFragment(t *testing.T) {
	x := shippedIndex(t)
	marked := 0
	for _, g := range goldens(t) {
		for _, h := range x.Find(Query{Text: g.query}).Hits {
			whole := ""
			for _, r := range h.Fragment {
				whole += r.Text
				if r.Marked {
					marked++
				}
				if r.Text == "" || !utf8.ValidString(r.Text) || strings.ContainsAny(r.Text, "\n\t") {
					t.Errorf("%q: %s has the run %q", g.query, h.ID, r.Text)
				}
			}
			if whole == "" || len(whole) > 2*fragmentBytes {
				t.Errorf("%q: the fragment of %s has %d bytes", g.query, h.ID, len(whole))
			}
			if h.Quantity != "" {
				continue
			}
			e := x.entries[slices.IndexFunc(x.entries, func(e entry) bool { return e.id == h.ID && e.kind == h.Kind })]
			all := strings.NewReplacer("\n", " ", "\t", " ").Replace(e.title + "\x00" + e.symptoms + "\x00" + e.aliases + "\x00" + e.body)
			piece := strings.TrimSuffix(whole, " …")
			at := strings.Index(all, piece)
			if at < 0 {
				t.Errorf("%q: the fragment %q is not in %s", g.query, piece, h.ID)
				continue
			}
			if strings.Contains(piece, "|") || strings.Contains(" "+piece, " ,") {
				t.Errorf("%q: the fragment %q of %s shows the bars of a table, or an empty cell", g.query, piece, h.ID)
			}
			if before := strings.TrimRight(all[:at], " "); before != "" && strings.IndexByte(".!?\x00", before[len(before)-1]) < 0 && !begins(e, piece) {
				t.Errorf("%q: the fragment %q of %s does not begin at a sentence", g.query, piece, h.ID)
			}
		}
	}
	if marked < 1000 {
		t.Errorf("only %d marks over all golden queries", marked)
	}
	hits := x.Find(Query{Text: "bumper", Kind: KindCard, Limit: 5}).Hits
	byMeaning := slices.ContainsFunc(hits, func(h Hit) bool {
		return slices.ContainsFunc(h.Fragment, func(r Run) bool { return r.Marked && strings.EqualFold(r.Text, "frame") })
	})
	if !byMeaning {
		t.Errorf("\"bumper\" marks no \"frame\" in %s", list(hits))
	}
}

// begins reports whether a line of the entry begins with piece, which may run
// on over several lines.
func begins(e entry, piece string) bool {
	for _, field := range []string{e.title, e.symptoms, e.aliases, e.body} {
		for at, line := 0, ""; at < len(field); at += len(line) + 1 {
			line, _, _ = strings.Cut(field[at:], "\n")
			if strings.HasPrefix(strings.ReplaceAll(field[at:], "\n", " "), piece) {
				return true
			}
		}
	}
	return false
}

// TestOneTitleNamesItsTree holds that two hits of one title can be told apart.
func TestOneTitleNamesItsTree(t *testing.T) {
	x := shippedIndex(t)
	for _, text := range []string{"clean the receptacle and read again", "L1 to neutral", "prove the meter", "two tips apart"} {
		seen := map[string]string{}
		for _, h := range x.Find(Query{Text: text, Limit: 40}).Hits {
			if other, ok := seen[h.Title]; ok && (strings.Contains(h.ID, "#") || strings.Contains(other, "#")) {
				t.Errorf("%q: %s and %s have the one title %q", text, other, h.ID, h.Title)
			}
			seen[h.Title] = h.ID
			if h.Title == h.ID {
				t.Errorf("%q: the id %s is its title", text, h.ID)
			}
		}
	}
}

func TestSameAnswerTwice(t *testing.T) {
	x := shippedIndex(t)
	for _, g := range goldens(t) {
		a, b := x.Find(Query{Text: g.query}).Hits, x.Find(Query{Text: g.query}).Hits
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("%q: two searches differ", g.query)
		}
	}
}

// TestHostileQueries holds that no text breaks a search, is taken for a query
// language, or takes long.
func TestHostileQueries(t *testing.T) {
	x := shippedIndex(t)
	for name, text := range map[string]string{
		"empty":        "",
		"blanks":       " \t\n ",
		"controls":     "\x00\x01tingle\x1b[31m\x7f\r\n",
		"bad bytes":    "tin\xffgle \xc3\x28 \xf0\x9f",
		"emoji":        "⚡🔥👩‍🔧 tingle 😱",
		"one emoji":    "⚡",
		"query syntax": `+title:tingle -body:"x" AND (foo OR *) ^9 ~2 /.*/ field:[a TO z] \`,
		"regular":      `(a+)+$ .*.*.*.*.* [[:alpha:]]{1000} \p{L}+`,
		"wildcards":    "*********** ????????? t*",
		"quotes":       `"""''''` + "````",
		"index terms":  "=1 =2 =3 =0",
		"one word":     strings.Repeat("a", 1_000_000),
		"many words":   strings.Repeat("tingle ", 200_000),
		"distinct": func() string {
			s := ""
			for i := range 5000 {
				s += fmt.Sprint("word", i, " ")
			}
			return s
		}(),
		"figures":       strings.Repeat("58 volts on the bumper ", 20_000),
		"digits":        strings.Repeat("9", 100_000) + " volts on the bumper",
		"points":        strings.Repeat("1.", 50_000),
		"hyphens":       strings.Repeat("-", 50_000) + "5 V bumper",
		"marks":         "a" + strings.Repeat("\u0301", 100_000),
		"right to left": "\u202etingle\u202c שלום مرحبا",
		"no script":     "触电 漏电 感電 전기",
		"turkish":       "TINGLE İSTANBUL ı ſ ẞ",
		"path":          "../../etc/passwd %s%n <script>alert(1)</script>",
		"kelvin":        "5 \u212a\u2126 plug \u2126 body",
	} {
		began := time.Now()
		hits := x.Find(Query{Text: text, Limit: 10}).Hits
		if took := time.Since(began); took > 2*time.Second {
			t.Errorf("%s: took %v", name, took)
		}
		if len(hits) > 10 {
			t.Errorf("%s: %d hits", name, len(hits))
		}
		if strings.Contains(text, "tingle") && !slices.ContainsFunc(hits, func(h Hit) bool { return h.ID == "body-voltage" }) && name != "bad bytes" {
			t.Errorf("%s: the word \"tingle\" in it does not find body-voltage; found %s", name, list(hits))
		}
	}
}

// FuzzFind looks for a text that breaks a search or the fragments.
func FuzzFind(f *testing.F) {
	for _, text := range []string{"tingle", "58 volts on the bumper", "83 on L1 and 157 on L2", "wanders 3-8 V", "open neu", "4k7 plug", "=1", "⚡ zéro Ω"} {
		f.Add(text)
	}
	x := shippedIndex(f)
	f.Fuzz(func(t *testing.T, text string) {
		for _, h := range x.Find(Query{Text: text}).Hits {
			for _, r := range h.Fragment {
				if !utf8.ValidString(r.Text) {
					t.Errorf("%q: the fragment of %s is cut inside a letter", text, h.ID)
				}
			}
		}
	})
}
