package search

import (
	"regexp"
	"strings"
)

// figure is a number in a query, as the reading it may be.
type figure struct {
	text       string // for faulttree.ParseReading: "58 V", "3 V to 8 V", "OL"
	symbol     string // "V", "Ω", "A", or "" where no unit was typed
	current    string // "AC", "DC" or ""
	start, end int    // bytes of the query it takes
	nominal    bool   // a figure that often is part of a name, such as 120 V
	loose      bool   // nothing about it says that it is a reading
}

var (
	figureForm = regexp.MustCompile(`[-−+]?(?:\d+(?:[.,]\d+)?|[.,]\d+)|(?i:\bzero\b)`)
	twoForm    = regexp.MustCompile(`^\s*(?:-|–|—|to|and)\s*((?:\d+(?:[.,]\d+)?|[.,]\d+))`)
	codeForm   = regexp.MustCompile(`^[kKMRr]\d+\b`)
	unitForm   = regexp.MustCompile(`^[ \x{a0}]?(?i:(k|kilo|kil|meg|mega|milli|µ|micro|m|u)?[ -]?(volts|volt|vac|vdc|v|ohms|ohm|Ω|Ω|ω|amperes|ampere|amps|amp|a))(?:[ ]?(?i:(ac|dc|rms)))?(?:[^\pL\pN]|$)`)
	bareForm   = regexp.MustCompile(`^[ \x{a0}]?([kKM])(?:[^\pL\pN]|$)`)
	overForm   = regexp.MustCompile(`(?i)(?:^|[^\pL\pN])(o\.?l|0l|over[ -]?range|over[ -]?load|over[ -]?limit)(?:[^\pL\pN]|$)`)
	leadsOn    = regexp.MustCompile(`^[\s,]*(?i:between|from|on|at|across|to|in|with|when|under|,|:|$)`)
	readWords  = regexp.MustCompile(`(?i)\b(?:reads?|reading|shows?|showing|measured?|measures|got|meter|see|display)\b`)
	legBefore  = regexp.MustCompile(`(?i)(?:^|[^\pL])(?:legs?|lines?|hots?|phases?|l)[ -]?$`)
	wandersTo  = regexp.MustCompile(`(?i)\b(?:wander\w*|drift\w*|jump\w*|moves?|between)\s*$`)
	ratingOf   = map[string]bool{"15": true, "20": true, "30": true, "50": true, "100": true, "200": true}
	nominals   = map[string]bool{"12": true, "110": true, "115": true, "120": true, "125": true, "208": true, "220": true, "230": true, "240": true, "250": true}
)

// figuresIn finds the figures of a query that may be readings: those with a
// unit, and those that stand where a reading would; else a loose one, else an
// over-range.
func figuresIn(text string) []figure {
	var out, loose []figure
	end := 0
	for _, at := range figureForm.FindAllStringIndex(text, 60) {
		if at[0] < end {
			continue // taken by the figure before, as its upper end
		}
		f, ok := figureAt(text, at[0], at[1])
		switch {
		case !ok:
		case f.symbol != "", f.leadsOn(text), readWords.MatchString(text[:f.start]):
			out, end = append(out, f), f.end
		case len(f.text) > 1 && len(loose) == 0: // a lone digit is a count
			f.loose = true
			loose = append(loose, f)
		}
	}
	if len(out) == 0 {
		if out = loose; len(out) > 0 {
			return out
		}
		if m := overForm.FindStringSubmatchIndex(text); m != nil {
			out = append(out, figure{text: "OL", start: m[2], end: m[3]})
		}
	}
	return out
}

// leadsOn reports whether the text goes on behind f to say where it was read.
func (f figure) leadsOn(text string) bool { return leadsOn.MatchString(text[f.end:]) }

// clause is a figure with the words that belong to it.
type clause struct {
	figure
	words string
}

const mostClauses = 4

// clauses cuts a query such as "83 on L1 and 157 on L2" into its readings. One
// figure has all the words. Of several, each has those that follow it, or
// those before it where the query puts the figure last; what stands before
// the first of the former belongs to all.
func clauses(text string) []clause {
	figures := figuresIn(text)
	if len(figures) == 0 {
		return nil
	}
	if len(figures) == 1 {
		f := figures[0]
		return []clause{{f, text[:f.start] + " ; " + text[f.end:]}}
	}
	figures = figures[:min(len(figures), mostClauses)]
	last := figures[len(figures)-1]
	follows := last.leadsOn(text) && strings.TrimSpace(text[last.end:]) != ""
	var out []clause
	for i, f := range figures {
		c := clause{figure: f}
		switch {
		case follows && i+1 < len(figures):
			c.words = text[:figures[0].start] + " ; " + text[f.end:figures[i+1].start]
		case follows:
			c.words = text[:figures[0].start] + " ; " + text[f.end:]
		case i == 0:
			c.words = text[:f.start]
		default:
			c.words = text[figures[i-1].end:f.start]
		}
		out = append(out, c)
	}
	return out
}

// figureAt reads the number at text[start:end] with its unit.
func figureAt(text string, start, end int) (figure, bool) {
	number := strings.Replace(text[start:end], "−", "-", 1)
	if strings.EqualFold(number, "zero") {
		number = "0"
	}
	if before := text[:start]; before != "" {
		switch c := before[len(before)-1]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '.', c == ',', c == '/', c == '_', c >= 0x80:
			return figure{}, false // part of L1, 120/240, 1,000,000 …
		case strings.HasPrefix(number, "-") && c != ' ':
			number, start = number[1:], start+1
		}
		if c := before[len(before)-1]; c == '-' {
			return figure{}, false // part of 14-50, TT-30
		}
	}
	if strings.HasPrefix(text[end:], "/") || strings.HasPrefix(text[end:], ",") && digitAt(text, end+1) || strings.HasPrefix(text[end:], ".") && digitAt(text, end+1) {
		return figure{}, false
	}
	if (number == "1" || number == "2") && legBefore.MatchString(text[:start]) {
		return figure{}, false // the name of a leg
	}
	f := figure{start: start, end: end}
	if m := codeForm.FindString(text[end:]); m != "" {
		f.text, f.symbol, f.end = number+m, "Ω", end+len(m)
		return f, true
	}
	first, ok := unitAt(text, end)
	if two := twoForm.FindStringSubmatchIndex(text[first.end:]); two != nil {
		second, ok2 := unitAt(text, first.end+two[1])
		high := text[first.end+two[2] : first.end+two[3]]
		if ok2 && second.symbol != "A" || wandersTo.MatchString(text[:start]) && second.end <= len(text) {
			f.symbol, f.current, f.end = second.symbol, second.current, second.end
			f.text = number + first.or(second).suffix() + " to " + high + second.or(first).suffix()
			return f, true
		}
	}
	if !ok {
		if digitOrLetterAt(text, end) {
			return figure{}, false // a word of its own, such as 5th
		}
		f.text = number
		return f, true
	}
	if first.symbol == "A" && first.prefix == "" && ratingOf[number] {
		return figure{}, false // the size of a receptacle or a breaker
	}
	f.text, f.symbol, f.current, f.end = number+first.suffix(), first.symbol, first.current, first.end
	f.nominal = nominals[number] && first.symbol == "V"
	return f, true
}

// typedUnit is a unit behind a number.
type typedUnit struct {
	prefix, symbol, current string
	end                     int // where the text goes on
}

func (u typedUnit) suffix() string {
	if u.prefix == "" && u.symbol == "" {
		return ""
	}
	return " " + u.prefix + u.symbol
}

func (u typedUnit) or(v typedUnit) typedUnit {
	if u.symbol == "" && u.prefix == "" {
		return v
	}
	return u
}

// unitAt reads the unit that begins at text[at:].
func unitAt(text string, at int) (typedUnit, bool) {
	u := typedUnit{end: at}
	m := unitForm.FindStringSubmatchIndex(text[at:])
	if m == nil {
		if m = bareForm.FindStringSubmatchIndex(text[at:]); m == nil {
			return u, false
		}
		return typedUnit{prefix: text[at+m[2] : at+m[3]], symbol: "Ω", end: at + m[3]}, true
	}
	part := func(i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return text[at+m[2*i] : at+m[2*i+1]]
	}
	u.end = at + m[5]
	switch name := strings.ToLower(part(2)); name[0] {
	case 'v':
		u.symbol, u.current = "V", strings.ToUpper(strings.TrimPrefix(strings.TrimSuffix(name, "olts"), "v"))
		if u.current != "AC" && u.current != "DC" {
			u.current = ""
		}
	case 'a':
		u.symbol = "A"
	default:
		u.symbol = "Ω"
	}
	switch p := part(1); strings.ToLower(p) {
	case "kilo", "kil", "k":
		u.prefix = "k"
	case "meg", "mega":
		u.prefix = "M"
	case "milli":
		u.prefix = "m"
	case "micro", "u", "µ":
		u.prefix = "µ"
	default:
		u.prefix = p // m or M, as typed: the engine refuses what is ambiguous
	}
	if c := strings.ToUpper(part(3)); c == "AC" || c == "DC" {
		u.current, u.end = c, at+m[7]
	}
	return u, true
}

func digitAt(text string, i int) bool { return i < len(text) && text[i] >= '0' && text[i] <= '9' }

func digitOrLetterAt(text string, i int) bool {
	return i < len(text) && (digitAt(text, i) || text[i]|0x20 >= 'a' && text[i]|0x20 <= 'z' || text[i] >= 0x80 || text[i] == '%')
}
