package view

import (
	"slices"
	"time"

	"faultwright/content"
	"faultwright/faulttree"
)

// Proves reports whether answer i of a walk showed that the meter reads volts: on a source
// or a battery known to be good it showed what its step asks for, since the walk neither
// went on with the meter itself nor ended at it.
func Proves(lib *content.Library, w faulttree.Walk, i int) bool {
	e, proved := w.Trail()[i], false
	s, next := w.Asked(e.Step), lib.Forest.Step(e.Next)
	if s == nil || next == nil {
		return false
	}
	for q, r := range s.Readings(e.Answer) {
		proved = proved || r.Numeric() && (q.Proves == faulttree.ProvesVoltsAC || q.Proves == faulttree.ProvesVoltsDC)
	}
	if next.Kind == faulttree.KindFinding {
		return proved && !ofMeter(lib, next.Finding.Faults)
	}
	return proved && (!next.Reads() || slices.ContainsFunc(next.Measure, func(v faulttree.Variable) bool { return !v.Quantity.OfMeter() }))
}

// ProofNoted says that the day on which a meter was proved is noted with it.
func ProofNoted(m faulttree.Meter, day time.Time) string {
	return "The meter was proved, which is noted of “" + m.Name + "” with the day, " + day.Format("2 January 2006") + "."
}

// ProofText says whether the meter was proved on a source known to be live
// before the readings of a walk and after them. A reading taken once is one
// proof, never two.
func ProofText(w faulttree.Walk) string {
	before, after, live := false, false, false
	for _, e := range w.Trail() {
		s := w.Asked(e.Step)
		if s == nil {
			continue
		}
		for q, r := range s.Readings(e.Answer) {
			switch {
			case !r.Numeric():
			case q.Proves == faulttree.ProvesVoltsAC:
				before, after = before || !live, live
			case !q.OfMeter() && q.Unit != faulttree.Ohms:
				live, after = true, false
			}
		}
	}
	switch {
	case !live:
		return "No live reading was taken."
	case before && after:
		return "The meter was proved on a live source before these readings and after them."
	case before:
		return "The meter was proved on a live source before these readings, not after the last of them: a meter that failed in between would not have shown it."
	case after:
		return "The meter was proved on a live source after these readings, not before them."
	}
	return "The meter was not proved on a live source. A reading of next to nothing may be that of a dead meter."
}
