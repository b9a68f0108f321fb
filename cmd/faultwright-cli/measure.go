package main

import (
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"slices"
	"sort"
	"strconv"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

type measureCommand struct {
	Rig        string   `arg:"" help:"The rig to measure on: a supply, a cord and a vehicle."`
	Quantities []string `arg:"" name:"quantity" help:"What to measure, such as panel.l1-n@loaded; a pair of test points of the rig will do."`
	Fault      []string `sep:"none" placeholder:"ID[@PLACE][=SEVERITY]" help:"A fault in force. Without a severity it is as bad as it ordinarily is. Repeat for several at once."`
	Load       []string `sep:"none" placeholder:"LEG=WATTS" help:"Replace all loads of a leg (l1, l2, l1l2, dc) by so many resistive watts, and switch all loads on."`
	Set        []string `sep:"none" placeholder:"PART=VALUE" help:"Give a part, or one attribute of it such as cord.length, another value."`
	Meter      string   `enum:"standard,lowz" default:"standard" help:"standard (10 MΩ) or lowz (3 kΩ)."`
	JSON       bool     `name:"json" help:"Print the readings as JSON."`
	Netlist    bool     `help:"Print the circuit with the meter as SPICE instead; takes one quantity."`
}

func (c measureCommand) Help() string {
	return "Computes what a meter shows on a rig of the handbook. Loads are on only for a quantity under @loaded, or, with --load, for all but those under @rest. The angle zero is that of the source, L1 to neutral."
}

// jsonMeasure is what was measured as programs read it. Value and degrees are
// the solved phasor with the meter connected, null where there is none. An
// angle is rounded to a billionth of a degree, beyond which it is noise.
type jsonMeasure struct {
	Readings []jsonReading `json:"readings"`
	Tripped  []string      `json:"tripped"`
}

type jsonReading struct {
	Quantity string       `json:"quantity"`
	Value    *significant `json:"value"`
	Unit     string       `json:"unit"`
	Degrees  *significant `json:"degrees"`
	Shown    string       `json:"shown"`
	Reason   string       `json:"reason,omitempty"`
	phasor   bool         // the angle means something
}

// significant is a number that prints with twelve significant digits.
type significant float64

func (s significant) text() string {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(float64(s), 'g', 12, 64), 64)
	return strconv.FormatFloat(short+0, 'g', -1, 64)
}

// MarshalJSON writes the number.
func (s significant) MarshalJSON() ([]byte, error) { return []byte(s.text()), nil }

func (c measureCommand) Run(p *program, lib *content.Library) error {
	b, err := c.prepare(lib)
	if err != nil {
		return err
	}
	var quantities []faulttree.Quantity
	for _, id := range c.Quantities {
		q, err := b.quantity(lib, id)
		if err != nil {
			return err
		}
		quantities = append(quantities, q)
	}
	if c.Netlist {
		return c.netlist(p, b, quantities)
	}
	out, err := b.read(quantities)
	if err != nil {
		return bad("%s: %v", c.Rig, err)
	}
	if c.JSON {
		return writeJSON(p.out, out)
	}
	p.page(p.out).measured(out)
	return nil
}

func (c measureCommand) netlist(p *program, b *board, quantities []faulttree.Quantity) error {
	if len(quantities) != 1 {
		return bad("--netlist takes exactly one quantity; %d are given", len(quantities))
	}
	q := quantities[0]
	text, err := b.bench.Netlist(c.Rig+": "+c.Quantities[0], q, b.state(q), b.input(q))
	if err != nil {
		return bad("%s: %v", c.Rig, err)
	}
	_, err = fmt.Fprint(p.out, text)
	return err
}

// board is a rig made ready for the probes.
type board struct {
	rig    *rig.Rig
	bench  *bench.Bench
	faults []rig.Applied
	lowZ   bool
	loads  bool // all loads are on
}

// prepare builds the rig as the options say.
func (c measureCommand) prepare(lib *content.Library) (*board, error) {
	r := lib.Rigs[c.Rig]
	if r == nil {
		return nil, unknown("rig", c.Rig, slices.Sorted(maps.Keys(lib.Rigs)))
	}
	b := &board{rig: r, lowZ: c.Meter == "lowz", loads: len(c.Load) > 0}
	for _, text := range c.Fault {
		f, err := applied(lib, r, text)
		if err != nil {
			return nil, err
		}
		same := func(g rig.Applied) bool { return g.Fault == f.Fault && g.Variant == f.Variant }
		if slices.ContainsFunc(b.faults, same) {
			return nil, bad("the fault %s is in force already; --fault %s gives it a second time", f.Fault.ID, text)
		}
		b.faults = append(b.faults, f)
	}
	var err error
	if b.rig, err = replaceLoads(r, c.Load); err != nil {
		return nil, err
	}
	values, given := b.rig.Values(), map[int]bool{}
	for _, text := range c.Set {
		if err := set(b.rig, values, given, text); err != nil {
			return nil, err
		}
	}
	if b.bench, err = bench.New(b.rig); err != nil {
		return nil, bad("the rig %s cannot be solved: %v", c.Rig, err)
	}
	if err := b.bench.Set(rig.Setup{Values: values, Faults: b.faults}); err != nil {
		return nil, bad("%s: %v", c.Rig, err)
	}
	return b, nil
}

func (b *board) input(q faulttree.Quantity) bench.Input {
	if b.lowZ || q.Has(faulttree.LowZ) {
		return bench.LowImpedance
	}
	return bench.HighImpedance
}

func (b *board) state(q faulttree.Quantity) bench.State {
	legs := b.rig.Legs()
	st := b.bench.StateFor(q, legs)
	if b.loads && !q.Has(faulttree.Rest) { // at rest nothing is on
		st.Loads = map[string]bool{}
		for _, leg := range legs {
			st.Loads[leg] = true
		}
	}
	return st
}

// Measure puts the probes on, in the state that the options ask for.
func (b *board) Measure(q faulttree.Quantity, in bench.Input) (bench.Measured, error) {
	if b.lowZ && q.Unit == faulttree.VoltsDC { // the meter has the dial for alternating volts only
		in = bench.LowImpedance
	}
	return b.bench.MeasureIn(q, b.state(q), in)
}

// read takes all readings with one meter, in order.
func (b *board) read(quantities []faulttree.Quantity) (jsonMeasure, error) {
	out := jsonMeasure{Readings: []jsonReading{}, Tripped: []string{}}
	m := meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	m.Apply(b.faults)
	for _, q := range quantities {
		solved, err := b.Measure(q, b.input(q))
		if err != nil {
			return out, err
		}
		if q.OfMeter() {
			solved.Reason = "what a meter is tried on is not part of the rig"
		}
		hand := q
		if b.lowZ && q.Unit == faulttree.VoltsAC && !q.Has(faulttree.LowZ) {
			hand.Conditions = append(slices.Clone(q.Conditions), faulttree.LowZ)
		}
		shown, err := m.Read(b, hand)
		if err != nil {
			return out, err
		}
		out.Readings = append(out.Readings, result(q, solved, shown))
		for _, name := range solved.Tripped {
			out.Tripped = lists.With(out.Tripped, name)
		}
	}
	sort.Strings(out.Tripped)
	return out, nil
}

func result(q faulttree.Quantity, solved bench.Measured, shown meter.Shown) jsonReading {
	r := jsonReading{Quantity: q.ID, Unit: q.Unit.Symbol(), Shown: shown.Text, Reason: solved.Reason}
	if shown.Text != "" && shown.Text != "OL" {
		r.Shown += " " + shown.Unit
	}
	if shown.Hazard != "" {
		r.Reason = shown.Hazard
		return r
	}
	if !solved.Defined || solved.Hazard {
		return r
	}
	size, angle := significant(real(solved.Value)), significant(0)
	if r.phasor = q.Unit == faulttree.VoltsAC || q.Unit == faulttree.AmpsAC; r.phasor {
		size, angle = significant(cmplx.Abs(solved.Value)), significant(math.Round(cmplx.Phase(solved.Value)*180/math.Pi*1e9)/1e9)
	}
	if math.IsInf(float64(size), 0) {
		r.Reason = "there is no path between these points"
		return r
	}
	r.Value, r.Degrees, r.Reason = &size, &angle, ""
	return r
}

// measured writes a table: what was asked, what the display shows, and the
// value behind it.
func (g page) measured(out jsonMeasure) {
	rows := make([][]string, 0, len(out.Readings))
	for _, r := range out.Readings {
		row := []string{r.Quantity, r.Shown, ""}
		if r.Shown == "" {
			row[1] = "no reading"
		}
		if r.Value != nil {
			row[2] = strconv.FormatFloat(float64(*r.Value), 'g', 6, 64) + " " + r.Unit
			if math.Abs(float64(*r.Value)) < 1e-9 {
				row[2] = "0 " + r.Unit
			} else if r.phasor {
				row[2] += " at " + strconv.FormatFloat(math.Round(float64(*r.Degrees)*10)/10+0, 'f', -1, 64) + "°"
			}
		} else if r.Reason != "" {
			row[2] = r.Reason
		}
		rows = append(rows, row)
	}
	width := [2]int{}
	for _, row := range rows {
		for i := range width {
			width[i] = max(width[i], len([]rune(row[i])))
		}
	}
	for _, row := range rows {
		g.hanging(fmt.Sprintf("%-*s  %*s  ", width[0], clean(row[0]), width[1], row[1]), "    ", row[2])
	}
	if len(out.Tripped) > 0 {
		g.labelled("Tripped", list(out.Tripped))
	}
}
