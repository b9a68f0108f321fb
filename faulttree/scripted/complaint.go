package scripted

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/vehicle"
)

// ToComplaint is the reading by which what the customer complains of is seen, and how
// that is come to, where nothing live is near whoever takes it; else a sentence on why
// there is none. The body is read as it was brought, before a hand is on it.
func ToComplaint(c practice.Case, a practice.Attempt, known mark.Known, felt faulttree.Amount, t *faulttree.Tree) (q faulttree.Quantity, acts []practice.Act, why string, err error) {
	q, why, err = complaint(c, known, t)
	taking, can := known.Taking(q.ID)
	switch {
	case err != nil || !can:
		return q, nil, why, err
	case OfBody(q):
		return q, []practice.Act{{Kind: practice.Read, Red: q.Red, Black: q.Black, Setting: meter.Setting{Function: meter.VoltsAC}}}, "", nil
	}
	acts, err = Plan(c, a, felt, taking)
	return q, acts, "", err
}

// complaint is the quantity by which a vehicle shows what leads to a tree, as [ToComplaint]
// has it read.
func complaint(c practice.Case, known mark.Known, t *faulttree.Tree) (q faulttree.Quantity, why string, err error) {
	const unmeasured = "What the customer complains of is seen without a meter."
	switch {
	case t == nil || len(t.Complaint) == 0:
		return q, "", nil
	case !slices.ContainsFunc(t.Complaint, func(x faulttree.Choice) bool { return len(x.When) > 0 }):
		return q, unmeasured, nil
	}
	v, err := vehicle.New(c.Rig)
	if err == nil {
		err = v.Put(c.Setup())
	}
	if err != nil {
		return q, "", err
	}
	has, err := vehicle.Walker{Vehicle: v, Value: v.Taken}.Has(t)
	for _, i := range has {
		x := t.Complaint[i]
		if len(x.When) == 0 {
			why = unmeasured
			continue
		}
		q := x.When[0].Quantity
		if slices.ContainsFunc(known.Permitted(), func(p faulttree.Quantity) bool { return p.ID == q.ID }) && (OfBody(q) || c.Direct() || !q.Exposure.Live()) {
			return q, "", err
		}
		why = cmp.Or(why, "What the customer complains of would be read on a live contact: what can be tested dead comes first.")
	}
	return q, why, err
}

// OfBody reports whether a quantity is the body to the spike.
func OfBody(q faulttree.Quantity) bool { return q.Red == "body" && q.Black == "earth" }
