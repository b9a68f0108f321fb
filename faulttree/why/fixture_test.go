package why_test

import (
	"math/cmplx"
	"regexp"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/why"
)

// made is a rig under construction.
type made struct{ *rig.Rig }

func (m made) number(u rig.ParamUnit, v float64) int {
	m.Params = append(m.Params, rig.Param{Name: m.ID, Unit: u, Value: v, From: v, To: v})
	return len(m.Params) - 1
}

func (m made) part(name, title string, k rig.Kind, a, b string, numbers map[rig.Attribute]int) *rig.Part {
	p := rig.NewPart(name, k, a, b)
	p.Title = title
	p.Run, p.Wire, _ = strings.Cut(name, ".")
	for attribute, at := range numbers {
		p.Params[attribute] = at
	}
	m.Parts = append(m.Parts, p)
	return &m.Parts[len(m.Parts)-1]
}

func (m made) ohms(name, title string, k rig.Kind, a, b string, v float64) *rig.Part {
	return m.part(name, title, k, a, b, map[rig.Attribute]int{rig.AttrOhms: m.number(rig.Ohms, v)})
}

func (m made) load(leg string, watts, factor float64) {
	l := m.part("load-"+leg, "the loads on "+strings.ToUpper(leg), rig.Load, "panel."+leg, "panel.n", map[rig.Attribute]int{
		rig.AttrWatts: m.number(rig.Watts, watts), rig.AttrAtVolts: m.number(rig.Volts, 120), rig.AttrPowerFactor: m.number(rig.Ratio, factor)})
	l.Leg = leg
}

// ideal is two legs of 120 V and a cord without resistance, so that closed forms
// hold to the digit; the body is tied to the neutral, and on 100 kΩ to the soil.
func ideal() made {
	m := made{&rig.Rig{ID: "ideal", Title: "an ideal vehicle"}}
	m.Hertz, m.Celsius = m.number(rig.Hertz, 60), m.number(rig.Celsius, 20)
	for i, leg := range []string{"l1", "l2"} {
		m.part("source."+leg, "the supply, "+strings.ToUpper(leg), rig.Source, "site."+leg, "site.n", map[rig.Attribute]int{
			rig.AttrVolts: m.number(rig.Volts, 120), rig.AttrDegrees: m.number(rig.Degrees, 180*float64(i)), rig.AttrOhms: m.number(rig.Ohms, 0)})
	}
	for wire, word := range map[string]string{"l1": "L1", "l2": "L2", "n": "neutral", "g": "ground"} {
		from := "site." + wire
		if wire == "g" {
			from = "site.n"
		}
		m.ohms("cord."+wire, "the cord, "+word, rig.Joint, from, "panel."+wire, 0)
	}
	m.ohms("bond", "the bond of the body", rig.Joint, "panel.g", "body", 0)
	m.ohms("rod", "the rod", rig.Resistance, "site.n", "0", 0)
	m.ohms("tyres", "tyres and jacks to soil", rig.Resistance, "body", "0", 100e3)
	m.ohms("spike", "the spike", rig.Joint, "earth", "0", 0)
	return m
}

func volts(red, black string, conditions ...faulttree.Condition) faulttree.Quantity {
	return faulttree.Quantity{ID: red + "-" + black, Title: red + " to " + black, Unit: faulttree.VoltsAC, Red: red, Black: black, Conditions: conditions}
}

func fault(edits ...rig.Edit) rig.Applied {
	return rig.Applied{Fault: &rig.Fault{ID: "fault", Title: "The fault", Variants: []rig.Variant{{Place: faulttree.Cord, Text: "in the cord", Edits: edits}}}}
}

func open(part string) rig.Edit { return rig.Edit{Kind: rig.Open, Parts: []string{part}} }

func joined(a, b string, ohms float64) rig.Edit {
	return rig.Edit{Kind: rig.Connect, Nodes: [2]string{a, b}, Ohms: rig.EditValue{Fixed: ohms}}
}

// explain asks why, and holds what holds of every answer.
func explain(t *testing.T, m made, q faulttree.Quantity, faults ...rig.Applied) why.Answer {
	t.Helper()
	if errs := m.Check(); errs.HasErrors() {
		t.Fatal(errs)
	}
	a := must.Have(why.Of(m.Rig, rig.Setup{Faults: faults}, q, faulttree.DefaultMeter()))(t)
	if a.Balance != nil {
		sum, most := complex128(0), 0.0
		for _, w := range a.Balance.Ways {
			sum += w.Amps
			most = max(most, cmplx.Abs(w.Amps))
		}
		if cmplx.Abs(sum) > 1e-6*most {
			t.Errorf("the currents into %v sum to %v, which is not nothing: %+v", a.Balance.Nodes, sum, a.Balance.Ways)
		}
	}
	return a
}

// wantText fails where the sentences do not have some words.
func wantText(t *testing.T, a why.Answer, words ...string) {
	t.Helper()
	text := strings.Join(a.Text, " ")
	for _, word := range words {
		if !regexp.MustCompile(word).MatchString(text) {
			t.Errorf("%q does not say %q", text, word)
		}
	}
}
