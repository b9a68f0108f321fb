package session

import (
	"strconv"
	"strings"

	"faultwright/faulttree"
)

// MeterLines are the lines in which a reader describes a meter: its name, the
// counts of its display, and how far AC volts, DC volts, ohms and amps can be
// trusted, as "1.2 + 5": percent of the reading plus counts.
func MeterLines(m faulttree.Meter) []string {
	s := settingOf(m)
	return []string{s.Name, strconv.Itoa(s.FullScale), s.ACVolts.text(), s.DCVolts.text(), s.Resistance.text(), s.Current.text()}
}

// text is an accuracy as the form shows it: "1.2 + 5".
func (a accuracySetting) text() string { return a.Percent + " + " + strconv.Itoa(a.Counts) }

// ParseMeter reads such lines. The error names the first line that cannot be
// understood, and what was expected.
func ParseMeter(lines []string) (faulttree.Meter, error) {
	counts, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(lines[1]), " ", ""))
	if err != nil {
		return faulttree.Meter{}, &meterError{"the counts of the display", lines[1], "6000"}
	}
	s := meterSetting{Name: strings.TrimSpace(lines[0]), FullScale: counts}
	for i, to := range []*accuracySetting{&s.ACVolts, &s.DCVolts, &s.Resistance, &s.Current} {
		text := lines[i+2]
		percent, rest, ok := strings.Cut(strings.ReplaceAll(strings.ReplaceAll(text, "%", ""), ",", "."), "+")
		n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "counts")))
		if !ok || err != nil {
			return faulttree.Meter{}, &meterError{[]string{"AC volts", "DC volts", "ohms", "amps"}[i], text, "1.2 + 5"}
		}
		*to = accuracySetting{strings.TrimSpace(percent), n}
	}
	return s.meter()
}

// meterError is a line of the form that cannot be understood.
type meterError struct{ what, have, like string }

func (e *meterError) Error() string {
	return e.what + " is “" + e.have + "”; expected something like " + e.like
}
