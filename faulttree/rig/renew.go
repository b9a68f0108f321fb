package rig

import "slices"

// Renewed is what is left of a fault, made in one of its variants in r, where
// everything of these names (see [Part.Names]) has been replaced by something
// sound, and the vehicle is one of the rig to from then on: r itself, or another
// rig, which has no more of the fault than it has parts for. It is nil where
// nothing is left, and f itself where all is; index is that of the variant then.
func (f *Fault) Renewed(variant int, r *Rig, names []string, to *Rig) (left *Fault, index int) {
	v := f.Variants[variant]
	var edits []Edit
	gone := r != to && len(v.Needs) > 0 // what it needed beside its edits may be missing
	for _, e := range v.Edits {
		kept, whole := e.renewed(r, names, to)
		gone = gone || !whole
		if kept != nil {
			edits = append(edits, *kept)
		}
	}
	switch {
	case !gone:
		return f, variant
	case len(edits) == 0:
		return nil, 0
	}
	v.Edits, v.Needs = edits, nil
	out := *f
	out.Variants = []Variant{v}
	return &out, 0
}

// Names lists by what names a part, or an end of it, can be meant: its own, that
// of its run, its nodes and their groups.
func (p Part) Names() []string { return []string{p.Name, p.Run, p.A, p.B, Group(p.A), Group(p.B)} }

// renewed is what is left of an edit, nil for nothing; whole says that all is.
func (e Edit) renewed(r *Rig, names []string, to *Rig) (left *Edit, whole bool) {
	switch {
	case e.Kind == Misuse:
		return &e, true
	case e.Kind == Connect:
		if slices.ContainsFunc(e.Nodes[:], func(node string) bool {
			return slices.Contains(names, node) || slices.Contains(names, Group(node)) || node != "0" && !to.HasNode(node)
		}) || e.Switch != "" && !to.hasSwitch(e.Switch) {
			return nil, false
		}
		return &e, true
	case len(e.Parts) == 0: // a number of the whole rig
		if r != to || slices.Contains(names, "hertz") {
			return nil, false
		}
		return &e, true
	}
	var parts []string
	for _, name := range e.Parts {
		if r.renews(names, name) || len(to.Named(name)) == 0 {
			continue
		}
		if e.Kind == Set {
			if one := (Edit{Kind: Set, Parts: []string{name}, Attr: e.Attr}); to.SetBy(one)[0] == None {
				continue
			}
		}
		parts = append(parts, name)
	}
	switch {
	case len(parts) == len(e.Parts):
		return &e, true
	case len(parts) == 0, e.Kind == Swap: // two wires are exchanged, or none
		return nil, false
	}
	e.Parts = parts
	return &e, false
}

// renews reports whether names have a part, by its own name or that of its run.
func (r *Rig) renews(names []string, part string) bool {
	if slices.Contains(names, part) {
		return true
	}
	p, ok := r.Part(part)
	return ok && slices.Contains(names, p.Run)
}

func (r *Rig) hasSwitch(name string) bool {
	return slices.ContainsFunc(r.Switches, func(s Switch) bool { return s.Name == name })
}

// Like is a setup of another rig that is as s is in what both have: numbers and
// varieties of the same names. The faults are left out.
func (r *Rig) Like(s Setup, from *Rig) Setup {
	out := Setup{Values: r.Values()}
	for i, p := range r.Params {
		at := slices.IndexFunc(from.Params, func(o Param) bool { return o.Name == p.Name && o.Unit == p.Unit })
		switch {
		case at < 0:
		case s.Values == nil:
			out.Values[i] = from.Params[at].Value
		default:
			out.Values[i] = s.Values[at]
		}
	}
	for i, v := range r.Varieties {
		at := slices.IndexFunc(from.Varieties, func(o Variety) bool { return o.Name == v.Name })
		if at >= 0 && s.Varieties&(1<<at) != 0 {
			out.Varieties |= 1 << i
		}
	}
	return out
}
