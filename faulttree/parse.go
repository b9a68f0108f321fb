package faulttree

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"
)

const longestReading = 80 // characters; a display shows far fewer

// ParseReading reads what a person types for quantity q: "118", "118.4 V",
// "0,4", "58v", "5.2 kΩ", "5k2", "OL", "wanders 3-8 V", "not possible:
// reason". The error is a sentence for the reader that says why the text is
// refused and what to do.
func ParseReading(text string, q Quantity) (Reading, error) {
	r, err := parseReading(text, q)
	r.Text = strings.TrimSpace(text)
	return r, err
}

var (
	number      = `[-+]?(?:\d+(?:[.,]\d*)*|[.,]\d+)`
	singleForm  = regexp.MustCompile(`^(` + number + `)\s*(\D*)$`)
	codeForm    = regexp.MustCompile(`^(\d+)([kKMRrmµ])(\d+)\s*(\D*)$`)
	rangeForm   = regexp.MustCompile(`^(` + number + `)\s*(\D*?)\s*(?:-|–|—|\.\.+|…|to|and)\s*(` + number + `)\s*(\D*)$`)
	wanderWords = regexp.MustCompile(`(?i)^(?:wanders?|wandering|drifts?|drifting|moves?|jumps?|between|from)\b[:\s]*(?:between|from)?\s*`)
	overForm    = regexp.MustCompile(`(?i)^[-+]?\s*(?:\.?[o0]\.?\s?[l]\.?|over[\s-]?(?:load|range|limit|flow)?|overload)\s*(?:[mkµ]?(?:v|ω|ohms?|a|volts?|amps?)?)?$`)
	cannotForm  = regexp.MustCompile(`(?i)^(?:not[ -]possible|cannot(?: measure)?|can not(?: measure)?|can't(?: measure)?|could not(?: measure)?|skip(?:ped)?)\b[:,\s]*(.*)$`)
	loneOne     = regexp.MustCompile(`^[1Il]\s*\.$`)
)

var tidy = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2212", "-", "\u2126", "Ω", "\u03bc", "µ", "\t", " ", "′", "'")

func parseReading(text string, q Quantity) (Reading, error) {
	s := strings.TrimSpace(tidy.Replace(text))
	switch {
	case s == "":
		return Reading{}, errors.New("Type what the meter shows.")
	case !utf8.ValidString(s) || utf8.RuneCountInString(s) > longestReading:
		return Reading{}, errors.New("That is longer than any display. Type only what the meter shows.")
	case loneOne.MatchString(s):
		return Reading{}, errors.New("A lone 1 with a point can be how a meter shows over-range. Type OL if it is that, or 1.0 if it is a reading of one.")
	case overForm.MatchString(s):
		return Reading{Quality: OverRange}, nil
	}
	if m := cannotForm.FindStringSubmatch(s); m != nil {
		return NotTaken(strings.TrimSpace(m[1])), nil
	}
	body := wanderWords.ReplaceAllString(s, "")
	if m := codeForm.FindStringSubmatch(body); m != nil {
		return parseSingle(m[1]+"."+m[3], codePrefix(m[2])+m[4], q)
	}
	if m := singleForm.FindStringSubmatch(body); m != nil {
		if body != s {
			return Reading{}, errors.New("A wandering reading needs the lowest and the highest number seen, such as “wanders 3-8”.")
		}
		return parseSingle(m[1], m[2], q)
	}
	if m := rangeForm.FindStringSubmatch(body); m != nil {
		lowUnit := m[2]
		if strings.TrimSpace(lowUnit) == "" {
			lowUnit = m[4]
		}
		return parseWander(m[1], lowUnit, m[3], m[4], q)
	}
	return Reading{}, fmt.Errorf("“%s” is not a reading. Type the number on the display, such as %s, or OL, or “wanders 3-8”.", s, example(q.Unit))
}

func example(u Unit) string {
	switch u {
	case Ohms:
		return "0.2 or 5.2 kΩ"
	case AmpsAC, AmpsDC:
		return "1.5"
	case VoltsDC:
		return "12.65"
	}
	return "118.4"
}

// codePrefix turns the letter of 4R7 or 5k2 into a unit prefix.
func codePrefix(letter string) string {
	switch letter {
	case "R", "r":
		return "Ω"
	case "K":
		return "k"
	}
	return letter
}

func parseWander(low, lowUnit, high, highUnit string, q Quantity) (Reading, error) {
	a, err := parseSingle(low, lowUnit, q)
	if err != nil {
		return Reading{}, err
	}
	b, err := parseSingle(high, highUnit, q)
	if err != nil {
		return Reading{}, err
	}
	if a.Low > b.Low {
		a, b = b, a
	}
	note := a.Note
	if note == "" {
		note = b.Note
	}
	return Reading{Quality: Wandering, Low: a.Low, High: b.High, Resolution: max(a.Resolution, b.Resolution), Note: note}, nil
}

func parseSingle(digits, unit string, q Quantity) (Reading, error) {
	exponent, note, err := unitExponent(unit, q.Unit)
	if err != nil {
		return Reading{}, err
	}
	value, resolution, err := exactAmount(digits, exponent)
	if err != nil {
		return Reading{}, err
	}
	if value < 0 && !q.Unit.Signed() {
		return Reading{}, fmt.Errorf("%s has no sign: a meter shows no minus there. Check that the dial stands on %s.", measured(q.Unit), q.Unit.Function())
	}
	if q.Most > 0 && value.Abs() > q.Most {
		return Reading{}, fmt.Errorf("%s is more than can stand here (at most %s). Check the point, the prefix and the range.", value.With(q.Unit), q.Most.With(q.Unit))
	}
	if digits == "1" && note == "" {
		note = "If the display shows a 1 at its left edge and nothing else, that is over-range: type OL."
	}
	return Reading{Quality: Steady, Low: value, High: value, Resolution: resolution, Note: note}, nil
}

func measured(u Unit) string {
	switch u {
	case Ohms:
		return "Resistance"
	case AmpsAC:
		return "Alternating current"
	}
	return "Alternating voltage"
}

// exactAmount reads digits with one decimal point or comma, times ten to the
// exponent, and the place value of the last digit.
func exactAmount(digits string, exponent int) (value, resolution Amount, err error) {
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
	places := 9 + exponent - len(fraction)
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

// unitExponent reads a unit as typed, against the unit that is asked for, and
// gives the power of ten of its prefix.
func unitExponent(typed string, asked Unit) (exponent int, note string, err error) {
	u := strings.Trim(strings.ReplaceAll(typed, " ", ""), ".")
	if u == "" {
		return 0, "", nil
	}
	base, prefix, current, ok := splitUnit(u)
	if !ok {
		return 0, "", fmt.Errorf("“%s” is not a unit that a meter shows here. Expected %s.", strings.TrimSpace(typed), asked.Symbol())
	}
	if base == "" {
		base = asked.Symbol()
	}
	if base != asked.Symbol() {
		return 0, "", fmt.Errorf("%s typed where %s are asked. Check the dial of the meter.", unitWord(base), strings.ToLower(unitWord(asked.Symbol())))
	}
	direct := asked == VoltsDC || asked == AmpsDC
	if base != "Ω" && (current == "dc" && !direct || current == "ac" && direct) {
		return 0, "", fmt.Errorf("%s typed where %s is asked. Check the dial of the meter: the wrong function reads near zero on a live circuit.", strings.ToUpper(current), asked.Function())
	}
	switch prefix {
	case 'k', 'K':
		return 3, "", nil
	case 'M':
		if base != "Ω" {
			return 0, "", fmt.Errorf("M%s would be millions. If the display shows a small m, type m%s.", base, base)
		}
		return 6, "", nil
	case 'm':
		if base == "Ω" {
			return 0, "", errors.New("A small m would be thousandths of an ohm, which no hand meter shows. If the display shows MΩ, type it with a capital M.")
		}
		if base == "V" {
			note = "Thousandths of a volt: make sure the display shows an m before the V."
		}
		return -3, note, nil
	case 'µ':
		return -6, "", nil
	}
	return 0, "", nil
}

func unitWord(symbol string) string {
	return map[string]string{"V": "Volts", "Ω": "Ohms", "A": "Amps"}[symbol]
}

// splitUnit takes "mVAC", "kohm", "V~", "M" apart. A bare prefix has base "".
func splitUnit(u string) (base string, prefix rune, current string, ok bool) {
	lower := strings.ToLower(u)
	for _, mark := range []struct{ text, current string }{
		{"rms", "ac"}, {"ac", "ac"}, {"~", "ac"}, {"dc", "dc"}, {"⎓", "dc"}, {"=", "dc"},
	} {
		if strings.HasSuffix(lower, mark.text) && len(lower) > len(mark.text) {
			u, current = u[:len(u)-len(mark.text)], mark.current
			break
		}
		if strings.HasPrefix(lower, mark.text) && len(lower) > len(mark.text) {
			u, current = u[len(mark.text):], mark.current
			break
		}
	}
	lower = strings.ToLower(u)
	for _, b := range []struct{ text, symbol string }{
		{"volts", "V"}, {"volt", "V"}, {"v", "V"},
		{"ohms", "Ω"}, {"ohm", "Ω"}, {"ω", "Ω"}, {"r", "Ω"},
		{"amperes", "A"}, {"ampere", "A"}, {"amps", "A"}, {"amp", "A"}, {"a", "A"},
	} {
		if strings.HasSuffix(lower, b.text) {
			base, u = b.symbol, u[:len(u)-len(suffixAsTyped(u, b.text))]
			break
		}
	}
	switch u {
	case "":
		return base, 0, current, base != ""
	case "k", "K", "M", "m", "µ", "u":
		p := []rune(u)[0]
		if p == 'u' {
			p = 'µ'
		}
		return base, p, current, true
	case "kilo", "Kilo":
		return base, 'k', current, base != ""
	case "meg", "mega", "Mega", "Meg":
		return base, 'M', current, base != ""
	case "milli", "Milli":
		return base, 'm', current, base != ""
	}
	return "", 0, "", false
}

// suffixAsTyped is the end of u that lower-cases to suffix; Ω and ω differ in
// no byte count, but the text must be cut where it stands.
func suffixAsTyped(u, suffix string) string {
	runes := []rune(u)
	return string(runes[len(runes)-utf8.RuneCountInString(suffix):])
}
