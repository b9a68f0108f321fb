package why

import (
	"math"
	"slices"

	"faultwright/faulttree/rig"
)

// atom is the least change that a fault consists of.
type atom struct {
	applied rig.Applied
	number  int // of the fault in the setup
	edit    int
	part    int // index in the rig, [rig.None] for a join, the frequency and the meter
}

func (a atom) fault() *rig.Fault { return a.applied.Fault }

func (a atom) change() rig.Edit { return a.fault().Variants[a.applied.Variant].Edits[a.edit] }

func (a atom) kind() rig.EditKind { return a.change().Kind }

// atoms lists what the faults of a vehicle consist of.
func atoms(r *rig.Rig, setup rig.Setup) []atom {
	var out []atom
	for n, applied := range setup.Faults {
		for j, e := range applied.Fault.Variants[applied.Variant].Edits {
			names := e.Parts
			switch {
			case e.Kind == rig.Swap:
				names = names[:1] // both are exchanged, or none
			case len(names) == 0:
				names = []string{""}
			}
			for _, name := range names {
				one := atom{applied, n, j, rig.None}
				if at := r.Named(name); len(at) > 0 {
					one.part = at[0]
				}
				out = append(out, one)
			}
		}
	}
	return out
}

// only is a vehicle with those atoms of its faults that are kept.
func only(r *rig.Rig, setup rig.Setup, keep func(fault, edit int, part string) bool) rig.Setup {
	faults := setup.Faults
	setup.Faults = nil
	for n, applied := range faults {
		f := *applied.Fault
		var edits []rig.Edit
		for j, e := range f.Variants[applied.Variant].Edits {
			switch {
			case len(e.Parts) == 0 || e.Kind == rig.Swap:
				if keep(n, j, first(e.Parts)) {
					edits = append(edits, e)
				}
			default:
				e.Parts = slices.DeleteFunc(slices.Clone(e.Parts), func(name string) bool { return !keep(n, j, name) })
				if len(e.Parts) > 0 {
					edits = append(edits, e)
				}
			}
		}
		f.Variants = []rig.Variant{{Edits: edits}}
		setup.Faults = append(setup.Faults, rig.Applied{Fault: &f, Severity: applied.Severity})
	}
	return setup
}

func first(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return names[0]
}

// is reports whether a part of an edit is the atom.
func (a atom) is(r *rig.Rig, fault, edit int, part string) bool {
	if fault != a.number || edit != a.edit {
		return false
	}
	at := r.Named(part)
	return a.part == rig.None || len(at) > 0 && at[0] == a.part
}

// decisive is the atom that makes most of the difference: without which the
// reading would be nearest to the sound one, and which alone brings it nearest to
// the faulty one. Differs is false where the faults do not change it; then it is
// the first. It is nil for a vehicle without faults.
func (e *explainer) decisive() (best *atom, differs bool, err error) {
	c := e.faulty
	all := atoms(c.rig, c.setup)
	if len(all) == 0 {
		return nil, false, nil
	}
	if difference(c.value, e.sound.value, e.at.Unit) < 1 {
		return &all[0], false, nil
	}
	least := math.Inf(1)
	for i, a := range all {
		off := 0.0
		for alone, goal := range map[bool]Value{false: e.sound.value, true: c.value} {
			v, err := e.read(only(c.rig, c.setup, func(fault, edit int, part string) bool { return a.is(c.rig, fault, edit, part) == alone }))
			if err != nil {
				return nil, false, err
			}
			off += difference(v, goal, e.at.Unit)
		}
		if off < least {
			best, least = &all[i], off
		}
	}
	return best, true, nil
}
