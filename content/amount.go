package content

import (
	"fmt"
	"regexp"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
)

// measured is an amount as an author writes it. Symbol is V, Ω or A, and ""
// for a bare 0; kind is AC, DC or "" where the text does not say.
type measured struct {
	amount       faulttree.Amount
	symbol, kind string
}

var measuredForm = regexp.MustCompile(`^(-?[0-9]+(?:\.[0-9]+)?) ?([kMm]?)(V|Ω|A)(?: (AC|DC))?$`)

// prefixes are the powers of ten that stand before a unit, in thousandths.
var prefixes = map[string]faulttree.Amount{"m": 1, "": 1000, "k": 1_000_000, "M": 1_000_000_000}

// parseMeasured reads "30 V", "0.3 Ω", "1 MΩ", "-0.5 V DC" or a bare "0". The
// arithmetic is exact; what an Amount can not hold is an error.
func parseMeasured(text string) (measured, error) {
	if text == "0" {
		return measured{}, nil
	}
	m := measuredForm.FindStringSubmatch(strings.ReplaceAll(text, "\u2126", "Ω"))
	if m == nil || (m[3] == "Ω" && m[4] != "") {
		return measured{}, fmt.Errorf("%q is not a number with its unit; expected a form such as 30 V, 0.3 Ω, 1 MΩ or 5 mA", text)
	}
	a, err := faulttree.ParseAmount(m[1])
	if err != nil {
		return measured{}, err
	}
	thousandths := prefixes[m[2]]
	switch {
	case thousandths >= 1000:
		factor := thousandths / 1000
		if a.Abs() > faulttree.Highest/4/factor {
			return measured{}, fmt.Errorf("%q is too large", text)
		}
		a *= factor
	case a%1000 != 0:
		return measured{}, fmt.Errorf("%q has more decimals than can be kept", text)
	default:
		a /= 1000
	}
	return measured{a, m[3], m[4]}, nil
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
