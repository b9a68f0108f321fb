// Package session is one sitting at the handbook, without a window: the
// handbook in use, the reader's settings, what is typed and not taken yet, and
// the visit under way. Each action returns its outcome, where the reader goes
// on and what is to be told there, or an error, after which nothing has
// changed. Everything here belongs to one goroutine, but for the work that
// [Session.Listing] returns.
package session

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"time"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit"
	"faultwright/gui/place"
)

// Options say where a session keeps things. The zero value keeps nothing.
type Options struct {
	Settings string           // path of the settings file; "" keeps settings in memory
	Visits   Visits           // where visits are kept; nil keeps the one under way in memory
	Practice Attempts         // where attempts at practice are kept; nil keeps them in memory
	Vehicles Vehicles         // where the reader's own vehicles are kept; nil keeps none
	Now      func() time.Time // the clock
	Random   func() uint64    // names visits that are kept in memory
	Draw     scenes.Draw      // draws vehicles to hold accounts against; nil draws those of the handbook
}

// Session is one sitting at the handbook.
type Session struct {
	options    Options
	settings   Settings
	vehicle    logbook.Vehicle              // in hand; without an id for none
	book       *content.Library             // nil until one was read
	handed     map[string]*content.Scenario // handed out as files, to the handbook in use
	tasks      map[string]Task              // in hand, by scenario
	assignment *class.Assignment            // that a learner has open; nil for none
	assigned   []*content.Scenario          // its scenarios, by its tasks
	visit      *Visit                       // nil if none is under way
	drafts     map[draft]string

	account   view.Account
	reasoning *scenes.Reasoning // of the handbook in use; nil until it was asked for
}

// Outcome is what an action leads to.
type Outcome struct {
	To   place.Location // where the reader goes on
	Said string         // what is to be told there; "" for nothing
}

// New begins a session. If the settings cannot be read the usual ones are in
// force, and the error says so; the session works all the same.
func New(o Options) (*Session, error) {
	s := &Session{options: o, settings: DefaultSettings(), drafts: map[draft]string{}}
	if o.Settings == "" {
		return s, nil
	}
	var err error
	s.settings, err = ReadSettings(o.Settings)
	return s, err
}

// Now is the time by the session's clock.
func (s *Session) Now() time.Time { return s.options.Now() }

// Settings are those in force.
func (s *Session) Settings() Settings { return s.settings }

// Set changes the settings and keeps them. On an error they are in force all
// the same, but are not kept for the next start.
func (s *Session) Set(change func(*Settings)) error {
	change(&s.settings)
	if s.options.Settings == "" {
		return nil
	}
	if err := WriteSettings(s.options.Settings, s.settings); err != nil {
		return &notKept{err}
	}
	return nil
}

type notKept struct{ cause error }

func (e *notKept) Unwrap() error { return e.cause }

func (e *notKept) Error() string {
	return "The settings are in force, but could not be kept for the next start: " + e.cause.Error()
}

// draft is one entry of a place, wherever the place is scrolled.
type draft struct {
	at place.Location
	n  int
}

// Draft is what is typed into entry n of a place and not taken yet. It
// outlives a new build of the page. The second value is false where nothing
// was typed since the last answer.
func (s *Session) Draft(at place.Location, n int) (string, bool) {
	text, ok := s.drafts[draft{at.Top(), n}]
	return text, ok
}

// Keep remembers what is typed into entry n of a place.
func (s *Session) Keep(at place.Location, n int, text string) {
	s.drafts[draft{at.Top(), n}] = text
}

// Forget drops what was typed at the places of a document or visit, "" for
// those that have none.
func (s *Session) Forget(id string) {
	for d := range s.drafts {
		if d.at.ID == id {
			delete(s.drafts, d)
		}
	}
}

// Book is the handbook in use; nil until one was read.
func (s *Session) Book() *content.Library { return s.book }

// Scenario finds a scenario of the handbook in use, or one that was handed out;
// nil if there is neither.
func (s *Session) Scenario(id string) *content.Scenario {
	if handed := s.handed[id]; handed != nil {
		return handed
	}
	return s.book.Scenarios[id]
}

// HandedOut lists the scenarios that were handed out as files, by title.
func (s *Session) HandedOut() []*content.Scenario {
	return slices.SortedFunc(maps.Values(s.handed), func(a, b *content.Scenario) int {
		return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.ID, b.ID))
	})
}

// HandOut takes a scenario that was handed out as a file.
func (s *Session) HandOut(handed *content.Scenario) { s.handed[handed.ID] = handed }

// Breaks says why what is under way had better not go on in a handbook that its author is
// still at: the handbook cannot read the assignment that is open, cannot go on with the
// visit, or has come to have errors in its walk, from which branches may be missing. Nil
// where none of that is so.
func (s *Session) Breaks(book *content.Library) error {
	if s.assignment != nil {
		if _, err := s.assignment.Scenarios(context.Background(), book); err != nil {
			return err
		}
	}
	v := s.visit
	if v == nil {
		return nil
	}
	record := v.rec.Visit()
	if _, err := visit.Resume(v.file, record, book.Forest); err != nil {
		return err
	}
	for _, tree := range []string{record.Header.Start.Tree, v.Walk().Tree()} {
		if errs := book.TreeErrors(tree); len(errs) > 0 && len(s.book.TreeErrors(tree)) == 0 {
			return errs[0]
		}
	}
	return nil
}

// UseBook puts a handbook that was read in use. The visit under way goes on in
// it: its answers are walked again over the new trees, and what no longer fits
// is told. If the new handbook cannot go on with it at all, the visit is let
// go of and its record stays. So it is with the assignment that is open, and
// with its tasks in hand.
func (s *Session) UseBook(book *content.Library) (said string) {
	before := s.book
	s.book = book
	said = s.handedAgain(before)
	if s.vehicle.ID == "" {
		s.pickUp()
	}
	v := s.visit
	if v == nil {
		return said
	}
	rec, err := visit.Resume(v.file, v.rec.Visit(), book.Forest)
	if err != nil {
		said = join(said, "This handbook cannot go on with the visit that was under way; its record is kept. "+view.Sentence(err.Error()))
		return join(said, s.Close())
	}
	s.visit = &Visit{file: v.file, rec: rec, reason: v.reason, failed: v.failed}
	return join(said, s.visit.lapsed())
}
