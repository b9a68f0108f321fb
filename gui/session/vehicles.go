package session

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/logbook/store"
)

// Vehicles keeps the reader's own vehicles. What each method does is said at
// [store.Store].
type Vehicles interface {
	Add(logbook.Vehicle) (logbook.Vehicle, error)
	Save(logbook.Vehicle) (logbook.Vehicle, error)
	Read(id string) (logbook.Vehicle, error)
	List() ([]logbook.Vehicle, []store.Unread, error)
	Delete(id string) error
}

// KeepsVehicles reports whether vehicles are kept on disk.
func (s *Session) KeepsVehicles() bool { return s.options.Vehicles != nil }

// errNoLogbook means that there is no folder of vehicles.
var errNoLogbook = errors.New("Vehicles are not kept: there is no folder for them.")

// ErrNoVehicle is the cause for which a vehicle cannot be shown: it was deleted, or merged
// into another one.
var ErrNoVehicle = errors.New("This vehicle is not in the logbook any more.")

// ErrChanged is the cause for which a vehicle was not kept: another window kept it since
// it was read here.
var ErrChanged = errors.New("Another window has changed this vehicle meanwhile. Nothing was written over, and what you typed is still here; what stands there now is shown beside it. Keep it once more to put yours in its place.")

// Vehicles lists the reader's own vehicles by name, and what cannot be read.
func (s *Session) Vehicles() ([]logbook.Vehicle, []store.Unread, error) {
	if s.options.Vehicles == nil {
		return nil, nil, nil
	}
	return s.options.Vehicles.List()
}

// Called is what a vehicle is called among the reader's own; see [view.Called].
func (s *Session) Called(v logbook.Vehicle) string {
	all, _, _ := s.Vehicles() // what cannot be read has no name
	return view.Called(s.book, v, all)
}

// Vehicle reads one of the reader's own; one that was merged is found by the id that it
// had.
func (s *Session) Vehicle(id string) (logbook.Vehicle, error) {
	if s.options.Vehicles == nil {
		return logbook.Vehicle{}, errNoLogbook
	}
	return readVehicle(s.options.Vehicles, id)
}

func readVehicle(vehicles Vehicles, id string) (logbook.Vehicle, error) {
	v, err := vehicles.Read(id)
	if !errors.Is(err, fs.ErrNotExist) {
		return v, err
	}
	if all, _, err := vehicles.List(); err == nil {
		if v, ok := logbook.Find(all, id); ok {
			return v, nil
		}
	}
	return logbook.Vehicle{}, ErrNoVehicle
}

// InHand is the vehicle that visits are begun for; false for one without a name.
func (s *Session) InHand() (logbook.Vehicle, bool) { return s.vehicle, s.vehicle.ID != "" }

// TakeInHand begins visits for a vehicle from now on, "" for one without a name. What was
// told outside of a visit takes on its facts instead of those of the vehicle before. The
// meter that it is read with is used, where the reader has it.
func (s *Session) TakeInHand(id string) error {
	var next logbook.Vehicle
	if id != "" {
		var err error
		if next, err = s.Vehicle(id); err != nil {
			return err
		}
	}
	s.hold(next)
	return s.Set(func(set *Settings) {
		set.Vehicle = next.ID
		if next.Meter != "" {
			set.Use(next.Meter)
		}
	})
}

// hold has a vehicle in hand, as it stands now.
func (s *Session) hold(next logbook.Vehicle) {
	before := s.lasting(s.vehicle)
	s.vehicle = next
	facts := maps.Clone(s.account.Facts)
	if facts == nil {
		facts = map[string]string{}
	}
	maps.DeleteFunc(facts, func(id, choice string) bool { return before[id] == choice })
	for id, choice := range s.lasting(next) {
		if facts[id] == "" {
			facts[id] = choice
		}
	}
	s.account.Facts = facts
}

// pickUp has the vehicle of the settings in hand, as it stands on disk now. One that is
// gone, or cannot be read, is let go of, and said.
func (s *Session) pickUp() (said string) {
	if s.settings.Vehicle == "" || s.options.Vehicles == nil {
		return ""
	}
	v, err := s.Vehicle(s.settings.Vehicle)
	if err != nil {
		s.hold(logbook.Vehicle{})
		return "The vehicle in hand is not known any more, so this visit is of one without a name. " + view.Sentence(view.Capital(err.Error()))
	}
	s.hold(v)
	return ""
}

// lasting is what of a vehicle's facts is taken for a visit, by the handbook in use.
func (s *Session) lasting(v logbook.Vehicle) map[string]string {
	if s.book == nil {
		return nil
	}
	return v.Lasting(s.book.Forest)
}

// Facts is what is known of the vehicle in hand, as a visit of it takes it.
func (s *Session) Facts() map[string]string { return s.lasting(s.vehicle) }

// Face is the vehicle's plug as pictures show it where no walk says it: that of the
// vehicle in hand, else what was chosen for pictures.
func (s *Session) Face() figure.Face {
	if s.book != nil {
		if face, ok := figure.ParseFace(s.book.Forest.Plug(s.Facts())); ok {
			return face
		}
	}
	return s.settings.Face
}

// KeepVehicle adds a vehicle, or keeps what was changed of one. On [ErrChanged] the
// vehicle is returned with the revision of what stands there now, so that keeping it once
// more writes over that.
func (s *Session) KeepVehicle(v logbook.Vehicle) (logbook.Vehicle, error) {
	if s.options.Vehicles == nil {
		return v, errNoLogbook
	}
	var kept logbook.Vehicle
	var err error
	if v.ID == "" {
		v.Made = s.clock()
		kept, err = s.options.Vehicles.Add(v)
	} else {
		kept, err = s.options.Vehicles.Save(v)
	}
	switch {
	case errors.Is(err, store.ErrChanged):
		now, read := s.options.Vehicles.Read(v.ID)
		if read != nil {
			return v, notSaved(read)
		}
		v.Revision = now.Revision
		return v, ErrChanged
	case errors.Is(err, fs.ErrNotExist):
		return v, ErrNoVehicle
	case err != nil:
		return v, notSaved(err)
	}
	if kept.ID == s.vehicle.ID {
		s.hold(kept)
	}
	return kept, nil
}

func notSaved(err error) error {
	return fmt.Errorf("The vehicle was not kept, and what you typed is still here. %s", view.Sentence(view.Capital(err.Error())))
}

// MergeVehicles makes two vehicles one. The visits of both are its own from then on.
func (s *Session) MergeVehicles(into, from string) (logbook.Vehicle, error) {
	v, err := s.Vehicle(into)
	if err != nil {
		return v, err
	}
	other, err := s.Vehicle(from)
	if err != nil {
		return v, err
	}
	both, err := v.Merged(other)
	if err != nil {
		return v, fmt.Errorf("The vehicles were not merged. %s", view.Sentence(err.Error()))
	}
	if v, err = s.KeepVehicle(both); err != nil {
		return v, err
	}
	if err := s.options.Vehicles.Delete(other.ID); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return v, fmt.Errorf("“%s” has the visits of both, but “%s” could not be taken out of the list. %s", v.Name, other.Name, view.Sentence(err.Error()))
	}
	if s.vehicle.ID == other.ID {
		return v, s.TakeInHand(v.ID)
	}
	return v, nil
}

// DeleteVehicle removes a vehicle for good, with its visits or without. Ask first. Where a
// visit cannot be deleted, such as one that is open in another window, the vehicle and
// that visit stay.
func (s *Session) DeleteVehicle(id string, visits bool) error {
	v, err := s.Vehicle(id)
	if err != nil {
		return err
	}
	if visits && s.options.Visits != nil {
		if err := s.deleteVisits(v); err != nil {
			return err
		}
	}
	if err := s.options.Vehicles.Delete(v.ID); err != nil {
		return fmt.Errorf("The vehicle was not deleted. %s", view.Sentence(err.Error()))
	}
	if s.vehicle.ID == v.ID {
		return s.TakeInHand("")
	}
	return nil
}

func (s *Session) deleteVisits(v logbook.Vehicle) error {
	all, err := s.options.Visits.List()
	if err != nil {
		return fmt.Errorf("Nothing was deleted: the visits could not be listed. %s", view.Sentence(err.Error()))
	}
	deleted := 0
	for _, l := range all {
		if !v.Is(l.Vehicle) {
			continue
		}
		if err := s.Delete(l.ID); err != nil {
			return fmt.Errorf("%s deleted, then one could not be, so the vehicle stays. %s", view.VisitsWere(deleted), err)
		}
		deleted++
	}
	return nil
}

// learn keeps with the vehicle of a visit what of its facts lasts and was not known yet,
// and says so. What is known otherwise is told and stays.
func (s *Session) learn(v *Visit) (said string) {
	id := v.Record().Vehicle()
	if id == "" || s.options.Vehicles == nil {
		return ""
	}
	own, err := s.Vehicle(id)
	if err != nil {
		return ""
	}
	l := own.Learn(s.book.Forest, v.Record().Header.Start.Tree, v.Walk().Facts())
	said = view.Differs(s.book, own, l.Differ)
	if !l.News {
		return said
	}
	if _, err := s.KeepVehicle(l.Vehicle); err != nil {
		return join(said, "This could not be noted of “"+own.Name+"”: "+err.Error())
	}
	return join(said, view.Noted(s.book, own, l.Vehicle))
}
