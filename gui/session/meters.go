package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/booklet"
	"faultwright/faulttree/suspect"
)

// MostMeters is the most meters that a reader may keep, mostMeterName the most letters
// of the name of one.
const (
	MostMeters    = 20
	mostMeterName = 80
)

// OwnMeter is a meter of the reader's, with what he copied from its booklet as he wrote
// it: the ranges of the meter are read from that.
type OwnMeter struct {
	faulttree.Meter
	Booklet string
}

// inUse is the meter in use with its booklet.
func (s Settings) inUse() OwnMeter {
	if i := s.At(s.Meter.Name); i >= 0 {
		return OwnMeter{s.Meter, s.Meters[i].Booklet}
	}
	return OwnMeter{Meter: s.Meter}
}

// All is every meter of the reader's, the one in use among them.
func (s Settings) All() []OwnMeter {
	if s.At(s.Meter.Name) < 0 {
		return append([]OwnMeter{{Meter: s.Meter}}, s.Meters...)
	}
	return slices.Clone(s.Meters)
}

// At is where the meter of a name stands among the reader's, -1 for none.
func (s Settings) At(name string) int {
	return slices.IndexFunc(s.Meters, func(m OwnMeter) bool { return m.Name == name })
}

// Use makes the meter of a name the one that visits are begun with. Its low-impedance
// setting is at hand with it.
func (s *Settings) Use(name string) {
	all := s.All()
	if i := slices.IndexFunc(all, func(m OwnMeter) bool { return m.Name == name }); i >= 0 {
		s.Meters = all
		s.Meter = all[i].Meter
		s.Tools &^= suspect.LowImpedance
		if s.Meter.LowImpedance {
			s.Tools |= suspect.LowImpedance
		}
	}
}

// Put keeps m in place of one of [Settings.All], or beside them where at is -1, and uses
// it. The error says what cannot be; then nothing has changed.
func (s *Settings) Put(at int, m OwnMeter) error {
	all := s.All()
	same := slices.IndexFunc(all, func(x OwnMeter) bool { return x.Name == m.Name })
	switch {
	case same >= 0 && same != at:
		return fmt.Errorf("another of your meters is called “%s”; expected a name of its own", m.Name)
	case at >= 0 && at < len(all):
		all[at] = m
	case len(all) >= MostMeters:
		return fmt.Errorf("there are %d meters already, which is the most", len(all))
	default:
		all = append(all, m)
	}
	s.Meters, s.Meter = all, m.Meter
	s.Use(m.Name)
	return nil
}

// Prove notes that a meter of a visit was proved on a day, where it is one of the reader's,
// and reports whether that was not noted yet.
func (s *Settings) Prove(m faulttree.Meter, day time.Time) (noted bool) {
	today := day.Format(time.DateOnly)
	is := func(own faulttree.Meter) bool {
		return own.Name == m.Name && own.Nameless() == m.Nameless() && own.Proved < today
	}
	if is(s.Meter) {
		s.Meter.Proved, noted = today, true
	}
	if i := s.At(m.Name); i >= 0 && is(s.Meters[i].Meter) {
		s.Meters = slices.Clone(s.Meters)
		s.Meters[i].Proved, noted = today, true
	}
	return noted
}

// Drop forgets the meter of a name. The last one is never dropped; where the one in use
// is, the first of the others is used.
func (s *Settings) Drop(name string) {
	all := s.All()
	left := slices.DeleteFunc(slices.Clone(all), func(m OwnMeter) bool { return m.Name == name })
	if len(left) == 0 || len(left) == len(all) {
		return
	}
	s.Meters = left
	if s.Meter.Name == name {
		s.Meter = left[0].Meter
		s.Use(s.Meter.Name)
	}
}

// SetTools says what is at hand beside a multimeter; a low-impedance setting is one of
// the meter in use.
func (s *Settings) SetTools(has suspect.Tools) {
	s.Tools = has
	s.Meter.LowImpedance = has&suspect.LowImpedance != 0
	if i := s.At(s.Meter.Name); i >= 0 {
		s.Meters = slices.Clone(s.Meters)
		s.Meters[i].LowImpedance = s.Meter.LowImpedance
	}
}

// meterSetting is a meter in the file of settings.
type meterSetting struct {
	Name         string          `json:"name"`
	FullScale    int             `json:"counts"`
	ACVolts      accuracySetting `json:"ac_volts"`
	DCVolts      accuracySetting `json:"dc_volts"`
	Resistance   accuracySetting `json:"ohms"`
	Current      accuracySetting `json:"amps"`
	Booklet      string          `json:"booklet,omitempty"`
	LowImpedance bool            `json:"low_impedance,omitempty"`
	Proved       string          `json:"proved,omitempty"`
}

type accuracySetting struct {
	Percent string `json:"percent"`
	Counts  int    `json:"counts"`
}

// metersOf is the meters of a file of settings; what is none, or has the name of an
// earlier one, is left out.
func metersOf(file []meterSetting) []OwnMeter {
	var s Settings
	for _, f := range file[:min(len(file), MostMeters)] {
		if m, err := f.meter(); err == nil && s.At(m.Name) < 0 {
			s.Meters = append(s.Meters, m)
		}
	}
	return s.Meters
}

// meter is a meter of the file with the ranges of its booklet. A booklet that no longer
// makes a meter is kept as text.
func (m meterSetting) meter() (OwnMeter, error) {
	out := OwnMeter{faulttree.Meter{Name: m.Name, FullScale: m.FullScale, LowImpedance: m.LowImpedance, Proved: m.Proved}, m.Booklet}
	for _, a := range []struct {
		from accuracySetting
		to   *faulttree.Accuracy
	}{{m.ACVolts, &out.ACVolts}, {m.DCVolts, &out.DCVolts}, {m.Resistance, &out.Resistance}, {m.Current, &out.Current}} {
		percent, err := faulttree.ParseAmount(a.from.Percent)
		if err != nil {
			return out, fmt.Errorf("%q is not a percentage from 0 to 100", a.from.Percent)
		}
		*a.to = faulttree.Accuracy{Percent: percent, Counts: a.from.Counts}
	}
	if err := out.Check(); err != nil {
		return out, err
	}
	if given, err := booklet.Give(out.Meter, booklet.Read(m.Booklet, m.FullScale)); err == nil {
		out.Meter = given
	}
	return out, nil
}

func settingOf(m OwnMeter) meterSetting {
	accuracy := func(a faulttree.Accuracy) accuracySetting { return accuracySetting{a.Percent.String(), a.Counts} }
	return meterSetting{m.Name, m.FullScale, accuracy(m.ACVolts), accuracy(m.DCVolts), accuracy(m.Resistance), accuracy(m.Current),
		m.Booklet, m.LowImpedance, m.Proved}
}

// MeterForm is a meter as a reader describes it, in the order of its fields.
type MeterForm struct {
	Name, Counts                          string
	ACVolts, DCVolts, Resistance, Current string // "1.2 + 5": percent of the reading plus counts
	Proved                                string // a day; "" is not known
	Booklet                               string // lines of the booklet, as they were copied
}

// FormOf is a meter as its form shows it.
func FormOf(m OwnMeter) MeterForm {
	text := func(a faulttree.Accuracy) string { return a.Percent.String() + " + " + strconv.Itoa(a.Counts) }
	return MeterForm{m.Name, strconv.Itoa(m.FullScale), text(m.ACVolts), text(m.DCVolts), text(m.Resistance), text(m.Current), m.Proved, m.Booklet}
}

// Meter reads the form. Lines are those of the booklet, with what is not understood of
// each, which counts for nothing. The error names the first field that cannot be
// understood, and what was expected.
func (f MeterForm) Meter(today time.Time) (m OwnMeter, lines []booklet.Line, err error) {
	m.Name, m.Proved, m.Booklet = strings.TrimSpace(f.Name), strings.TrimSpace(f.Proved), f.Booklet
	if n := len([]rune(m.Name)); n == 0 || n > mostMeterName {
		return m, nil, fmt.Errorf("the name has %d letters; expected 1 to %d", n, mostMeterName)
	}
	counts, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(f.Counts), " ", ""))
	if err != nil {
		return m, nil, &meterError{"the counts of the display", f.Counts, "6000"}
	}
	m.FullScale = counts
	for _, a := range []struct {
		what, text string
		to         *faulttree.Accuracy
	}{{"AC volts", f.ACVolts, &m.ACVolts}, {"DC volts", f.DCVolts, &m.DCVolts}, {"ohms", f.Resistance, &m.Resistance}, {"amps", f.Current, &m.Current}} {
		if *a.to, err = faulttree.ParseAccuracy(a.text); err != nil {
			return m, nil, &meterError{a.what, a.text, "1.2 + 5"}
		}
	}
	if m.Proved != "" {
		if _, err := time.Parse(time.DateOnly, m.Proved); err != nil || m.Proved > today.Format(time.DateOnly) {
			return m, nil, &meterError{"the day it was last proved", f.Proved, today.Format(time.DateOnly) + ", and no later"}
		}
	}
	if err := m.Check(); err != nil {
		return m, nil, err
	}
	lines = booklet.Read(m.Booklet, m.FullScale)
	m.Meter, err = booklet.Give(m.Meter, lines)
	return m, lines, err
}

// ReadMeter reads a form by the day that it is. It is [MeterForm.Meter].
func (s *Session) ReadMeter(f MeterForm) (OwnMeter, []booklet.Line, error) { return f.Meter(s.clock()) }

// meterError is a field of the form that cannot be understood.
type meterError struct{ what, have, like string }

func (e *meterError) Error() string {
	return e.what + " is “" + e.have + "”; expected something like " + e.like
}
