package view

import "faultwright/faulttree"

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
