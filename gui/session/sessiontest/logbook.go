package sessiontest

import (
	"faultwright/faulttree/logbook"
	"faultwright/gui/session"
)

// Vehiclebook is a store of vehicles whose disk can be full.
type Vehiclebook struct {
	session.Vehicles
	Full bool // nothing more can be written
}

// Add refuses while the disk is full.
func (b *Vehiclebook) Add(v logbook.Vehicle) (logbook.Vehicle, error) {
	if b.Full {
		return v, ErrFull
	}
	return b.Vehicles.Add(v)
}

// Save refuses while the disk is full.
func (b *Vehiclebook) Save(v logbook.Vehicle) (logbook.Vehicle, error) {
	if b.Full {
		return v, ErrFull
	}
	return b.Vehicles.Save(v)
}
