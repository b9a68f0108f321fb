package faulttree

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// What makers write behind the two figures of an accuracy.
const (
	ofReading = `(?:of\s+)?(?:the\s+)?(?:readings?|rdg|rd|r)?\.?`
	ofCounts  = `(?:(?:counts?|cts?|digits?|dgts?|dig|d|lsd|lsb)\b)?\.?`
)

// AccuracyText matches an accuracy in a text: "±(1.0% + 3)", "1.0 % rdg + 3 dgt",
// "0.8%+5". Its groups are the percentage and the counts.
const AccuracyText = `(?i)(?:±\s*)?(?:\(\s*)?(?:±\s*)?(\d+(?:[.,]\d+)?)\s*%\s*` + ofReading + `\s*\+\s*(\d+)\s*` + ofCounts + `(?:\s*\))?`

var (
	accuracyAlone = regexp.MustCompile(`^` + AccuracyText + `$`)
	ofRange       = regexp.MustCompile(`(?i)%\s*(?:of\s+)?(?:the\s+)?(?:range|full|f\.?\s?s)`)
)

// ParseAccuracy reads an accuracy as a maker's booklet gives it, percent of the reading
// and counts of the last digit: "±(1.0% + 3)", "1.0 % rdg + 3 dgt", or without the sign
// of percent "1.2 + 5". Both must be there: nothing is taken for 0. The error says what
// was found and what is expected.
func ParseAccuracy(text string) (Accuracy, error) {
	plain := strings.TrimSpace(strings.NewReplacer("+/-", "±", "+-", "±", "\u00a0", " ", "\u202f", " ", "−", "-").Replace(text))
	if ofRange.MatchString(plain) {
		return Accuracy{}, fmt.Errorf("“%s” gives percent of the range; expected percent of the reading and counts, such as 1.0 %% + 3", short(text))
	}
	found := accuracyAlone.FindStringSubmatch(plain)
	if found == nil { // without the sign of percent
		if percent, counts, ok := strings.Cut(plain, "+"); ok && !strings.Contains(plain, "%") {
			found = accuracyAlone.FindStringSubmatch(percent + "%+" + counts)
		}
	}
	if found == nil {
		return Accuracy{}, fmt.Errorf("“%s” is no accuracy; expected percent of the reading and counts, such as 1.0 %% + 3", short(text))
	}
	return accuracyOf(text, found[1], found[2])
}

// short is the beginning of a text that is quoted.
func short(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// accuracyOf is an accuracy by its two figures, found in a text.
func accuracyOf(text, percent, counts string) (Accuracy, error) {
	p, err := ParseAmount(strings.ReplaceAll(percent, ",", "."))
	if err != nil || p > 100*One {
		return Accuracy{}, fmt.Errorf("“%s” has %s percent; expected 0 to 100", short(text), short(percent))
	}
	n, err := strconv.Atoi(counts)
	if err != nil || n > MostCounts {
		return Accuracy{}, fmt.Errorf("“%s” has %s counts; a meter has at most %d", short(text), short(counts), MostCounts)
	}
	return Accuracy{p, n}, nil
}

// String is the accuracy as booklets write it: "±(1 % + 3)".
func (a Accuracy) String() string { return fmt.Sprintf("±(%s %% + %d)", a.Percent, a.Counts) }
