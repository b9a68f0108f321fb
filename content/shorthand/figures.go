package shorthand

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/content/contact"
	"faultwright/faulttree"
)

// figure is what a line says that a display showed, from start to end.
type figure struct {
	start, end int
	text       string // for faulttree.ParseReading
	symbol     string // "V", "Ω", "A", or "" where no unit was typed
}

var (
	notTaken     = regexp.MustCompile(`(?i)\b(?:not[ -]possible|cannot|can not|can't|could not|skip(?:ped)?)\b[^,;]*`)
	overRange    = regexp.MustCompile(`(?i)(?:^|[^\pL\pN])(o\.?l|0\.?l|over[ -]?(?:range|load|limit))(?:[^\pL\pN]|$)`)
	wanderBefore = regexp.MustCompile(`(?i)\b(?:wanders?|wandering|drifts?|drifting|moves?|jumps?|between|from)[: ]*(?:between |from )? *$`)
	bound        = regexp.MustCompile(`(?:^|[^-=])[<>≤≥]=? *$`)                                                                                // no figure that a display shows: more than 2 MΩ
	changed      = regexp.MustCompile(`(?i)\b(?:drops?|dropp\w+|fell|falls?|rose|rises?|went|goes|climb\w*|sag\w*|changed?)(?: up| down)? *$`) // no wandering: "dropped from 119 to 98"
	rangeJoin    = regexp.MustCompile(`^(?:-|–|—| - | – | — |\.\.+|…| ?\bto )`)
	andJoin      = regexp.MustCompile(`^ and `)
	nextWord     = regexp.MustCompile(`^ ?([\pL%°]+)`)
	cellUnit     = regexp.MustCompile(`^ *; *([mkM]?(?:VAC|VDC|V|volts?|Ω|ohms?|A|amps?))(?: *(?:;|$))`)
)

// figuresIn finds the figures of a line, in order. Text is tidy, and cells are
// parted by semicolons.
func figuresIn(text string) []figure {
	var out []figure
	taken := func(start, end int) bool {
		return slices.ContainsFunc(out, func(f figure) bool { return start < f.end && f.start < end })
	}
	for _, at := range notTaken.FindAllStringIndex(text, -1) {
		out = append(out, figure{start: at[0], end: at[1], text: strings.TrimSpace(text[at[0]:at[1]])})
	}
	for from := 0; from < len(text); {
		at := overRange.FindStringSubmatchIndex(text[from:])
		if at == nil {
			break
		}
		start, end := from+at[2], from+at[3]
		if !taken(start, end) {
			out = append(out, figure{start: start, end: end, text: text[start:end]})
		}
		from = end
	}
	for _, n := range contact.Numbers(text) {
		if taken(n.Start, n.End) {
			continue
		}
		f := figure{start: n.Start, end: n.End, text: n.Value}
		if g, rest, ok := faulttree.ScanFigure(n.Value + text[n.End:]); ok && g.Symbol != "" {
			f.end, f.symbol, f.text = len(text)-len(rest), g.Symbol, g.String()
		}
		out = append(out, f)
	}
	for at := 0; at < len(text); {
		f, next, ok := figureAt(text, at)
		if ok && !taken(f.start, f.end) {
			out = append(out, f)
		}
		at = next
	}
	slices.SortFunc(out, func(a, b figure) int { return a.start - b.start })
	return out
}

// figureAt reads the figure that begins at text[at]; next is where to go on.
func figureAt(text string, at int) (f figure, next int, ok bool) {
	r, size := utf8.DecodeRuneInString(text[at:])
	before, _ := utf8.DecodeLastRuneInString(text[:at])
	switch {
	case unicode.IsLetter(r) || unicode.IsDigit(r) && (unicode.IsLetter(before) || before == '/'):
		return f, at + len(wordAt(text[at:])), false
	case strings.ContainsRune("+-", r) && at > 0 && !strings.ContainsRune(" (:;=,~≈", before),
		strings.ContainsRune(".,", r) && at > 0 && !strings.ContainsRune(" (:;=+-~≈", before):
		return f, at + size, false
	}
	g, rest, found := faulttree.ScanFigure(text[at:])
	if !found {
		return f, at + size, false
	}
	f = figure{start: at, end: len(text) - len(rest), symbol: unitOf(g)}
	if m := bound.FindStringIndex(text[:at]); m != nil {
		f.start = m[1] - len(strings.TrimLeft(text[m[0]:m[1]], "=- "))
	}
	wanders := wanderBefore.FindStringIndex(text[:at])
	ranged := false
	for {
		join := rangeJoin.FindString(text[f.end:])
		if join == "" && wanders != nil {
			join = andJoin.FindString(text[f.end:])
		}
		h, rest, found := faulttree.ScanFigure(text[f.end+len(join):])
		if join == "" || !found {
			break
		}
		ranged, f.end = true, len(text)-len(rest)
		if u := unitOf(h); u != "" {
			f.symbol = u
		}
	}
	if text[at:f.end] == "1" && strings.HasPrefix(text[f.end:], ".") {
		f.end++ // how some meters show that a reading is over the range
	}
	if runsOn(text[f.end:]) {
		f.end += len(strings.TrimRight(untilBlank(text[f.end:]), ",.:"))
	}
	if ranged && wanders != nil {
		f.start = wanders[0]
		if at := changed.FindStringIndex(text[:f.start]); at != nil {
			f.start = at[0]
		}
	}
	f.text = strings.TrimSpace(text[f.start:f.end])
	if m := cellUnit.FindStringSubmatchIndex(text[f.end:]); m != nil && f.symbol == "" {
		f.text += " " + text[f.end+m[2]:f.end+m[3]]
		f.end += m[3]
		if g, _, ok := faulttree.ScanFigure(f.text); ok {
			f.symbol = unitOf(g)
		}
	}
	return f, f.end, true
}

// unitOf is the unit of a figure; 5k and 1.2M are said of ohms.
func unitOf(f faulttree.Figure) string {
	if f.Symbol == "" && f.Prefix != 0 {
		return "Ω"
	}
	return f.Symbol
}

// runsOn reports whether a figure runs on into what follows it, so that the
// whole is no figure: 60ish, 120/240, 1,000,000, 50%.
func runsOn(after string) bool {
	r, size := utf8.DecodeRuneInString(after)
	n, _ := utf8.DecodeRuneInString(after[min(size, len(after)):])
	switch {
	case after == "":
		return false
	case unicode.IsLetter(r), unicode.IsDigit(r), r == '%', r == '°':
		return true
	case strings.ContainsRune("/.,:-", r):
		return unicode.IsDigit(n) || r == '-' && strings.HasPrefix(after, "-ish")
	}
	return false
}

func untilBlank(text string) string {
	if i := strings.IndexAny(text, " ;)"); i >= 0 {
		return text[:i]
	}
	return text
}

// wordAt is the letters and digits that text begins with.
func wordAt(text string) string {
	for i, r := range text {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return text[:i]
		}
	}
	return text
}

// otherThing reports whether the words behind a figure count something else:
// 60 Hz, 10 minutes.
func (f figure) otherThing(text string) bool {
	m := nextWord.FindStringSubmatch(text[f.end:])
	if f.symbol != "" || m == nil {
		return false
	}
	word := strings.ToLower(m[1])
	return contact.OtherUnit(word) && (utf8.RuneCountInString(word) > 1 || strings.Contains("w%°", word)) // h and n are contacts
}
