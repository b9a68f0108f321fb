package rig

import (
	"fmt"
	"math"
	"math/cmplx"
	"strconv"

	"faultwright/faulttree"
)

// Format writes a number of the unit with three digits and an SI prefix where
// one helps: "3 Ω", "47 nF", "1500 W"; a length has feet beside it: "30 m (98
// ft)".
func (u ParamUnit) Format(v float64) string {
	if u == Gauge {
		if v <= 0 {
			return strconv.FormatFloat(1-v, 'f', 0, 64) + "/0 AWG"
		}
		return digits(v) + " AWG"
	}
	prefix := ""
	if size := math.Abs(v); size > 0 && !math.IsInf(size, 0) {
		for _, p := range prefixes(u) {
			if size >= p.from {
				v, prefix = v/p.by, p.sign
				break
			}
		}
	}
	symbol := u.Symbol()
	switch {
	case symbol == "":
		return digits(v)
	case u == Degrees:
		return digits(v) + symbol
	case u == Metres:
		return faulttree.WithFeet(digits(v) + " m")
	}
	return digits(v) + " " + prefix + symbol
}

// FormatVolts writes a voltage as an ordinary display would: the size of an
// alternating one, a direct one with its sign.
func FormatVolts(v complex128, direct bool) string {
	size, sign := cmplx.Abs(v), ""
	if direct && real(v) < 0 {
		sign = "−"
	}
	switch {
	case size < 0.005:
		return "0 V"
	case size < 1:
		return fmt.Sprintf("%s%.2f V", sign, size)
	}
	return fmt.Sprintf("%s%.1f V", sign, size)
}

type prefix struct {
	from, by float64
	sign     string
}

// prefixes that are in use for a unit, the largest first; below the last none
// is taken.
func prefixes(u ParamUnit) []prefix {
	switch u {
	case Ohms:
		return []prefix{{0.9995e6, 1e6, "M"}, {0.9995e3, 1e3, "k"}, {0.0995, 1, ""}, {0, 1e-3, "m"}}
	case Farads, FaradsPerMetre, Henries:
		return []prefix{{0.9995, 1, ""}, {0.9995e-3, 1e-3, "m"}, {0.9995e-6, 1e-6, "µ"}, {0.9995e-9, 1e-9, "n"}, {0, 1e-12, "p"}}
	case Amperes:
		return []prefix{{0.9995, 1, ""}, {0, 1e-3, "m"}}
	}
	return nil
}

// digits is a number to three digits; whole numbers keep all of theirs.
func digits(v float64) string {
	size := math.Abs(v)
	switch {
	case size >= 99.95 || size == 0:
		return strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	case size >= 9.995:
		return trim(strconv.FormatFloat(v, 'f', 1, 64))
	}
	return trim(strconv.FormatFloat(v, 'f', 2, 64))
}

func trim(s string) string {
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}
