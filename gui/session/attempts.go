package session

import (
	"errors"
	"io"
	"slices"
	"time"

	"faultwright/faulttree/journal"
	"faultwright/faulttree/practice"
	attempts "faultwright/faulttree/practice/store"
)

// Attempts keeps attempts at practice, apart from visits. What each method does
// and returns is said at [attempts.Store].
type Attempts interface {
	Create(practice.Header) (AttemptFile, error)
	Open(id string) (AttemptFile, error)
	Read(id string) (practice.Kept, error)
	List() ([]attempts.Summary, error)
	Delete(id string) error
}

// AttemptFile is an attempt that is open for writing.
type AttemptFile interface {
	journal.Log
	io.Closer
	Kept() practice.Kept
}

// AttemptsOnDisk is a folder of attempts as [Attempts].
func AttemptsOnDisk(s *attempts.Store) Attempts { return attemptsOnDisk{s} }

type attemptsOnDisk struct{ *attempts.Store }

func (d attemptsOnDisk) Create(h practice.Header) (AttemptFile, error) {
	return attemptFile(d.Store.Create(h))
}
func (d attemptsOnDisk) Open(id string) (AttemptFile, error) { return attemptFile(d.Store.Open(id)) }

func attemptFile(f *attempts.File, err error) (AttemptFile, error) {
	if err != nil {
		return nil, err
	}
	return f, nil
}

// keptNowhere is the file of an attempt while nothing is kept on disk.
type keptNowhere struct{ kept practice.Kept }

func (keptNowhere) Append([]byte) error   { return nil }
func (keptNowhere) Close() error          { return nil }
func (k keptNowhere) Kept() practice.Kept { return k.kept }

// BeginAttempt begins an attempt at a case, as a header says; meter, handbook and
// time are those of the session. Close the file once it is left.
func (s *Session) BeginAttempt(c practice.Case, h practice.Header) (*practice.Recorder, io.Closer, error) {
	h.Meter, h.Started = s.settings.Meter, s.clock()
	if s.book != nil {
		h.Content = s.book.Fingerprint()
	}
	f, err := s.createAttempt(h)
	if err != nil {
		return nil, nil, err
	}
	return resumed(c, f)
}

func (s *Session) createAttempt(h practice.Header) (AttemptFile, error) {
	if s.options.Practice != nil {
		return s.options.Practice.Create(h)
	}
	h.ID = journal.NewID(h.Started, 0)
	line, err := practice.EncodeHeader(h)
	if err != nil {
		return nil, err
	}
	kept, _, err := practice.ReadJournal(line)
	return keptNowhere{kept}, err
}

// ResumeAttempt goes on with an attempt on record.
func (s *Session) ResumeAttempt(c practice.Case, id string) (*practice.Recorder, io.Closer, error) {
	if s.options.Practice == nil {
		return nil, nil, errors.New("attempts are not kept")
	}
	f, err := s.options.Practice.Open(id)
	if err != nil {
		return nil, nil, err
	}
	return resumed(c, f)
}

func resumed(c practice.Case, f AttemptFile) (*practice.Recorder, io.Closer, error) {
	rec, err := c.Resume(f, f.Kept())
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	return rec, f, nil
}

// AttemptsAt lists the attempts on record at a scenario, the newest first; none
// where nothing is kept.
func (s *Session) AttemptsAt(scenario string) ([]attempts.Summary, error) {
	if s.options.Practice == nil {
		return nil, nil
	}
	all, err := s.options.Practice.List()
	return slices.DeleteFunc(all, func(x attempts.Summary) bool { return x.Err != nil || x.Header.Case != scenario }), err
}

// DeleteAttempt removes an attempt for good. Ask first.
func (s *Session) DeleteAttempt(id string) error {
	if s.options.Practice == nil {
		return nil
	}
	return s.options.Practice.Delete(id)
}

// clock is the time, or the zero time where there is no clock.
func (s *Session) clock() time.Time {
	if s.options.Now == nil {
		return time.Time{}
	}
	return s.options.Now()
}

// Since is how long ago something began.
func (s *Session) Since(began time.Time) time.Duration { return max(s.clock().Sub(began), 0) }
