package faulttree

import (
	"math"
	"regexp"
	"strconv"
)

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
