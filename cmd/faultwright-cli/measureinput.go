package main

import (
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// applied reads ID, ID@PLACE, ID=SEVERITY or ID@PLACE=SEVERITY.
func applied(lib *content.Library, r *rig.Rig, text string) (rig.Applied, error) {
	name, severity, given := strings.Cut(text, "=")
	id, place, placed := strings.Cut(name, "@")
	f := lib.Faults[id]
	if f == nil {
		return rig.Applied{}, unknown("fault", id, slices.Sorted(maps.Keys(lib.Faults)))
	}
	if f.Edits == nil || len(f.Edits.Variants) == 0 {
		return rig.Applied{}, bad("the fault %s says nothing of what it does to a rig", id)
	}
	chosen := -1
	var places []string
	for i, v := range f.Edits.Variants {
		if !v.FitsIn(r) {
			continue
		}
		places = lists.With(places, string(v.Place))
		if chosen < 0 && (!placed || place == string(v.Place)) {
			chosen = i
		}
	}
	switch {
	case len(places) == 0:
		return rig.Applied{}, bad("the fault %s cannot be in the rig %s, which lacks what it changes", id, r.ID)
	case chosen < 0:
		return rig.Applied{}, bad("in the rig %s the fault %s has no place %q; it can be in %s", r.ID, id, place, list(places))
	}
	a, declared := f.Edits.Ordinary(chosen), f.Edits.Severity
	switch {
	case given && declared == nil:
		return a, bad("the fault %s has no severity", id)
	case given:
		v, err := load.ParseValue(severity, declared.Unit)
		if err != nil {
			return a, bad("the severity of %s: %v", id, err)
		}
		a.Severity = v
	}
	return a, nil
}

// set puts PART=VALUE into the values of a rig.
func set(r *rig.Rig, values []float64, given map[int]bool, text string) error {
	name, typed, ok := strings.Cut(text, "=")
	if !ok {
		return bad("--set %s: expected PART=VALUE, such as cord.length=15", text)
	}
	i := r.Param(name)
	if i == rig.None {
		return lacks(r, "part or number", name, numbers(r))
	}
	if given[i] {
		return bad("--set %s is given twice", name)
	}
	given[i] = true
	v, err := load.ParseValue(typed, r.Params[i].Unit)
	if err != nil {
		return bad("--set %s: %v", name, err)
	}
	values[i] = v
	return nil
}

// lacks is the error for something that a rig does not have.
func lacks(r *rig.Rig, what, name string, candidates []string) error {
	return lacking("the rig "+r.ID+" has no "+what, "it has", name, candidates)
}

// numbers lists what --set accepts.
func numbers(r *rig.Rig) []string {
	seen := map[string]bool{}
	for _, p := range r.Params {
		seen[p.Name] = true
	}
	for _, p := range r.Parts {
		if r.Param(p.Run) != rig.None {
			seen[p.Run] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

// legVolts is what the watts of --load are meant at.
var legVolts = map[string]float64{"l1": 120, "l2": 120, "l1l2": 240, "dc": 12}

// replaceLoads is the rig with all loads of the named legs replaced by one
// resistive load where the first of them is. 0 W leaves none.
func replaceLoads(r *rig.Rig, loads []string) (*rig.Rig, error) {
	if len(loads) == 0 {
		return r, nil
	}
	changed := *r
	changed.Params = slices.Clone(r.Params)
	changed.Parts = nil
	watts := map[string]float64{}
	legs := slices.DeleteFunc(r.Legs(), func(leg string) bool { return legVolts[leg] == 0 })
	for _, text := range loads {
		leg, typed, ok := strings.Cut(text, "=")
		if !ok {
			return nil, bad("--load %s: expected LEG=WATTS, such as l1=1500", text)
		}
		if !slices.Contains(legs, leg) {
			return nil, lacks(r, "loads on a leg", leg, legs)
		}
		if _, twice := watts[leg]; twice {
			return nil, bad("--load %s is given twice", leg)
		}
		w, err := load.ParseValue(typed, rig.Watts)
		if err != nil {
			return nil, bad("--load %s: %v", leg, err)
		}
		watts[leg] = w
	}
	placed := map[string]bool{}
	for _, p := range r.Parts {
		w, replaced := watts[p.Leg]
		if p.Kind != rig.Load || !replaced {
			changed.Parts = append(changed.Parts, p)
			continue
		}
		if placed[p.Leg] || w == 0 {
			continue
		}
		placed[p.Leg] = true
		changed.Parts = append(changed.Parts, resistive(&changed, p, w))
	}
	return &changed, nil
}

// resistive is a load of so many watts in the place of p.
func resistive(r *rig.Rig, p rig.Part, watts float64) rig.Part {
	n := rig.NewPart(p.Name, rig.Load, p.A, p.B)
	n.Run, n.Wire, n.Title, n.Switch, n.Leg, n.Direct, n.Pos = p.Run, p.Wire, p.Title, p.Switch, p.Leg, p.Direct, p.Pos
	number := func(a rig.Attribute, u rig.ParamUnit, v float64) {
		n.Params[a] = len(r.Params)
		r.Params = append(r.Params, rig.Param{Name: "--load " + p.Leg + "." + a.String(), Unit: u, Value: v, From: v, To: v, Pos: p.Pos})
	}
	number(rig.AttrWatts, rig.Watts, watts)
	number(rig.AttrAtVolts, rig.Volts, legVolts[p.Leg])
	number(rig.AttrPowerFactor, rig.Ratio, 1)
	return n
}

// quantity is the one of this id, or a pair of test points of the rig.
func (b *board) quantity(lib *content.Library, id string) (faulttree.Quantity, error) {
	q, listed := lib.Forest.Quantities[id]
	if !listed {
		known := func(point string) bool {
			_, ok := lib.Points[point]
			return ok || point != "0" && b.rig.HasNode(point)
		}
		name, err := faulttree.ParseQuantityName(id, known)
		if err != nil {
			if hint := source.DidYouMean(id, lib.Forest.Quantities.IDs()); hint != "" {
				return q, bad("%v; %s", err, hint)
			}
			return q, bad("%v", err)
		}
		if name.Black == "" && name.Prefix != "amp" {
			return q, bad("%q names one test point; a clamp is asked for as amp:%s", id, name.Red)
		}
		q = faulttree.Quantity{ID: id, Red: name.Red, Black: name.Black, Conditions: name.Conditions}
		q.Unit = unitOf(lib, name)
		q.Range = map[faulttree.Unit]faulttree.Amount{faulttree.VoltsAC: 600, faulttree.VoltsDC: 60, faulttree.Ohms: 600,
			faulttree.AmpsAC: 60, faulttree.AmpsDC: 60}[q.Unit] * faulttree.One
	}
	for _, point := range []string{q.Red, q.Black} {
		if point != "" && !q.OfMeter() && !b.rig.HasNode(point) {
			return q, lacks(b.rig, "test point", point, nodes(b.rig))
		}
	}
	return q, nil
}

// unitOf says what a meter reads between two points that no list names: by
// the prefix, and direct where both ends belong to the 12 V side.
func unitOf(lib *content.Library, n faulttree.QuantityName) faulttree.Unit {
	direct := func(point string) bool { return lib.Points[point].Place == faulttree.DC }
	dc := direct(n.Red) && (n.Black == "" || direct(n.Black) || n.Black == "body") || n.Red == "body" && direct(n.Black)
	switch {
	case n.Prefix == "ohm":
		return faulttree.Ohms
	case n.Prefix == "amp" && dc:
		return faulttree.AmpsDC
	case n.Prefix == "amp":
		return faulttree.AmpsAC
	case dc:
		return faulttree.VoltsDC
	}
	return faulttree.VoltsAC
}

func nodes(r *rig.Rig) []string {
	seen := map[string]bool{}
	for _, p := range r.Parts {
		seen[p.A], seen[p.B] = true, true
	}
	delete(seen, "0")
	return slices.Sorted(maps.Keys(seen))
}
