package search

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2/analysis"

	"faultwright/faulttree/lists"
)

// fragmentBytes is about two lines of a result.
const fragmentBytes = 170

// span is a match in a text, in bytes, and which words it answers how well.
type span struct {
	start, end int
	word       int
	quality    float64
}

// fragment cuts out the part of an entry's text that answers most of the
// query, and marks what matched. Body text is preferred; what is found only
// in the symptoms, the aliases or the title is shown from there.
func (x *Index) fragment(place int, words []queryWord) []Run {
	e := &x.entries[place]
	if spans := spansIn(x.ranked[place].body, words); len(spans) > 0 {
		return cutOut(e.body, spans)
	}
	for _, text := range []string{e.symptoms, e.aliases} {
		terms := lists.Each(x.analyzer.Analyze([]byte(text)), func(t *analysis.Token) bodyTerm { return bodyTerm{string(t.Term), t.Start, t.End} })
		if spans := spansIn(terms, words); len(spans) > 0 {
			return cutOut(text, spans)
		}
	}
	if e.body == "" {
		return cutOut(e.title, nil)
	}
	return cutOut(e.body, nil)
}

func spansIn(terms []bodyTerm, words []queryWord) []span {
	var out []span
	for _, t := range terms {
		for i := range words {
			if quality := words[i].quality(t.term); quality > 0 {
				out = append(out, span{t.start, t.end, i, quality * words[i].telling})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b span) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(b.end, a.end), cmp.Compare(a.word, b.word))
	})
	return out
}

// cutOut shows text from the beginning of the sentence behind which the matches
// answer most words.
func cutOut(text string, spans []span) []Run {
	start := 0
	best := 0.0
	for i := range spans {
		from := sentence(text, spans[i].start)
		seen := map[int]float64{}
		for _, s := range spans {
			if s.start >= from && s.end <= from+fragmentBytes || s == spans[i] {
				seen[s.word] = max(seen[s.word], s.quality)
			}
		}
		sum := 0.0
		for _, q := range seen {
			sum += q
		}
		if sum > best+1e-9 {
			best, start = sum, from
		}
	}
	end := start + fragmentBytes
	for _, s := range spans { // of a long sentence, as far as its first match
		if s.start >= start {
			if s.end > end && s.end < start+2*fragmentBytes-longestMark {
				end = s.end
			}
			break
		}
	}
	end = wholeWords(text, start, end)
	var runs []Run
	add := func(piece string, marked bool) {
		piece = strings.Map(func(r rune) rune {
			if r == '\n' || r == '\t' || r == '\r' {
				return ' '
			}
			return r
		}, piece)
		if piece != "" {
			runs = append(runs, Run{piece, marked})
		}
	}
	at := start
	for _, s := range spans {
		if s.start < at || s.end > end {
			continue
		}
		add(text[at:s.start], false)
		add(text[s.start:s.end], true)
		at = s.end
	}
	add(text[at:end], false)
	if end < len(text) {
		add(" …", false)
	}
	return runs
}

// longestMark is the room left for the mark of what was cut off.
const longestMark = 8

// sentence is where the sentence, or the line, around at begins.
func sentence(text string, at int) int {
	for i := at; i > 0; i-- {
		switch {
		case text[i-1] == '\n':
			return i
		case text[i-1] == ' ' && i > 1 && strings.IndexByte(".!?", text[i-2]) >= 0 && !unicode.IsLower(rune(text[i])):
			return i
		}
	}
	return 0
}

// wholeWords is end, or a little before, so that text[start:end] ends with a
// word.
func wholeWords(text string, start, end int) int {
	if end >= len(text) {
		return len(text)
	}
	if space := strings.LastIndexAny(text[start:end+1], " \n"); space > 0 {
		return start + space
	}
	for end > start && !utf8.RuneStart(text[end]) { // not inside a letter
		end--
	}
	return end
}
