package faulttree

import (
	"cmp"
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
	rangeForm   = regexp.MustCompile(`^(` + number + `)\s*(\D*?)\s*(?:-|–|—|\.\.+|…|to|and)\s*(` + number + `)\s*(\D*)$`)
	wanderWords = regexp.MustCompile(`(?i)^(?:wanders?|wandering|drifts?|drifting|moves?|jumps?|between|from)\b[:\s]*(?:between|from)?\s*`)
	overForm    = regexp.MustCompile(`(?i)^[-+]?\s*(?:\.?[o0]\.?\s?[l]\.?|over[\s-]?(?:load|range|limit|flow)?|overload)\s*(?:[mkµ]?(?:v|ω|ohms?|a|volts?|amps?)?)?$`)
	cannotForm  = regexp.MustCompile(`(?i)^(?:not[ -]possible|cannot(?: measure)?|can not(?: measure)?|can't(?: measure)?|could not(?: measure)?|skip(?:ped)?)\b[:,\s]*(.*)$`)
	loneOne     = regexp.MustCompile(`^[1Il]\s*\.$`)
)

func parseReading(text string, q Quantity) (Reading, error) {
	s := strings.TrimSpace(Tidy(text))
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
	if digits, unit, ok := splitFigure(body); ok {
		if body != s {
			return Reading{}, errors.New("A wandering reading needs the lowest and the highest number seen, such as “wanders 3-8”.")
		}
		return parseSingle(digits, unit, q)
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
	note := cmp.Or(a.Note, b.Note)
	return Reading{Quality: Wandering, Low: a.Low, High: b.High, Resolution: max(a.Resolution, b.Resolution), Note: note}, nil
}

func parseSingle(digits, unit string, q Quantity) (Reading, error) {
	f, ok := figureOf(digits, unit)
	if !ok {
		return Reading{}, fmt.Errorf("“%s” is not a unit that a meter shows here. Expected %s.", strings.TrimSpace(unit), q.Unit.Symbol())
	}
	note, err := f.checkUnit(q.Unit)
	if err != nil {
		return Reading{}, err
	}
	value, resolution, err := f.Amount()
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

// checkUnit refuses a unit or a prefix that a meter set for the asked unit does
// not show, and words a note where a prefix is often misread.
func (f Figure) checkUnit(asked Unit) (note string, err error) {
	base := cmp.Or(f.Symbol, asked.Symbol())
	direct := asked == VoltsDC || asked == AmpsDC
	switch {
	case base != asked.Symbol():
		return "", fmt.Errorf("%s typed where %s are asked. Check the dial of the meter.", unitWord(base), strings.ToLower(unitWord(asked.Symbol())))
	case base != "Ω" && (f.Current == "DC" && !direct || f.Current == "AC" && direct):
		return "", fmt.Errorf("%s typed where %s is asked. Check the dial of the meter: the wrong function reads near zero on a live circuit.", f.Current, asked.Function())
	case f.Prefix == 'M' && base != "Ω":
		return "", fmt.Errorf("M%s would be millions. If the display shows a small m, type m%s.", base, base)
	case f.Prefix == 'm' && base == "Ω":
		return "", errors.New("A small m would be thousandths of an ohm, which no hand meter shows. If the display shows MΩ, type it with a capital M.")
	case f.Prefix == 'm' && base == "V":
		return "Thousandths of a volt: make sure the display shows an m before the V.", nil
	}
	return "", nil
}

func unitWord(symbol string) string {
	return map[string]string{"V": "Volts", "Ω": "Ohms", "A": "Amps"}[symbol]
}
