package load

import (
	"maps"
	"slices"

	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// mostHinted bounds the names among which the nearest one is looked for.
const mostHinted = 20_000

// rigNames is everything that the rigs of a handbook name. A rig with errors
// counts, so that one slip is reported once.
type rigNames struct {
	rigs    []*rig.Rig
	sets    [useAny + 1]map[string]bool
	listed  [useAny + 1][]string
	unknown bool // a rig could not be read at all: any name may be in it
}

func newRigNames(parts []*part) *rigNames {
	n := &rigNames{}
	for kind := range n.sets {
		n.sets[kind] = map[string]bool{}
	}
	n.sets[useNode]["0"] = true
	for _, p := range parts {
		if kind, ok := p.kind(); !ok || kind != refRig {
			continue
		}
		if p.rig == nil || p.rigCut {
			n.unknown = true
			continue
		}
		n.rigs = append(n.rigs, p.rig)
		for _, one := range p.rig.Parts {
			n.sets[usePart][one.Name], n.sets[useRun][one.Name], n.sets[useRun][one.Run] = true, true, true
			n.sets[useNode][one.A], n.sets[useNode][one.B] = true, true
			for _, name := range one.Names() {
				n.sets[useAny][name] = true
			}
		}
		for _, s := range p.rig.Switches {
			n.sets[useSwitch][s.Name] = true
		}
	}
	for kind, set := range n.sets {
		n.listed[kind] = slices.Sorted(maps.Keys(set))
	}
	return n
}

var useWords = [...]struct{ word, rule string }{
	usePart:   {"part", RuleUnknownPart},
	useNode:   {"node", RuleUnknownNode},
	useSwitch: {"switch", RuleUnknownSwitch},
	useRun:    {"part", RuleUnknownPart},
	useAny:    {"part, run or node", RuleUnknownPart},
}

// check reports what the edits of a fault or the choices of a tree name and no
// rig has, and variants that no rig can hold. It drops the edits that have
// errors.
func (n *rigNames) check(p *part) {
	if n.unknown || len(n.rigs) == 0 {
		return
	}
	before := len(p.diags)
	for _, u := range p.uses {
		if p.full() {
			break
		}
		if n.sets[u.kind][u.name] {
			continue
		}
		hint := ""
		if len(p.diags) < MostErrors && len(n.listed[u.kind]) < mostHinted {
			hint = source.DidYouMean(u.name, n.listed[u.kind])
		}
		if u.kind == usePart && n.sets[useRun][u.name] {
			hint = "it is a run of wires: name its parts, such as " + n.partOf(u.name)
		}
		p.diags.AddHint(u.pos, useWords[u.kind].rule, hint, "no rig has a %s %s", useWords[u.kind].word, u.name)
	}
	if p.fault == nil {
		return
	}
	if p.fault.Edits != nil && len(p.diags) == before {
		for _, v := range p.fault.Edits.Variants {
			n.fits(p, v)
		}
	}
	if len(p.diags) > before {
		p.fault.Edits = nil
	}
}

// partOf is the first part of a run.
func (n *rigNames) partOf(run string) string {
	var all []string
	for _, r := range n.rigs {
		for _, one := range r.Parts {
			if one.Run == run && one.Wire != "" {
				all = append(all, one.Name)
			}
		}
	}
	if len(all) == 0 {
		return run
	}
	return slices.Min(all)
}

// fits reports a variant whose names are in no single rig, or that a rig has
// the names for but not the numbers.
func (n *rigNames) fits(p *part, v rig.Variant) {
	found := false
	for _, r := range n.rigs {
		if !v.FitsIn(r) {
			continue
		}
		found = true
		for _, e := range v.Edits {
			if why := whyNot(r, e); why != "" {
				p.diags.Add(e.Pos, RuleEditMisfit, "in the rig %s %s", r.ID, why)
			}
		}
	}
	if !found {
		p.diags.Add(v.Pos, RuleEditMisfit, "no single rig has all the parts, numbers and nodes that the variant names")
	}
}

// whyNot says why an edit cannot be made in a rig that has all it names.
func whyNot(r *rig.Rig, e rig.Edit) string {
	if e.Kind == rig.Connect && e.Switch != "" &&
		!slices.ContainsFunc(r.Switches, func(s rig.Switch) bool { return s.Name == e.Switch }) {
		return "there is no switch " + e.Switch
	}
	for _, name := range e.Parts {
		for _, one := range r.Parts {
			if one.Name != name && (e.Kind != rig.Set || one.Run != name || one.Wire == "") {
				continue
			}
			switch {
			case e.Kind == rig.Replace && one.Kind != rig.Source:
				return one.Name + " is a " + one.Kind.String() + "; replace is for sources"
			case e.Kind == rig.Set && one.Params[e.Attr] == rig.None:
				return one.Name + " has no " + e.Attr.String()
			}
		}
	}
	return ""
}
