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

func (s *Session) createAttempt(h practice.Header) (File[practice.Kept], error) {
	if s.options.Practice != nil {
		return s.options.Practice.Create(h)
	}
	h.ID = journal.NewID(h.Started, 0)
	return unkept[practice.Kept]{record: practice.Begun(h)}, h.Meter.Check()
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

func resumed(c practice.Case, f File[practice.Kept]) (*practice.Recorder, io.Closer, error) {
	rec, err := c.Resume(f, f.Record())
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
