package why

import (
	"fmt"
	"math/cmplx"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// wireWords are the words for the wires of a run.
var wireWords = map[string]string{"l1": "L1", "l2": "L2", "l3": "L3", "h": "the hot", "n": "the neutral", "g": "the ground", "gnd": "the ground", "pos": "the positive", "neg": "the negative"}

// partTitle words a part: "the neutral of the cord".
func partTitle(p rig.Part) string {
	if p.Title == "" {
		return "the " + strings.ReplaceAll(p.Name, ".", " ")
	}
	run, wire, cut := cutLast(p.Title, ", ")
	switch word := wireWords[p.Wire]; {
	case !cut:
		return p.Title
	case word != "" && (wire == p.Wire || strings.EqualFold(wire, p.Wire) || strings.TrimPrefix(word, "the ") == wire):
		return word + " of " + run
	case strings.HasPrefix(wire, "capacitance of "):
		run, _, _ = strings.Cut(run, " from ")
		return "the " + wire + " in " + run
	}
	return p.Title
}

// runTitle words the run of a part: "the cord".
func runTitle(p rig.Part) string {
	if run, wire, cut := cutLast(p.Title, ", "); cut && p.Wire != "" && strings.HasPrefix(partTitle(p), strings.TrimSuffix(wireWords[p.Wire], wire)) {
		return run
	}
	return p.Title
}

func cutLast(s, sep string) (before, after string, found bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(sep):], true
}

// nodeWord words a node by the wire that it is on: "L1", "the body".
func nodeWord(node string) string {
	switch node {
	case "0", "earth", "soil":
		return "the soil"
	case "body":
		return "the body"
	}
	_, wire, _ := cutLast(node, ".")
	if word := wireWords[wire]; word != "" {
		return word
	}
	if _, wire, cut := cutLast(wire, "-"); cut && wireWords[wire] != "" {
		return wireWords[wire]
	}
	return "the " + strings.ReplaceAll(node, ".", " ")
}

// areaWord words an area: by the body where that is in it, else by its wire.
func areaWord(area []string) string {
	if slices.Contains(area, "body") {
		return "the body"
	}
	return nodeWord(area[0])
}

// title words an atom.
func (e *explainer) title(a atom) string {
	switch change := a.change(); {
	case a.part != rig.None:
		return partTitle(e.faulty.rig.Parts[a.part])
	case a.kind() == rig.Connect:
		return e.joinTitle(change, a.applied.Severity)
	}
	return "the " + strings.ToLower(a.fault().Title)
}

// touching is the resistance up to which two nodes that are joined touch.
const touching = 2

// joinTitle words a join by the wires that it joins, or the source where that is one
// that stands by itself.
func (e *explainer) joinTitle(change rig.Edit, severity float64) string {
	var ends [2]string
	for i, node := range change.Nodes {
		ends[i] = nodeWord(node)
		for _, p := range e.faulty.rig.Parts {
			if p.Kind == rig.Source && p.Run == rig.Group(node) {
				ends[i] = p.Title
			}
		}
	}
	if ohms := change.Ohms.Of(severity); ohms > touching {
		return "the path of " + rig.Ohms.Format(ohms) + " from " + ends[0] + " to " + ends[1]
	}
	return "the join of " + ends[0] + " and " + ends[1]
}

// branchTitle words a way for current.
func (e *explainer) branchTitle(c circuit, b bench.Branch) string {
	switch {
	case b.Meter:
		return "the meter"
	case b.Part != rig.None:
		return partTitle(c.rig.Parts[b.Part])
	}
	a := c.setup.Faults[b.Fault]
	return e.joinTitle(a.Fault.Variants[a.Variant].Edits[b.Edit], a.Severity)
}

// amps words a current.
func amps(c complex128) string {
	size := magnitude(c)
	if size < 1e-3 {
		return fmt.Sprintf("%.3g µA", size*1e6)
	}
	return rig.Amperes.Format(size)
}

// volts words a voltage as the reading's function shows it.
func (e *explainer) volts(v complex128) string {
	if e.direct() {
		return e.meter.About(real(v), faulttree.Quantity{Unit: faulttree.VoltsDC})
	}
	return e.meter.About(magnitude(v), faulttree.Quantity{Unit: faulttree.VoltsAC})
}

// size words how large a voltage is.
func (e *explainer) size(v complex128) string { return e.volts(complex(magnitude(v), 0)) }

// shown words a reading.
func (e *explainer) shown(v Value) string {
	switch {
	case v.Live:
		return "a voltage"
	case !v.There:
		return "no reading"
	}
	return e.meter.About(v.Number, e.at)
}

// phasor words a source's voltage.
func (e *explainer) phasor(volts, degrees float64, direct bool) string {
	if direct {
		return rig.FormatVolts(complex(volts, 0), true)
	}
	return fmt.Sprintf("%s at %.0f°", rig.FormatVolts(cmplx.Rect(volts, 0), false), degrees)
}

// attributeWords are the numbers of parts that a fault may set.
var attributeWords = map[rig.Attribute]string{rig.AttrVolts: "voltage", rig.AttrDegrees: "angle", rig.AttrOhms: "resistance", rig.AttrHenries: "inductance", rig.AttrFarads: "capacitance",
	rig.AttrPerMetre: "capacitance", rig.AttrGauge: "gauge", rig.AttrLength: "length", rig.AttrWatts: "power", rig.AttrAtVolts: "rated voltage", rig.AttrPowerFactor: "power factor",
	rig.AttrTrip: "trip current", rig.AttrResidual: "residual trip current", rig.AttrLimit: "limit"}

// verbForm is the form of a verb for what a title names: one thing, or several.
func verbForm(title, single, several string) string {
	head := title
	for _, more := range []string{" of ", " on ", " from ", " to ", " in ", ", "} {
		head, _, _ = strings.Cut(head, more)
	}
	plural := strings.HasSuffix(head, "s") && !strings.HasSuffix(head, "ss") && !strings.HasSuffix(head, "us")
	if plural || strings.Contains(title, " and ") && !strings.HasPrefix(title, "the join ") {
		return several
	}
	return single
}

// sentence makes a sentence of words.
func sentence(format string, args ...any) string {
	s := fmt.Sprintf(format, args...)
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// list joins words: "a, b and c".
func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
