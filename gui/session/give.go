package session

import (
	"errors"
	"fmt"
	"io/fs"

	"faultwright/content/view"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// GiveVisit makes a visit, by its id, one of another of the reader's vehicles, "" for one
// without a name. It says of which it was, for giving it back undoes that, and what of it is
// noted otherwise of the vehicle.
func (s *Session) GiveVisit(id, vehicle string) (said string, err error) {
	var from, to logbook.Vehicle
	if vehicle != "" {
		if to, err = s.Vehicle(vehicle); err != nil {
			return "", err
		}
	}
	file, record, err := s.writing(id)
	if err != nil {
		return "", fmt.Errorf("The visit was not given to another vehicle. %s", view.Sentence(view.Capital(err.Error())))
	}
	v := s.UnderWay(id)
	if v == nil {
		defer file.Close() // all of it is on disk by then
	}
	now := record.Vehicle()
	if now == to.ID || to.Is(now) {
		return "", nil
	}
	if now != "" {
		if from, err = s.Vehicle(now); err != nil { // it was deleted
			from = logbook.Vehicle{}
		}
	}
	given, err := logbook.Give(file, record, s.Now(), from, to)
	if err != nil {
		return "", fmt.Errorf("The visit was not given to another vehicle. %s", view.Sentence(view.Capital(err.Error())))
	}
	all, _, _ := s.Vehicles() // one that cannot be read has no name
	said = view.GivenVisit(s.book, given, from, to, all)
	if v == nil {
		return said, nil
	}
	rec, err := visit.Resume(file, given, s.book.Forest)
	if err != nil {
		return said, err
	}
	s.visit = &Visit{file: file, rec: rec}
	return said, nil
}

// writing opens the record of a visit for writing; that of the one under way is open.
func (s *Session) writing(id string) (File[visit.Visit], visit.Visit, error) {
	switch v := s.UnderWay(id); {
	case v != nil && v.ReadOnly():
		return nil, visit.Visit{}, errors.New(v.Reason())
	case v != nil && !v.failed:
		return v.file, v.rec.Visit(), nil
	case v != nil:
		s.Close() // its file has failed, and is opened anew
	}
	if s.options.Visits == nil {
		return nil, visit.Visit{}, ErrGone
	}
	file, err := s.options.Visits.Open(id)
	switch {
	case errors.Is(err, store.ErrElsewhere):
		return nil, visit.Visit{}, errors.New("it is open in another window; give it there, or close it first")
	case errors.Is(err, fs.ErrNotExist):
		return nil, visit.Visit{}, ErrGone
	case err != nil:
		return nil, visit.Visit{}, err
	}
	return file, file.Record(), nil
}
