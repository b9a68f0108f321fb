package load

import (
	"fmt"
	"math"
	"strconv"

	"faultwright/faulttree/rig"
)

// ParseValue reads a number of a rig as a person types it: with its unit as
// the files have it, "0.3 Ω", "100 pF/m", "1/0 AWG", or bare in the base unit.
func ParseValue(text string, u rig.ParamUnit) (float64, error) {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return 0, fmt.Errorf("%q is not a finite number", text)
		case v < 0 && !mayBeNegative(u):
			return 0, fmt.Errorf("%q is below zero", text)
		}
		return v, nil
	}
	return parseValue(text, u)
}
