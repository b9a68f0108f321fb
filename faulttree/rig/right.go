package rig

import (
	"slices"

	"faultwright/faulttree"
)

// PutRight is what is left of a fault in one of its variants after some faults
// were put right: the fault itself, what comes along with it, or all. It is nil
// where nothing is left, and f itself where all is; index is that of the variant
// then. The catalogue says what each that comes along does by itself; where that is
// nothing, it is the fault in another guise, and both are put right together. What
// is left alone goes by its own id.
func (f *Fault) PutRight(variant int, right func(faulttree.FaultAt) bool, catalogue []*Fault) (left *Fault, index int) {
	all := f.apart(variant, catalogue)
	itself := func(s share) bool { return s.own == nil } // the fault or a guise of it
	done := func(s share) bool { return right(s.at) }
	mended := slices.ContainsFunc(all, func(s share) bool { return itself(s) && done(s) })
	kept := slices.DeleteFunc(slices.Clone(all), func(s share) bool {
		if itself(s) {
			return mended
		}
		return done(s)
	})
	switch {
	case len(kept) == len(all):
		return f, variant
	case len(kept) == 0:
		return nil, 0
	}
	v := f.Variants[variant]
	v.Place, v.Needs, v.With = kept[0].at.Place, nil, nil
	for _, s := range kept[1:] {
		v.With = append(v.With, s.at.Fault)
	}
	v.Edits = slices.DeleteFunc(slices.Clone(v.Edits), func(e Edit) bool {
		of := slices.IndexFunc(all, func(s share) bool { return slices.ContainsFunc(s.own, e.like) })
		if of < 0 {
			return mended
		}
		return done(all[of])
	})
	out := *f
	out.ID, out.Title, out.Variants = kept[0].at.Fault, kept[0].title, []Variant{v}
	return &out, 0
}

// share is what one fault does in a variant: the fault itself, first, or one that
// comes along.
type share struct {
	at    faulttree.FaultAt
	title string
	own   []Edit // nil for the fault itself, which does all the rest, and for a guise of it
}

// apart lists the shares of a variant.
func (f *Fault) apart(variant int, catalogue []*Fault) []share {
	v := f.Variants[variant]
	out := []share{{at: faulttree.FaultAt{Fault: f.ID, Place: v.Place}, title: f.Title}}
	rest := slices.Clone(v.Edits)
	for _, id := range v.With {
		s := share{at: faulttree.FaultAt{Fault: id, Place: v.Place}, title: id}
		if i := slices.IndexFunc(catalogue, func(o *Fault) bool { return o.ID == id }); i >= 0 {
			s.title, s.at.Place = catalogue[i].Title, catalogue[i].Along(v)
			s.own = catalogue[i].among(rest)
			rest = slices.DeleteFunc(rest, func(e Edit) bool { return slices.ContainsFunc(s.own, e.like) })
		}
		out = append(out, s)
	}
	return out
}

// among is what the fault does by itself in some edits, where that is not all of
// them; nil where it does nothing there.
func (f *Fault) among(edits []Edit) []Edit {
	for _, own := range f.Variants {
		inside := !slices.ContainsFunc(own.Edits, func(e Edit) bool { return !slices.ContainsFunc(edits, e.like) })
		if inside && len(own.Edits) < len(edits) {
			return own.Edits
		}
	}
	return nil
}

// IDs lists the fault and what comes along with it in one of its variants.
func (a Applied) IDs() []string {
	if a.Variant < 0 || a.Variant >= len(a.Fault.Variants) {
		return []string{a.Fault.ID}
	}
	return append([]string{a.Fault.ID}, a.Fault.Variants[a.Variant].With...)
}
