package faulttree

import "faultwright/faulttree/source"

// Quality says how the display behaved.
type Quality uint8

const (
	Steady      Quality = iota // one number
	Wandering                  // moved between two numbers
	OverRange                  // OL: more than the range, or no circuit for ohms
	NotPossible                // not taken, with a reason
)

func (q Quality) String() string {
	return [...]string{"steady", "wandering", "over-range", "not possible"}[q]
}

// Reading is what the meter showed. Low and High are in the quantity's base
// unit (volts, ohms, amperes) and equal when the display was steady; they
// mean nothing for OverRange and NotPossible.
type Reading struct {
	Text       string  `json:"text"` // as typed
	Quality    Quality `json:"quality"`
	Low        Amount  `json:"low"`
	High       Amount  `json:"high"`
	Resolution Amount  `json:"resolution"`       // place value of the last digit typed
	Reason     string  `json:"reason,omitempty"` // why it was not possible
	Note       string  `json:"note,omitempty"`   // a doubt worth telling the reader
}

// NotTaken is the reading of something that could not be measured.
func NotTaken(reason string) Reading {
	reason = source.Shown(reason)
	text := "not possible"
	if reason != "" {
		text += ": " + reason
	}
	return Reading{Text: text, Quality: NotPossible, Reason: reason}
}

// Numeric reports whether the reading carries numbers.
func (r Reading) Numeric() bool { return r.Quality == Steady || r.Quality == Wandering }

// Same reports whether r and other say the same of a quantity, however they
// were typed: "58 V" and "58" do, "58" and "58.0" do not.
func (r Reading) Same(other Reading) bool {
	switch {
	case r.Quality != other.Quality:
		return false
	case r.Quality == OverRange:
		return true
	case r.Quality == NotPossible:
		return r.Reason == other.Reason
	}
	return r.Low == other.Low && r.High == other.High && r.Resolution == other.Resolution
}

// Show words the reading with its unit, everywhere in these words: "118.4 V",
// "3 V to 8 V", "OL", "not measured: fence in the way".
func (r Reading) Show(u Unit) string {
	switch r.Quality {
	case OverRange:
		return "OL"
	case NotPossible:
		if r.Reason == "" {
			return "not measured"
		}
		return "not measured: " + r.Reason
	case Wandering:
		return r.Low.With(u) + " to " + r.High.With(u)
	}
	return r.Low.shownTo(r.Resolution, u)
}

// shownTo is With, but keeps the zeros of the digits that were typed.
func (a Amount) shownTo(resolution Amount, u Unit) string {
	if u == Ohms && a.Abs() >= 1000*One {
		return a.With(u)
	}
	s := a.String()
	for places := decimals(resolution); decimalsIn(s) < places; {
		if decimalsIn(s) == 0 {
			s += "."
		}
		s += "0"
	}
	return s + " " + u.Symbol()
}

func decimals(resolution Amount) int {
	n := 0
	for r := One; r > resolution && resolution > 0 && n < 9; r /= 10 {
		n++
	}
	return n
}

func decimalsIn(s string) int {
	for i := range s {
		if s[i] == '.' {
			return len(s) - i - 1
		}
	}
	return 0
}
