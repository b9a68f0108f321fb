package search

import (
	"cmp"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2/search"
)

// fragmentBytes is about two lines of a result.
const fragmentBytes = 170

// span is a match in a text, in bytes, and which units it answers how well.
type span struct {
	start, end int
	unit       int
	quality    float64
}

// fragment cuts out the part of an entry's text that answers most of the
// query, and marks what matched. Body text is preferred; what is found only
// in the symptoms, the aliases or the title is shown from there.
func fragment(e *entry, units []unit, found search.FieldTermLocationMap) []Run {
	for _, field := range []string{fieldBody, fieldSymptoms, fieldAliases} {
		if spans := spansIn(units, found[field], len(e.text(field))); len(spans) > 0 {
			return cutOut(e.text(field), spans)
		}
	}
	text := e.body
	if text == "" {
		text = e.title
	}
	return cutOut(text, nil)
}

func spansIn(units []unit, terms search.TermLocationMap, size int) []span {
	var out []span
	for term, places := range terms {
		for i := range units {
			quality := units[i].quality(term)
			if quality == 0 {
				continue
			}
			for _, p := range places {
				if int(p.Start) < int(p.End) && int(p.End) <= size {
					out = append(out, span{int(p.Start), int(p.End), i, quality * units[i].weight})
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b span) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(b.end, a.end), cmp.Compare(a.unit, b.unit))
	})
	return out
}

// cutOut shows text around the window whose matches answer most units.
func cutOut(text string, spans []span) []Run {
	from := 0
	best := 0.0
	for i := range spans {
		seen := map[int]float64{}
		for _, s := range spans[i:] {
			if s.end > spans[i].start+fragmentBytes-30 {
				break
			}
			seen[s.unit] = max(seen[s.unit], s.quality)
		}
		sum := 0.0
		for _, q := range seen {
			sum += q
		}
		if sum > best+1e-9 {
			best, from = sum, spans[i].start
		}
	}
	start, end := window(text, from)
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
	if start > 0 {
		add("… ", false)
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

// window is a stretch of text of whole words that begins a little before from.
func window(text string, from int) (start, end int) {
	start = max(0, from-30)
	if line := strings.LastIndexByte(text[:from], '\n'); line >= start {
		start = line + 1
	} else if start > 0 {
		if space := strings.IndexByte(text[start:from], ' '); space >= 0 {
			start += space + 1
		} else {
			start = from
		}
	}
	if end = start + fragmentBytes; end >= len(text) {
		return start, len(text)
	}
	if space := strings.LastIndexAny(text[start:end], " \n"); space > from-start {
		return start, start + space
	}
	for end > from && text[end]&0xC0 == 0x80 { // not inside a letter
		end--
	}
	return start, end
}
