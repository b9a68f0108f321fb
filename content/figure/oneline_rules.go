package figure

import (
	"slices"
	"strings"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

const (
	olLeft  = 34.0 // room for the names of the wires
	olBus   = 14.0 // of a column where nothing hangs
	olLabel = 45.0 // the room of a voltage
	olClose = 28.0 // between two columns, for an arrow
	olGap   = 42.0 // between two columns, for a symbol and its current
)

// olRows is the room that a drawing keeps from one row to the next.
type olRows struct {
	wire   float64 // between two wires
	tight  float64 // between two wires where nothing hangs
	ground float64 // between wires and what lies below
	head   float64 // above the first wire
	shrink float64 // how much wider than asked one band may be before it is broken
}

var (
	olWide = olRows{70, 60, 50, 54, 1.34}
	olNear = olRows{50, 42, 34, 36, 1.1} // no voltage is written
)

// laneWidth is the room a part takes across.
func laneWidth(p rig.Part) float64 {
	switch {
	case p.Kind == rig.Load && p.Always:
		return 36
	case p.Kind == rig.Load:
		return 91
	case joined(p):
		return 62
	case p.Kind == rig.Source || p.Kind == rig.Charger:
		return 40
	}
	return 31
}

// joined reports whether a part is one that a fault adds.
func joined(p rig.Part) bool { return p.Run == faultRun }

// faultRun is the run of the parts that a fault adds.
const faultRun = "fault"

// wireOrder is the order of rows; wires that share a row stand together.
var wireOrder = [][]string{{"l1", "h"}, {"n"}, {"l2"}, {"g"}, {"pos", "aux"}, {"neg", "gnd"}}

// wireNames are the words for rows.
var wireNames = map[string]string{"l1": "L1", "h": "hot", "n": "N", "l2": "L2", "g": "G", "pos": "+", "neg": "−"}

// splitNode takes a node's name apart: group and wire. What has no dot, such as
// body, has no wire and is drawn as a bar.
func splitNode(node string) (group, wire string) {
	group, wire, ok := strings.Cut(node, ".")
	if !ok {
		return node, ""
	}
	if i := strings.LastIndexByte(wire, '-'); i >= 0 { // adapter.out-l1
		return group + "." + wire[:i], wire[i+1:]
	}
	return group, wire
}

// rowKey is the wire that names the row of a wire.
func rowKey(wire string) string {
	for _, same := range wireOrder {
		if slices.Contains(same, wire) {
			return same[0]
		}
	}
	return wire
}

// rowInk is the colour of a wire by its code.
func rowInk(wire string) Role {
	switch rowKey(wire) {
	case "l1", "neg":
		return Hot1
	case "l2", "pos":
		return Hot2
	case "n":
		return Neutral
	case "g":
		return Ground
	}
	return Soft
}

// Small things that would be half of the picture are left out of it, never out
// of the model, unless a fault is about them.
const (
	leastWatts   = 25   // a load that stays on draws at least this
	mostBodyOhms = 1e6  // a leak to the body is at most this
	mostOhms     = 50e3 // any other resistance
)

// drawn reports whether a part is drawn.
func drawn(r *rig.Rig, p rig.Part, v *rig.Variant, loads map[string]bool) bool {
	if p.A == p.B {
		return false
	}
	if joined(p) {
		return true
	}
	if v != nil && slices.ContainsFunc(v.Edits, func(e rig.Edit) bool {
		return slices.Contains(e.Parts, p.Name) || p.Run != p.Name && p.Kind != rig.Capacitance && slices.Contains(e.Parts, p.Run)
	}) {
		return true
	}
	number := func(a rig.Attribute) float64 {
		if i := p.Params[a]; i != rig.None {
			return r.Params[i].Value
		}
		return 0
	}
	body, soil := p.A == "body" || p.B == "body", p.A == "0" || p.B == "0"
	switch p.Kind {
	case rig.Capacitance:
		return body && !soil
	case rig.Resistance:
		return number(rig.AttrOhms) <= mostBodyOhms && (body || number(rig.AttrOhms) <= mostOhms)
	case rig.Load:
		return p.Always && number(rig.AttrWatts) >= leastWatts || !p.Always && (number(rig.AttrWatts) > 0 || loads[p.Leg])
	}
	return true
}

// ofKind reports whether a part belongs to a drawing of direct, or of
// alternating current, in a rig that has both.
func ofKind(p rig.Part, direct bool) bool {
	alternating, wires := 0, 0
	for _, node := range []string{p.A, p.B} {
		switch _, wire := splitNode(node); rowKey(wire) {
		case "":
		case "l1", "n", "l2", "g":
			wires++
			alternating++
		default:
			wires++
		}
	}
	if direct {
		return wires > alternating
	}
	return wires == alternating
}

// visible is the parts that are drawn: no two capacitances beside one another,
// and nothing that is tied to nothing.
func visible(r *rig.Rig, v *rig.Variant, loads map[string]bool, kind *bool) []rig.Part {
	var out []rig.Part
	pairs := map[[2]string]bool{}
	for _, p := range faulted(r.Parts, v) {
		pair := [2]string{min(p.A, p.B), max(p.A, p.B)}
		if kind != nil && !ofKind(p, *kind) || !drawn(r, p, v, loads) || p.Kind == rig.Capacitance && pairs[pair] {
			continue
		}
		if p.Kind == rig.Capacitance {
			pairs[pair] = true
		}
		out = append(out, p)
	}
	island := map[string]string{}
	var top func(node string) string
	top = func(node string) string {
		if up, ok := island[node]; ok && up != node {
			return top(up)
		}
		return node
	}
	for _, p := range out {
		if a, b := top(p.A), top(p.B); a != b {
			island[a] = b
		}
	}
	size := map[string]int{}
	most := ""
	for _, p := range out {
		t := top(p.A)
		if size[t]++; size[t] > size[most] {
			most = t
		}
	}
	return slices.DeleteFunc(out, func(p rig.Part) bool { return top(p.A) != most && p.A != "earth" && p.B != "earth" })
}

// faulted is what a fault makes of the parts: swapped ends, and parts added.
func faulted(parts []rig.Part, v *rig.Variant) []rig.Part {
	out := slices.Clone(parts)
	if v == nil {
		return out
	}
	find := func(name string) int {
		return slices.IndexFunc(out, func(p rig.Part) bool { return p.Name == name })
	}
	for i, e := range v.Edits {
		switch e.Kind {
		case rig.Swap:
			if i, j := find(e.Parts[0]), find(e.Parts[1]); i >= 0 && j >= 0 {
				out[i].B, out[j].B = out[j].B, out[i].B
			}
		case rig.Connect:
			p := rig.NewPart(rig.FaultPart(i), rig.Resistance, e.Nodes[0], e.Nodes[1])
			p.Run, p.Switch, p.Leg = faultRun, e.Switch, e.Leg
			out = append(out, p)
		}
	}
	return out
}

// groupsOf orders the node groups of a rig: those of its columns as they
// stand, each other one behind the first column it is tied to, or before it if
// it is a source that is tied to nothing else.
func groupsOf(r *rig.Rig, parts []rig.Part) []string {
	groups := slices.Clone(r.Columns)
	ties := map[string][]string{} // of a group that is no column
	gives := map[string]bool{}
	var loose []string
	note := func(node, other string, source bool) {
		g, wire := splitNode(node)
		if wire == "" || slices.Contains(groups, g) {
			return
		}
		loose = lists.With(loose, g)
		if o, w := splitNode(other); o != g && w != "" && !slices.Contains(ties[g], o) {
			ties[g] = append(ties[g], o)
		}
		gives[g] = gives[g] || source
	}
	for _, p := range parts {
		note(p.A, p.B, p.Kind == rig.Source)
		note(p.B, p.A, p.Kind == rig.Source)
	}
	for len(loose) > 0 {
		next := slices.IndexFunc(loose, func(g string) bool {
			return slices.ContainsFunc(ties[g], func(o string) bool { return slices.Contains(groups, o) })
		})
		if next < 0 { // tied to no column
			return append(groups, loose...)
		}
		g := loose[next]
		at := len(groups)
		for _, o := range ties[g] {
			if i := slices.Index(groups, o); i >= 0 {
				at = min(at, i)
			}
		}
		if !gives[g] || len(ties[g]) > 1 {
			at++
		}
		groups = slices.Insert(groups, at, g)
		loose = slices.Delete(loose, next, next+1)
	}
	return groups
}
