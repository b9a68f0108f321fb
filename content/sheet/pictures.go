package sheet

import (
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// pictures draws where the deciding readings were taken: those that led to a
// signal word, and the last one; at most four.
func pictures(lib *content.Library, w faulttree.Walk) []figure.Drawing {
	var deciding []faulttree.Quantity
	take := func(q faulttree.Quantity) {
		if len(deciding) < 4 && !slices.ContainsFunc(deciding, func(d faulttree.Quantity) bool { return d.ID == q.ID }) {
			deciding = append(deciding, q)
		}
	}
	var last []faulttree.Quantity
	for _, p := range view.Trail(lib, w) {
		var read []faulttree.Quantity
		for _, l := range p.Lines {
			if l.Read {
				read = append(read, l.Quantity)
			}
			if l.Read && l.Signal >= faulttree.Warning {
				take(l.Quantity)
			}
		}
		if len(read) > 0 {
			last = read
		}
	}
	for _, q := range last {
		take(q)
	}
	return Probes(deciding, lib.Forest.Plug(w.Facts()))
}

// Probes draws where the probes go for some quantities, on the face of a plug by its NEMA
// WD 6 name; "" is one that nobody knows.
func Probes(taken []faulttree.Quantity, plug string) []figure.Drawing {
	faces := figure.Faces(plug)
	var out []figure.Drawing
	for _, q := range taken {
		d := figure.Probes(q, faces[0])
		if len(faces) > 1 && figure.ShowsFace(q) {
			d.Title += fmt.Sprintf(". Drawn on %v; on %v the contact of the same name.", faces[0], faces[1])
		}
		out = append(out, d)
	}
	return out
}
