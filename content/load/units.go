package load

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// scale is one way to write a unit: its symbol with an SI prefix, and the
// power of ten that stands for.
type scale struct {
	symbol string
	power  int
}

// scales are the ways to write each unit. A number of a unit that is not here
// has no symbol, or is written in its own way; see parseValue.
var scales = map[rig.ParamUnit][]scale{
	rig.Volts:          {{"V", 0}, {"mV", -3}, {"kV", 3}},
	rig.Degrees:        {{"°", 0}},
	rig.Ohms:           {{"Ω", 0}, {"mΩ", -3}, {"µΩ", -6}, {"kΩ", 3}, {"MΩ", 6}, {"GΩ", 9}},
	rig.Henries:        {{"H", 0}, {"mH", -3}, {"µH", -6}, {"nH", -9}},
	rig.Farads:         {{"F", 0}, {"mF", -3}, {"µF", -6}, {"nF", -9}, {"pF", -12}},
	rig.FaradsPerMetre: {{"F/m", 0}, {"nF/m", -9}, {"pF/m", -12}},
	rig.Metres:         {{"m", 0}, {"cm", -2}, {"mm", -3}},
	rig.Watts:          {{"W", 0}, {"mW", -3}, {"kW", 3}},
	rig.Amperes:        {{"A", 0}, {"mA", -3}, {"µA", -6}, {"kA", 3}},
	rig.Hertz:          {{"Hz", 0}, {"kHz", 3}},
	rig.Celsius:        {{"°C", 0}},
	rig.Ratio:          {{"", 0}, {"%", -2}},
	rig.Gauge:          {{"AWG", 0}},
}

// unitExamples word what is expected where a number is not of its unit.
var unitExamples = map[rig.ParamUnit]string{
	rig.Volts: "120 V", rig.Degrees: "180°", rig.Ohms: "0.3 Ω, 2 mΩ or 1 MΩ", rig.Henries: "50 µH", rig.Farads: "20 nF",
	rig.FaradsPerMetre: "100 pF/m", rig.Metres: "30 m", rig.Gauge: "6 AWG or 1/0 AWG", rig.Watts: "1500 W",
	rig.Amperes: "50 A or 5 mA", rig.Hertz: "60 Hz", rig.Celsius: "20 °C", rig.Ratio: "0.95",
}

var (
	valueForm = regexp.MustCompile(`^(-?)([0-9]{1,12}(?:\.[0-9]{1,12})?)(/0)? ?(\D*)$`)
	oneSign   = strings.NewReplacer("\u2103", "°C", "u", "µ")
)

// symbolOf is a unit as the table of scales has it: "kohm" is kΩ, "uF" µF.
func symbolOf(typed string) string {
	for u := range scales {
		if slices.ContainsFunc(scales[u], func(s scale) bool { return s.symbol == typed }) {
			return typed
		}
	}
	prefix, symbol := faulttree.CutUnit(typed)
	return oneSign.Replace(prefix) + symbol
}

// mayBeNegative reports whether numbers of a unit can lie below zero.
func mayBeNegative(u rig.ParamUnit) bool {
	return u == rig.Degrees || u == rig.Celsius || u == rig.Gauge
}

// parseValue reads a number of unit u in the unit's base: "2 mΩ", "100 pF/m",
// "1/0 AWG", "0.95". A bare 0 stands for none of anything. Powers of ten are
// moved in the text, so that the result is the nearest float64.
func parseValue(text string, u rig.ParamUnit) (float64, error) {
	v, of, err := parseAny(text)
	switch {
	case err != nil:
		return 0, fmt.Errorf("%q is not a number with its unit; expected a form such as %s", text, unitExamples[u])
	case text == "0" && u != rig.Celsius && u != rig.Gauge:
		return 0, nil
	case of == rig.Ratio && of != u:
		return 0, fmt.Errorf("%q has no unit; expected a form such as %s", text, unitExamples[u])
	case of != u:
		return 0, fmt.Errorf("%q is not in %s; expected a form such as %s", text, unitWord(u), unitExamples[u])
	case v < 0 && !mayBeNegative(u):
		return 0, fmt.Errorf("%q is below zero", text)
	}
	return v, nil
}

// parseAny reads a number with the unit that its symbol stands for.
func parseAny(text string) (float64, rig.ParamUnit, error) {
	m := valueForm.FindStringSubmatch(faulttree.Tidy(text))
	bad := fmt.Errorf("%q is not a number with a unit of electricity; expected a form such as 3 Ω or 120 V", text)
	if m == nil {
		return 0, 0, bad
	}
	symbol := symbolOf(m[4])
	for u := rig.Volts; u <= rig.Ratio; u++ {
		for _, s := range scales[u] {
			switch {
			case s.symbol != symbol:
			case u == rig.Gauge:
				v, err := parseGauge(m[1]+m[2], m[3] != "")
				return v, u, err
			case m[3] != "":
				return 0, 0, bad
			default:
				v, err := strconv.ParseFloat(fmt.Sprintf("%s%se%d", m[1], m[2], s.power), 64)
				return v + 0, u, err
			}
		}
	}
	return 0, 0, bad
}

// parseGauge reads a wire size: 6, or the 1 of 1/0. The size 1/0 is 0, 2/0 is
// -1, down to 4/0.
func parseGauge(text string, aught bool) (float64, error) {
	n, err := strconv.Atoi(text)
	switch {
	case err != nil:
		return 0, fmt.Errorf("%q is not a whole number", text)
	case aught && n >= 1 && n <= 4:
		return float64(1 - n), nil
	case aught || n < 1 || n > 40:
		return 0, fmt.Errorf("%q is not a wire size; expected 4/0 AWG to 40 AWG", text)
	}
	return float64(n), nil
}

// unitWord names a unit in a message.
func unitWord(u rig.ParamUnit) string {
	if u == rig.Ratio {
		return "plain numbers"
	}
	return u.Symbol()
}

// readValue reads a number of a unit and reports what is no such thing.
func readValue(v document.Value, what string, u rig.ParamUnit) (float64, bool) {
	text := v.Text(what)
	if text == "" {
		return 0, false
	}
	x, err := parseValue(text, u)
	if err != nil {
		rule := RuleBadNumber
		if _, of, e := parseAny(text); e == nil && of != u && of != rig.Ratio {
			rule = RuleUnitMismatch
		}
		v.Report(rule, "", "%s: %v", what, err)
		return 0, false
	}
	return x, true
}

// measured is an amount as an author writes it. Symbol is V, Ω or A, and ""
// for a bare 0; kind is AC, DC or "" where the text does not say.
type measured struct {
	amount       faulttree.Amount
	symbol, kind string
}

// parseMeasured reads "30 V", "0.3 ohm", "1 MΩ", "-0.5 V DC" or a bare "0", as
// [faulttree.ParseFigure] does. The arithmetic is exact; what an Amount cannot
// hold is an error.
func parseMeasured(text string) (measured, error) {
	if text == "0" {
		return measured{}, nil
	}
	f, err := faulttree.ParseFigure(text)
	switch {
	case err != nil:
		return measured{}, err
	case f.Symbol == "" || f.Symbol == "Ω" && f.Current != "":
		return measured{}, fmt.Errorf("%q is not a number with its unit; expected a form such as 30 V, 0.3 ohm, 1 MΩ or 5 mA", text)
	}
	a, _, err := f.Amount()
	if err != nil {
		return measured{}, err
	}
	return measured{a, f.Symbol, f.Current}, nil
}

// readMeasured reads an amount and reports what is no such thing.
func readMeasured(v document.Value, what string) (measured, bool) {
	text := v.Text(what)
	if text == "" {
		return measured{}, false
	}
	m, err := parseMeasured(text)
	if err != nil {
		v.Report(RuleBadUnit, "", "%v", err)
		return measured{}, false
	}
	return m, true
}

// fits reports whether m can be compared with a quantity of unit u.
func (m measured) fits(u faulttree.Unit) bool {
	if m.symbol == "" {
		return m.amount == 0
	}
	return m.symbol == u.Symbol() && (m.kind == "" || m.symbol+" "+m.kind == u.String())
}

// unit is the unit m says, alternating where it does not say which.
func (m measured) unit() faulttree.Unit {
	switch {
	case m.symbol == "Ω":
		return faulttree.Ohms
	case m.kind == "":
		u, _ := faulttree.ParseUnit(m.symbol + " AC")
		return u
	}
	u, _ := faulttree.ParseUnit(m.symbol + " " + m.kind)
	return u
}

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
