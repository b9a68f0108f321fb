package faulttree

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Amount is an exact quantity of some unit, in billionths of it: volts, ohms,
// amperes by context (see [Unit]). Being an integer it compares exactly, so
// no limit is ever missed by a rounding of binary fractions.
type Amount int64

// One is one whole volt, ohm or ampere.
const One Amount = 1_000_000_000

// Lowest and Highest stand for "no bound" in a [Span].
const (
	Lowest  Amount = math.MinInt64
	Highest Amount = math.MaxInt64
)

// largest whole number that an Amount can hold with room for sums.
const mostWhole = 4_000_000_000

// ParseAmount reads a plain decimal number such as "30", "-0.5" or "0.300".
// More than nine decimals or a size beyond four billion is an error.
func ParseAmount(text string) (Amount, error) {
	digits, negative := text, false
	if strings.HasPrefix(digits, "-") {
		digits, negative = digits[1:], true
	}
	whole, fraction, _ := strings.Cut(digits, ".")
	if whole == "" || strings.HasSuffix(digits, ".") || !onlyDigits(whole) || !onlyDigits(fraction) {
		return 0, fmt.Errorf("%q is not a decimal number", text)
	}
	if len(fraction) > 9 {
		return 0, fmt.Errorf("%q has more than nine decimals", text)
	}
	w, err := strconv.ParseInt(whole, 10, 64)
	if err != nil || w > mostWhole {
		return 0, fmt.Errorf("%q is too large", text)
	}
	f, _ := strconv.ParseInt(fraction+strings.Repeat("0", 9-len(fraction)), 10, 64)
	a := Amount(w)*One + Amount(f)
	if negative {
		a = -a
	}
	return a, nil
}

func onlyDigits(s string) bool {
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// String is the shortest exact decimal, without a unit.
func (a Amount) String() string {
	switch a {
	case Lowest:
		return "-∞"
	case Highest:
		return "∞"
	}
	sign := ""
	if a < 0 {
		sign, a = "-", -a
	}
	s := fmt.Sprintf("%s%d.%09d", sign, int64(a/One), int64(a%One))
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// Float is the nearest float64, for drawing only.
func (a Amount) Float() float64 { return float64(a) / float64(One) }

// Abs is the size of a without its sign.
func (a Amount) Abs() Amount {
	if a < 0 {
		return -a
	}
	return a
}

// RoundUp is a moved away from zero to a multiple of step.
func (a Amount) RoundUp(step Amount) Amount {
	if step <= 0 {
		return a
	}
	if rest := a.Abs() % step; rest != 0 {
		if a < 0 {
			return a - (step - rest)
		}
		return a + (step - rest)
	}
	return a
}

// Span is a half-open set of amounts, From <= x < Below. Since amounts are
// whole billionths, an inclusive upper bound b is simply Below b+1.
type Span struct{ From, Below Amount }

// Everything is the span of all amounts.
func Everything() Span { return Span{Lowest, Highest} }

// Only is the span that holds the amounts from low to high, both included.
func Only(low, high Amount) Span {
	if high == Highest {
		return Span{low, high}
	}
	return Span{low, high + 1}
}

// Empty reports whether no amount lies in s.
func (s Span) Empty() bool { return s.From >= s.Below }

// Contains reports whether a lies in s.
func (s Span) Contains(a Amount) bool { return s.From <= a && a < s.Below }

// Overlaps reports whether s and t share an amount.
func (s Span) Overlaps(t Span) bool { return s.From < t.Below && t.From < s.Below }

// Within reports whether all of s lies in t.
func (s Span) Within(t Span) bool { return t.From <= s.From && s.Below <= t.Below }

// Meet is the part common to s and t; it may be empty.
func (s Span) Meet(t Span) Span { return Span{max(s.From, t.From), min(s.Below, t.Below)} }

// Written is the edge of a span as its author wrote it. "to 5 V" and "above 5
// V" are held as one billionth more, so that spans are half open.
func (a Amount) Written() Amount {
	if a != Highest && (a-1)%1000 == 0 {
		return a - 1
	}
	return a
}

// Format words the span with a unit as an author writes it: "below 5 V",
// "5 V to below 30 V", "30 V and more".
func (s Span) Format(u Unit) string {
	low, high := s.From != Lowest && !(s.From == 0 && !u.Signed()), s.Below != Highest
	from, to := s.From.Written(), s.Below.Written()
	above, upTo := from != s.From, to != s.Below // of a bound that is left out, and of one that is included
	switch {
	case low && high && above && upTo:
		return "above " + from.With(u) + ", up to " + to.With(u)
	case low && high && above:
		return "above " + from.With(u) + ", below " + to.With(u)
	case low && high && upTo:
		return from.With(u) + " to " + to.With(u)
	case low && high:
		return from.With(u) + " to below " + to.With(u)
	case low && above:
		return "above " + from.With(u)
	case low:
		return from.With(u) + " and more"
	case high && upTo:
		return "up to " + to.With(u)
	case high:
		return "below " + to.With(u)
	}
	return "any reading"
}

// Feet words a length given in metres: "10 ft" for 3 m. It is rounded to the
// nearest foot, beyond a hundred to two figures. It is "" for less than a foot,
// and for more than a thousand kilometres, which no reader paces out.
func Feet(metres float64) string {
	feet := math.Round(metres / 0.3048)
	if !(feet >= 1 && metres <= 1e6) {
		return ""
	}
	step := 1.0
	for feet >= 100*step {
		step *= 10
	}
	feet = math.Round(feet/step) * step
	return strconv.FormatFloat(feet, 'f', 0, 64) + " ft"
}

// A length in metres, and after it what must not follow: feet that the author
// gave.
var inMetres = regexp.MustCompile(`\b(\d+(?:\.\d+)?) m($|[ ,.;:?!)])(\(\d+(?:\.\d+)? ft)?`)

// WithFeet puts feet behind each length in metres that has none: "3 m (10 ft)".
func WithFeet(text string) string {
	return inMetres.ReplaceAllStringFunc(text, func(found string) string {
		part := inMetres.FindStringSubmatch(found)
		metres, err := strconv.ParseFloat(part[1], 64)
		feet := Feet(metres)
		if err != nil || part[3] != "" || feet == "" {
			return found
		}
		return part[1] + " m (" + feet + ")" + part[2]
	})
}
