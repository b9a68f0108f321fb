package session

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit"
)

// History is the visits of one vehicle in time order, the oldest first.
type History struct {
	Lines  []Line
	Visits []visit.Visit // of the lines that could be read
	More   int           // older visits that were not looked at
	Err    error         // why they cannot be listed
}

// mostHistory is how many visits of a vehicle are looked at, the newest.
const mostHistory = 200

// History is the work of reading the visits of a vehicle. Without a folder there are none.
func (s *Session) History(v logbook.Vehicle) func(context.Context) History {
	visits, book := s.options.Visits, s.book
	return func(ctx context.Context) History {
		if visits == nil {
			return History{}
		}
		return history(ctx, visits, book, v)
	}
}

func history(ctx context.Context, visits Visits, book *content.Library, v logbook.Vehicle) (out History) {
	all, err := visits.List()
	if err != nil {
		return History{Err: err}
	}
	for _, s := range all {
		switch {
		case ctx.Err() != nil:
			return History{Err: ctx.Err()}
		case s.Err != nil || !v.Is(s.Vehicle):
			continue
		case len(out.Lines) == mostHistory:
			out.More++
			continue
		}
		l := Line{Summary: s}
		l.look(visits, book)
		out.Lines = append(out.Lines, l)
		if record, err := visits.Read(s.ID); err == nil {
			out.Visits = append(out.Visits, record)
		}
	}
	slices.SortStableFunc(out.Lines, func(a, b Line) int { return a.Header.Started.Compare(b.Header.Started) })
	slices.SortStableFunc(out.Visits, func(a, b visit.Visit) int { return a.Header.Started.Compare(b.Header.Started) })
	return out
}

// ExportVehicle is a vehicle with all its visits as one file.
func (s *Session) ExportVehicle(v logbook.Vehicle) ([]byte, error) {
	var ids []string
	if s.options.Visits != nil {
		all, err := s.options.Visits.List()
		if err != nil {
			return nil, err
		}
		for _, l := range all {
			if l.Err == nil && v.Is(l.Vehicle) {
				ids = append(ids, l.ID)
			}
		}
	}
	b, err := logbook.Gather(v, ids, s.options.Visits)
	if err != nil {
		return nil, err
	}
	return b.Bytes(s.clock())
}

// Imported is what was taken of a file.
type Imported struct {
	Vehicle logbook.Vehicle
	Said    string // what was taken, and what was here already
	Err     error  // why nothing was taken, or not all of it
}

// ImportVehicle is the work of taking a vehicle with its visits out of a file that
// [Session.ExportVehicle] made. A vehicle, or a visit, that is here already stays as it is.
// On an error what was taken until then stays; importing the file again goes on with the
// rest.
func (s *Session) ImportVehicle(r io.Reader) func(context.Context) Imported {
	if s.options.Vehicles == nil || s.options.Visits == nil {
		return func(context.Context) Imported { return Imported{Err: errNoLogbook} }
	}
	vehicles, visits := s.options.Vehicles, s.options.Visits
	return func(context.Context) Imported { return take(r, vehicles, visits) }
}

func take(r io.Reader, vehicles Vehicles, visits Visits) Imported {
	nothing := func(err error) Imported {
		return Imported{Err: fmt.Errorf("Nothing was taken. %s", view.Sentence(view.Capital(err.Error())))}
	}
	b, err := logbook.ReadBundle(r)
	if err != nil {
		return nothing(err)
	}
	v, err := readVehicle(vehicles, b.Vehicle.ID)
	known := err == nil
	if errors.Is(err, ErrNoVehicle) {
		v, err = vehicles.Add(b.Vehicle)
	}
	if err != nil {
		return nothing(err)
	}
	taken, err := b.PutVisits(visits)
	out := Imported{Vehicle: v, Said: view.TakenVehicle(v, known, taken)}
	if err != nil {
		out.Err = fmt.Errorf("%s Then one visit could not be kept. %s", out.Said, view.Sentence(view.Capital(err.Error())))
	}
	return out
}
