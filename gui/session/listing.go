package session

import (
	"context"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// Listing is the list of visits on record with how each stands.
type Listing struct {
	Lines []Line
	More  int   // visits not looked at
	Err   error // why they cannot be listed
}

// Line is one visit of the list.
type Line struct {
	store.Summary
	State  string        // how it stands, in words
	Ended  bool          // there is nothing left to answer
	Doubts []visit.Doubt // what of its record is lost, or was never finished
}

// KeepsVisits reports whether visits are kept on disk.
func (s *Session) KeepsVisits() bool { return s.options.Visits != nil }

// Work is done on any goroutine, and stops when its context does.
type Work = func(context.Context) Listing

// Listing is the work of reading the records, the newest first and at most so
// many. Without a folder there are none.
func (s *Session) Listing(most int) Work {
	visits, book := s.options.Visits, s.book
	if visits == nil {
		return func(context.Context) Listing { return Listing{} }
	}
	return func(ctx context.Context) Listing { return list(ctx, visits, book, most) }
}

func list(ctx context.Context, visits Visits, book *content.Library, most int) Listing {
	all, err := visits.List()
	if err != nil {
		return Listing{Err: err}
	}
	shown := all[:min(len(all), most)]
	out := Listing{More: len(all) - len(shown)}
	for _, s := range shown {
		if ctx.Err() != nil {
			return Listing{Err: ctx.Err()}
		}
		l := Line{Summary: s}
		if s.Err == nil {
			l.look(visits, book)
		}
		out.Lines = append(out.Lines, l)
	}
	return out
}

// look reads how the visit stands.
func (l *Line) look(visits Visits, book *content.Library) {
	v, err := visits.Read(l.ID)
	if err != nil {
		l.State, l.Ended = view.Sentence(err.Error()), true
		return
	}
	l.State, l.Ended = view.VisitState(book, v)
	l.Doubts = v.Doubts()
}

// Summary tells of one visit on record.
func (s *Session) Summary(id string) (store.Summary, error) {
	if s.options.Visits == nil {
		return store.Summary{}, ErrGone
	}
	v, err := s.options.Visits.Read(id)
	if err != nil {
		return store.Summary{ID: id, Err: err}, err
	}
	rounds := v.Rounds()
	return store.Summary{ID: id, Header: v.Header, Details: v.Details(), Vehicle: v.Vehicle(), Last: v.Last(), Answers: len(rounds[len(rounds)-1].Items)}, nil
}

// Unfinished is the visit under way as a line of the list, if it is not
// finished and no practice.
func (s *Session) Unfinished() (store.Summary, bool) {
	if s.visit == nil || s.visit.Walk().Ended() || s.visit.Practice() {
		return store.Summary{}, false
	}
	v := s.visit.Record()
	return store.Summary{ID: v.Header.ID, Header: v.Header, Details: v.Details(), Vehicle: v.Vehicle(), Last: v.Last(), Answers: len(s.visit.Walk().Trail())}, true
}

// TreeTitle is the title of a tree of the handbook in use, or its id.
func (s *Session) TreeTitle(id string) string {
	return view.TreeTitle(s.book, id)
}

// About is where and when a visit was.
func (s *Session) About(v store.Summary) string {
	var parts []string
	if v.Header.Practice != "" {
		parts = append(parts, "Practice, no real vehicle")
	}
	if v.Details.Site != "" {
		parts = append(parts, v.Details.Site)
	}
	if v.Details.Vehicle != "" {
		parts = append(parts, v.Details.Vehicle)
	}
	return strings.Join(append(parts, day(v.Last, s.Now())), ", ")
}

// day words a time from close by: "today 9:40", "3 May 9:40".
func day(at, now time.Time) string {
	at = at.In(now.Location())
	switch {
	case at.Format(time.DateOnly) == now.Format(time.DateOnly):
		return "today " + at.Format("15:04")
	case at.Format(time.DateOnly) == now.AddDate(0, 0, -1).Format(time.DateOnly):
		return "yesterday " + at.Format("15:04")
	case at.Year() == now.Year():
		return at.Format("2 January 15:04")
	}
	return at.Format("2 January 2006")
}
