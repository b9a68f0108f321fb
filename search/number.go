package search

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"faultwright/content/contact"
	"faultwright/faulttree"
)

// figure is a number in a query, as the reading it may be.
type figure struct {
	text       string // for faulttree.ParseReading: "58 V", "3 V to 8 V", "OL"; "" where no number was said
	symbol     string // "V", "Ω", "A", or "" where no unit was typed
	current    string // "AC", "DC" or ""
	start, end int    // bytes of the query it takes
	nominal    bool   // a figure that often is part of a name, such as 120 V
	bare       bool   // nothing about the figure says that it is a reading
	guessed    bool   // the words are no figure, but mean one: "no continuity"
}

var (
	figureStart  = regexp.MustCompile(`[-+]?(?:\d|[.,]\d)`)
	rangeJoin    = regexp.MustCompile(`^ *(?:-|–|—|\bto\b) *`)
	wanderJoin   = regexp.MustCompile(`^ *(?:-|–|—|\bto\b|\band\b) *`)
	wanders      = regexp.MustCompile(`(?i)\b(?:wander\w*|drift\w*|jump\w*|moves?|between)\s*$`)
	overForm     = regexp.MustCompile(`(?i)(?:^|[^\pL\pN])(o\.?l|0l|over[ -]?range|over[ -]?load|over[ -]?limit)(?:[^\pL\pN]|$)`)
	ohmWords     = regexp.MustCompile(`(?i)\b(?:ohms?|resistance|continuity)\b`)
	noContinuity = regexp.MustCompile(`(?i)\b(?:no|not|without|lost) continuity\b`)
	asked        = regexp.MustCompile(`(?i)\b(?:if|should|would|suppose|supposed|normal)\b`)
	noVolts      = regexp.MustCompile(`(?i)\b(?:no (?:volts?|voltage|reading)|nothing)\b`)
	rowBefore    = regexp.MustCompile(`(?:^|\s)\d+\s+$`)
	placeFollows = regexp.MustCompile(`^[\s,]*(?i:between|from|on|at|across|to|in|with|when|under|,|:|$)`)
	readWords    = regexp.MustCompile(`(?i)\b(?:reads?|reading|shows?|showing|measured?|measures|got|meter|see|display|volts?|voltage)\b`)
	legBefore    = regexp.MustCompile(`(?i)(?:^|[^\pL])(?:legs?|lines?|hots?|phases?|l)[ -]?$`)
	wordBefore   = regexp.MustCompile(`([\pL\pN]+)[ -]*$`)
	wordAfter    = regexp.MustCompile(`^[ -]*([\pL\pN%°]+)`)
	ratingOf     = contact.Set("15 20 30 50 100 200")
	nominals     = contact.Set("12 110 115 120 125 208 220 230 240 250")

	// numberWords beside a figure make it part of a number in words, which is
	// left.
	numberWords = contact.Set(`one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen
		seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand million point or half dozen ish odd`)
)

// figuresIn finds the figures of a query that may be readings; without one, an
// over-range, or an ohm reading that has no number.
func figuresIn(text string) []figure {
	var out []figure
	for at := 0; at < len(text) && len(out) < mostClauses; {
		f, next := nextFigure(text, at)
		if f.text != "" {
			out = append(out, f)
		}
		at = next
	}
	if len(out) > 0 {
		return out
	}
	symbol := ""
	if ohmWords.MatchString(text) {
		symbol = "Ω"
	}
	if m := overForm.FindStringSubmatchIndex(text); m != nil {
		return []figure{{text: "OL", symbol: symbol, start: m[2], end: m[3]}}
	}
	if at := noContinuity.FindStringIndex(text); at != nil {
		return []figure{{text: "OL", symbol: symbol, start: at[0], end: at[1], guessed: true}}
	}
	if symbol != "" {
		return []figure{{symbol: symbol, start: len(text), end: len(text)}}
	}
	if at := noVolts.FindStringIndex(text); at != nil { // the step, but no figure: nobody said 0
		return []figure{{symbol: "V", start: at[0], end: at[1], bare: true}}
	}
	return nil
}

// nextFigure reads the next number at or behind text[from], and where to go on.
// What is no reading has an empty text.
func nextFigure(text string, from int) (figure, int) {
	at := figureStart.FindStringIndex(text[from:])
	if at == nil {
		return figure{}, len(text)
	}
	start := from + at[0]
	f, rest, ok := faulttree.ScanFigure(text[start:])
	if !ok {
		return figure{}, start + 1
	}
	end := len(text) - len(rest)
	if partOfName(text[:start], text[start:end], rest) {
		return figure{}, end + restOfWord(rest)
	}
	if contact.Denied(text[:start]) {
		return figure{}, end
	}
	fig := figure{text: f.String(), symbol: f.Symbol, current: f.Current, start: start, end: end}
	fig.guessed = asked.MatchString(text[:start]) // "should I get 0 V": nobody has read it
	if f.Prefix != 0 && f.Symbol == "" {
		fig.symbol, fig.text = "Ω", f.String()+"Ω" // 5k is said of ohms
	}
	if r, next, ok := rangeFrom(f, wanders.MatchString(text[:start]), rest, len(text)); ok {
		r.start = start
		return r, next
	}
	switch {
	case f.Symbol == "A" && f.Prefix == 0 && ratingOf[f.Digits]:
		return figure{}, end // the size of a receptacle or a breaker
	case (f.Digits == "1" || f.Digits == "2") && f.Symbol == "" && legBefore.MatchString(text[:start]):
		return figure{}, end // the name of a leg
	}
	fig.nominal = nominals[f.Digits] && f.Symbol == "V"
	fig.bare = f.Symbol == "" && f.Prefix == 0
	return fig, end
}

// rangeFrom reads the upper end of a range that begins with f, "3 to 8 V", from
// what follows f; size is that of the whole text. Two bare numbers are a range
// only where the words say that the reading wanders.
func rangeFrom(f faulttree.Figure, wanders bool, rest string, size int) (fig figure, next int, ok bool) {
	join := rangeJoin
	if wanders {
		join = wanderJoin
	}
	at := join.FindStringIndex(rest)
	if at == nil {
		return figure{}, 0, false
	}
	g, after, ok := faulttree.ScanFigure(rest[at[1]:])
	if !ok || strings.HasPrefix(g.Digits, "-") {
		return figure{}, 0, false
	}
	if g.Symbol == "" {
		g.Symbol, g.Prefix = f.Symbol, f.Prefix
	}
	if f.Symbol == "" {
		f.Symbol, f.Prefix = g.Symbol, g.Prefix
	}
	next = size - len(after)
	if !wanders && (g.Symbol == "" || g.Symbol == "A") || partOfWord(after) {
		return figure{}, next + restOfWord(after), true // 14-50, and no reading
	}
	return figure{text: f.String() + " to " + g.String(), symbol: g.Symbol, current: g.Current, end: next}, next, true
}

// partOfName reports whether a number is part of a name, of a word or of a
// number in words, and so no reading: L1, 14-50, 120/240, 60ish, two hundred
// 40, 3 or 4.
func partOfName(before, number, after string) bool {
	last, _ := utf8.DecodeLastRuneInString(before)
	switch {
	case before == "", last == ' ', strings.ContainsRune("(:;!?\"'=~≈>,", last):
	default:
		return true
	}
	if last == ',' && len(before) > 1 && unicode.IsDigit(rune(before[len(before)-2])) {
		return true
	}
	if partOfWord(after) || rowBefore.MatchString(before) && !legName(before) {
		return true
	}
	if m := wordBefore.FindStringSubmatch(before); m != nil && numberWords[strings.ToLower(m[1])] && !legName(before) {
		return true
	}
	m := wordAfter.FindStringSubmatch(after)
	if m == nil {
		return false
	}
	word := strings.ToLower(m[1])
	bareNumber := !strings.ContainsFunc(number, unicode.IsLetter)
	return numberWords[word] || bareNumber && (contact.OtherUnit(word) || after[0] == ' ' && unicode.IsDigit(rune(word[0])) && !legName(before))
}

// legName reports whether text ends in "leg", "leg one" and so on.
func legName(text string) bool {
	text = strings.TrimRight(text, " ")
	for _, n := range []string{"one", "two", "1", "2"} {
		text = strings.TrimSuffix(text, n)
	}
	return legBefore.MatchString(strings.TrimRight(text, " "))
}

// partOfWord reports whether a number runs on into what follows it: 5th,
// 120/240, 1,000,000, 60-ish, 50%.
func partOfWord(after string) bool {
	if after == "" {
		return false
	}
	r, size := utf8.DecodeRuneInString(after)
	switch {
	case unicode.IsLetter(r), unicode.IsDigit(r), r == '%', r == '°', r == '/':
		return true
	case r == '-':
		next, _ := utf8.DecodeRuneInString(after[size:])
		return unicode.IsLetter(next)
	case r == '.', r == ',':
		next, _ := utf8.DecodeRuneInString(after[size:])
		return unicode.IsDigit(next)
	}
	return false
}

// restOfWord is how much of text belongs to the word that was refused.
func restOfWord(text string) int {
	if i := strings.IndexByte(text, ' '); i >= 0 {
		return i
	}
	return len(text)
}

// placeFollows reports whether the text goes on behind f to say where it was read.
func (f figure) placeFollows(text string) bool { return placeFollows.MatchString(text[f.end:]) }

// clause is a figure with the words that belong to it.
type clause struct {
	figure
	words string
}

const mostClauses = 4

var (
	strongSplit = regexp.MustCompile(`(?i)[,;]|\. |\b(?:but|while|whereas|yet)\b`)
	weakSplit   = regexp.MustCompile(`(?i)\b(?:and|then)\b`)
)

// clauses cuts a query such as "83 on L1 and 157 on L2" into its readings, each
// with the words that belong to it. The words between two figures are parted
// where the query parts them; figuresFirst tells which way where it does so
// twice, or never.
func clauses(text string, figuresFirst func(before, after string) bool) []clause {
	figures := figuresIn(text)
	if len(figures) == 0 {
		return nil
	}
	out := make([]clause, len(figures))
	last := len(figures) - 1
	first := figuresFirst(text[:figures[0].start], text[figures[last].end:])
	words := text[:figures[0].start]
	for i, f := range figures {
		next := len(text)
		if i < last {
			next = figures[i+1].start
		}
		own, rest := text[f.end:next], ""
		if i < last {
			own, rest = splitBetween(own, first)
		}
		out[i] = clause{f, words + " ; " + own}
		words = rest
	}
	return out
}

// splitBetween cuts the words between two figures in two.
func splitBetween(between string, figuresFirst bool) (left, right string) {
	for _, form := range []*regexp.Regexp{strongSplit, weakSplit} {
		if at := form.FindAllStringIndex(between, -1); len(at) > 0 {
			cut := at[0]
			if figuresFirst {
				cut = at[len(at)-1]
			}
			return between[:cut[0]], between[cut[1]:]
		}
	}
	if figuresFirst {
		return between, ""
	}
	return "", between
}
