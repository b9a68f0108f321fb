package load

import (
	"fmt"

	"faultwright/content/document"
	"faultwright/faulttree"
)

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
