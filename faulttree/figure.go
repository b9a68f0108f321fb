package faulttree

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
)

// Figure is a number with its unit as a person writes it: on a display's
// account, in a document, or in the words of a search. There is one grammar
// for all of them: "118", "58v", "0,4 ohm", "5.2 kΩ", "5k2", "12.6 V DC".
type Figure struct {
	Digits  string // as written, with its sign and its decimal point or comma
	Prefix  rune   // 'k', 'M', 'm', 'µ' or 0
	Symbol  string // "V", "Ω", "A", or "" where no unit stands
	Current string // "AC", "DC", or "" where it is not said
}

// String is the figure with the symbol of its unit: "5.2 kΩ".
func (f Figure) String() string {
	unit := f.Symbol
	if f.Prefix != 0 {
		unit = string(f.Prefix) + unit
	}
	return strings.TrimSpace(f.Digits + " " + unit)
}

const number = `[-+]?(?:\d+(?:[.,]\d*)*|[.,]\d+)`

var (
	figureForm = regexp.MustCompile(`^(` + number + `)\s*(\D*)$`)
	codeForm   = regexp.MustCompile(`^([-+]?\d+)([kKMRrmµ])(\d+)\s*(\D*)$`)
	powers     = map[rune]int{'k': 3, 'M': 6, 'm': -3, 'µ': -6}
)

// unspaced is a unit without what may stand between its parts.
var unspaced = strings.NewReplacer(" ", "", "-", "")

var lookAlikes = strings.NewReplacer("\u2212", "-", "\u2126", "Ω", "\u03bc", "µ", "′", "'", "’", "'")

// Tidy is text with every kind of space, thin and zero-width ones too, made a
// plain space, and signs that look alike made one.
func Tidy(text string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '\u200b', '\u200c', '\u200d', '\u2060', '\ufeff':
			return ' '
		}
		if unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, lookAlikes.Replace(text))
}

// ParseFigure reads a text that is one figure and nothing else.
func ParseFigure(text string) (Figure, error) {
	digits, unit, ok := splitFigure(strings.TrimSpace(Tidy(text)))
	if ok {
		if f, ok := figureOf(digits, unit); ok {
			return f, nil
		}
	}
	return Figure{}, fmt.Errorf("%q is not a number with a unit; expected a form such as 30 V, 0.3 ohm, 1 MΩ or 5 mA", text)
}

// ScanFigure reads the figure that text begins with, and gives what follows
// it. Text is tidy. A bare m is not taken for a prefix here: in running words
// it stands for metres.
func ScanFigure(text string) (f Figure, rest string, ok bool) {
	at := scanNumber.FindStringIndex(text)
	if at == nil {
		return f, text, false
	}
	for end := at[1]; ; {
		digits, unit, ok := splitFigure(text[:end])
		if ok {
			if g, ok := figureOf(digits, unit); ok && (g.Symbol != "" || g.Prefix != 'm' && g.Prefix != 'µ') {
				f, rest = g, text[end:]
			}
		}
		next := scanWord.FindStringIndex(text[end:])
		if next == nil || end-at[1] > longestUnit {
			return f, rest, f.Digits != ""
		}
		end += next[1]
	}
}

const longestUnit = 24 // bytes of "milli amperes AC" and its like

var (
	scanNumber = regexp.MustCompile(`^[-+]?(?:\d+[kKMRr]\d+|\d+(?:[.,]\d+)?|[.,]\d+)`)
	scanWord   = regexp.MustCompile(`^ ?[-.]?(?:µ?\pL+|[~⎓=])`)
)

// splitFigure parts a number from what follows it; "4R7" and "5k2" have their
// letter at the decimal point.
func splitFigure(s string) (digits, unit string, ok bool) {
	if m := codeForm.FindStringSubmatch(s); m != nil {
		letter, unit := m[2], m[4]
		if letter == "R" || letter == "r" {
			letter = ""
		}
		if unit == "" && letter != "m" && letter != "µ" {
			unit = "Ω" // so resistors are marked
		}
		return m[1] + "." + m[3], letter + unit, true
	}
	m := figureForm.FindStringSubmatch(s)
	if m == nil {
		return "", "", false
	}
	return m[1], m[2], true
}

// figureOf puts digits and a unit together; ok is false where the unit is
// none.
func figureOf(digits, unit string) (f Figure, ok bool) {
	f.Digits = digits
	unit = strings.Trim(unspaced.Replace(unit), ".")
	if unit == "" {
		return f, true
	}
	unit, f.Current = cutCurrent(unit)
	unit, f.Symbol = CutUnit(unit)
	switch unit {
	case "":
	case "k", "K", "kilo", "Kilo", "kil":
		f.Prefix = 'k'
	case "M", "meg", "mega", "Mega", "Meg":
		f.Prefix = 'M'
	case "m", "milli", "Milli":
		f.Prefix = 'm'
	case "µ", "u", "micro":
		f.Prefix = 'µ'
	default:
		return Figure{}, false
	}
	word := len(unit) > 2
	return f, f.Symbol != "" || f.Prefix != 0 && !word
}

// cutCurrent takes the mark of a kind of current from either end of a unit:
// "VAC", "V~", "rms volts".
func cutCurrent(unit string) (rest, current string) {
	lower := strings.ToLower(unit)
	for _, mark := range []struct{ text, current string }{
		{"rms", "AC"}, {"ac", "AC"}, {"~", "AC"}, {"dc", "DC"}, {"⎓", "DC"}, {"=", "DC"},
	} {
		switch {
		case len(lower) <= len(mark.text):
		case strings.HasSuffix(lower, mark.text):
			return unit[:len(unit)-len(mark.text)], mark.current
		case strings.HasPrefix(lower, mark.text):
			return unit[len(mark.text):], mark.current
		}
	}
	return unit, ""
}

var unitWords = []struct{ text, symbol string }{
	{"volts", "V"}, {"volt", "V"}, {"v", "V"},
	{"ohms", "Ω"}, {"ohm", "Ω"}, {"ω", "Ω"}, {"r", "Ω"},
	{"amperes", "A"}, {"ampere", "A"}, {"amps", "A"}, {"amp", "A"}, {"a", "A"},
}

// CutUnit takes the name of a unit, a word or a symbol in any case, from the
// end of text: "kohm" is "k" and "Ω". The symbol is "" where none stands.
func CutUnit(text string) (rest, symbol string) {
	runes := []rune(text)
	lower := make([]rune, len(runes)) // as many letters as runes
	for i, r := range runes {
		lower[i] = unicode.ToLower(r)
	}
	for _, w := range unitWords {
		if strings.HasSuffix(string(lower), w.text) {
			return string(runes[:len(runes)-len([]rune(w.text))]), w.symbol
		}
	}
	return text, ""
}

// Amount is the figure's value, exactly, and the place value of its last
// digit. The error is a sentence that says why the digits are refused.
func (f Figure) Amount() (value, resolution Amount, err error) {
	digits := f.Digits
	points, commas := strings.Count(digits, "."), strings.Count(digits, ",")
	whole, fraction, decimal := strings.Cut(strings.Replace(digits, ",", ".", 1), ".")
	unsigned := strings.TrimLeft(whole, "+-")
	switch {
	case points+commas > 1:
		return 0, 0, fmt.Errorf("“%s” has more than one decimal mark. Type one number, such as 118.4.", digits)
	case commas == 1 && len(fraction) == 3 && strings.Trim(unsigned, "0") != "":
		return 0, 0, fmt.Errorf("“%s” could mean %s.%s or %s%s. Type it with a point, or without the comma.", digits, unsigned, fraction, unsigned, fraction)
	case decimal && fraction == "":
		return 0, 0, fmt.Errorf("“%s” ends in a decimal mark. Type the digits after it, or leave it off.", digits)
	}
	places := 9 + powers[f.Prefix] - len(fraction)
	all := strings.TrimLeft(unsigned+fraction, "0")
	if places < 0 {
		return 0, 0, fmt.Errorf("“%s” has more decimals than any meter shows.", digits)
	}
	if len(all)+places > 18 || places > 18 {
		return 0, 0, fmt.Errorf("“%s” is larger than any meter shows.", digits)
	}
	resolution = 1
	for range places {
		resolution *= 10
	}
	for _, d := range all {
		value = value*10 + Amount(d-'0')
	}
	value *= resolution
	if strings.HasPrefix(digits, "-") {
		value = -value
	}
	return value, resolution, nil
}
