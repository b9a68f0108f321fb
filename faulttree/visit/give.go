package visit

import (
	"errors"
	"time"
)

// Vehicle is the reader's own vehicle that the visit is of, by its id in the logbook: the
// one that it was given to last, or was begun for; "" for none.
func (v Visit) Vehicle() string {
	id := v.Header.Vehicle
	for _, r := range v.Records {
		if r.Kind == Given {
			id = r.Vehicle
		}
	}
	return id
}

// ErrNoRealVehicle means that a visit is practice, which is never a visit of a vehicle.
var ErrNoRealVehicle = errors.New("it is practice, and about no real vehicle")

// Give records that a visit is of another vehicle from now on, by its id in the logbook,
// "" for none, and its details as they are then. It needs no handbook. Giving it back
// undoes it; all of that stays on record.
func Give(log Log, v Visit, at time.Time, vehicle string, d Details) (Visit, error) {
	if v.Header.Practice != "" || v.Header.Sample {
		return v, ErrNoRealVehicle
	}
	r, err := Recorder{log: log, visit: v}.add(Record{At: at, Kind: Given, Vehicle: vehicle, Details: d.shown()})
	return r.visit, err
}
