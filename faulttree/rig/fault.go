package rig

import (
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// Fault is what a fault of the catalogue does to a rig. Each variant is one
// place or way it can happen.
type Fault struct {
	ID       string
	Title    string
	Hazard   faulttree.Signal
	Weight   float64 // how often it is met, against the other faults; common practice, no source
	Severity *Param  // the one number of the fault that can be chosen; nil if it has none
	Variants []Variant
	Pos      source.Pos
}

// Variant is one way a fault can happen. It is possible in every rig that has
// the parts and nodes it names.
type Variant struct {
	Place faulttree.Place
	Text  string   // "in the cord"
	Needs []string // parts or runs that a rig must have besides those the edits name
	With  []string // ids of other faults that the edits bring along: a lost ground with a leak
	Edits []Edit
	Pos   source.Pos
}

// EditKind is what an edit does.
type EditKind uint8

const (
	Open    EditKind = iota + 1 // Parts do not conduct
	Resist                      // Parts have Ohms more in series
	Connect                     // Nodes are joined through Ohms, within the state of Switch
	Swap                        // the far ends of two Parts are exchanged
	Replace                     // source Parts get Volts at Degrees
	Set                         // attribute Attr of Parts or runs takes Value; without Parts, the frequency does
	Misuse                      // the meter is used wrongly, see Mistake
)

func (k EditKind) String() string {
	return [...]string{"", "open", "resistance", "connect", "swap", "replace", "set", "meter"}[k]
}

// EditValue is a number of an edit: fixed, or the fault's severity times Factor.
type EditValue struct {
	Fixed    float64
	Severity bool
	Factor   float64
}

// Of is the number at a severity.
func (a EditValue) Of(severity float64) float64 {
	if a.Severity {
		return severity * a.Factor
	}
	return a.Fixed
}

// Edit is one change of a rig.
type Edit struct {
	Kind           EditKind
	Parts          []string
	Nodes          [2]string
	Ohms           EditValue // Resist and Connect
	Volts, Degrees EditValue // Replace
	Attr           Attribute
	Value          EditValue // Set
	Switch, Leg    string    // Connect: only while this switch is on, or loads of this leg are
	Mistake        Mistake
	Pos            source.Pos
}

// Mistake is a way to use a meter wrongly or a way it fails.
type Mistake uint8

const (
	HoldLeftOn    Mistake = iota + 1 // shows the reading before
	RangeTooLow                      // the range is below what is measured
	WrongFunction                    // direct for alternating, or the reverse
	AmpereJack                       // the red lead in the current jack
	GhostReading                     // a high impedance meter on a dead conductor beside a live one
	WeakBattery                      // drifts, reads low
	BrokenLead                       // shows zero or nothing
)

func (m Mistake) String() string {
	return [...]string{"", "hold", "range", "function", "ampere-jack", "ghost", "battery", "lead"}[m]
}

// FaultPart is the name of the part that an edit of a fault makes where it joins
// two nodes, by the index of the edit.
func FaultPart(edit int) string { return fmt.Sprintf("fault %d", edit) }

// Shows reports whether the variant changes the vehicle, not only the meter.
func (v Variant) Shows() bool {
	return slices.ContainsFunc(v.Edits, func(e Edit) bool { return e.Kind != Misuse })
}

// FitsIn reports whether a rig has all that the variant names.
func (v Variant) FitsIn(r *Rig) bool {
	for _, name := range v.Needs {
		if len(r.Named(name)) == 0 {
			return false
		}
	}
	for _, e := range v.Edits {
		if e.Kind == Set {
			if slices.Contains(r.SetBy(e), None) {
				return false
			}
			continue
		}
		for _, name := range e.Parts {
			if _, ok := r.Part(name); !ok {
				return false
			}
		}
		for _, node := range e.Nodes {
			if node != "" && node != "0" && !r.HasNode(node) {
				return false
			}
		}
	}
	return true
}

// SetBy lists the indices of the parameters that a [Set] edit sets, in the order
// of its parts; a part without the attribute gives [None].
func (r *Rig) SetBy(e Edit) []int {
	if len(e.Parts) == 0 {
		return []int{r.Hertz}
	}
	at := make([]int, len(e.Parts))
	for i, name := range e.Parts {
		at[i] = None
		for j := range r.Parts {
			if p := &r.Parts[j]; p.Name == name || p.Run == name {
				at[i] = p.Params[e.Attr]
				break
			}
		}
	}
	return at
}

// In lists the variants that fit in a rig.
func (f *Fault) In(r *Rig) []Variant {
	return lists.Where(f.Variants, func(v Variant) bool { return v.FitsIn(r) })
}

// Places lists where the fault can sit, in the order of its variants.
func (f *Fault) Places() []faulttree.Place {
	var out []faulttree.Place
	for _, v := range f.Variants {
		out = lists.With(out, v.Place)
	}
	return out
}

// Beside is where the fault sits when it comes along with another in a place:
// in the same place if it can, else in the first of its own.
func (f *Fault) Beside(place faulttree.Place) faulttree.Place {
	if all := f.Places(); len(all) > 0 && !slices.Contains(all, place) {
		return all[0]
	}
	return place
}

// Along is where the fault sits when a variant of another fault brings it along:
// in the place of the variant of its own whose edits are all among that one's, or
// else by [Fault.Beside].
func (f *Fault) Along(v Variant) faulttree.Place {
	for _, own := range f.Variants {
		if !slices.ContainsFunc(own.Edits, func(e Edit) bool { return !slices.ContainsFunc(v.Edits, e.like) }) {
			return own.Place
		}
	}
	return f.Beside(v.Place)
}

// like reports whether two edits do the same in the same place, however bad.
func (e Edit) like(o Edit) bool {
	return e.Kind == o.Kind && slices.Equal(e.Parts, o.Parts) && e.Nodes == o.Nodes && e.Attr == o.Attr && e.Switch == o.Switch && e.Leg == o.Leg
}

// Ordinary is the fault in force in one of its variants, as bad as it ordinarily
// is: what is meant where nobody says how bad.
func (f *Fault) Ordinary(variant int) Applied {
	a := Applied{Fault: f, Variant: variant}
	if f.Severity != nil {
		a.Severity = f.Severity.Value
	}
	return a
}

// Applied is a fault in force.
type Applied struct {
	Fault    *Fault
	Variant  int // index into Fault.Variants
	Severity float64
}
