package logbook

import (
	"time"

	"faultwright/faulttree/visit"
)

// Give makes a visit one of another vehicle, from being one of another or of none; the zero
// Vehicle stands for none. The name on its sheet follows, unless something else was written
// there. Given back, the visit is as it was.
func Give(log visit.Log, v visit.Visit, at time.Time, from, to Vehicle) (visit.Visit, error) {
	d := v.Details()
	if d.Vehicle == from.Name {
		d.Vehicle = to.Name
	}
	return visit.Give(log, v, at, to.ID, d)
}
