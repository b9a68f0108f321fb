package sheet

import (
	"fmt"

	"faultwright/content/figure"
	"faultwright/faulttree"
)

// pictures draws where the deciding readings were taken: those that led to a
// signal word, and the last one; at most four.
func pictures(w faulttree.Walk) []figure.Drawing {
	var deciding []faulttree.Quantity
	take := func(s *faulttree.Step) {
		for _, v := range s.Measure {
			for _, q := range deciding {
				if q.ID == v.Quantity.ID {
					return
				}
			}
			if len(deciding) < 4 {
				deciding = append(deciding, v.Quantity)
			}
		}
	}
	trail := w.Trail()
	last := -1
	for i, e := range trail {
		s := w.Forest().Step(e.Step)
		if s == nil || s.Kind != faulttree.KindMeasure {
			continue
		}
		last = i
		if e.Outcome.Signal >= faulttree.Warning {
			take(s)
		}
	}
	if last >= 0 {
		take(w.Forest().Step(trail[last].Step))
	}
	faces := figure.Faces(tree(w))
	var out []figure.Drawing
	for _, q := range deciding {
		d := figure.Probes(q, faces[0])
		if len(faces) > 1 && figure.ShowsFace(q) {
			d.Title += fmt.Sprintf(". Drawn on %v; on %v the contact of the same name.", faces[0], faces[1])
		}
		out = append(out, d)
	}
	return out
}
