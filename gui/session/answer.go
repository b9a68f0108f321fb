package session

import (
	"errors"
	"fmt"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// Answer records an answer to the step at which a visit stands. Like all
// actions on a visit it fails, and changes nothing, unless the visit is the
// one under way and can be written.
func (s *Session) Answer(id string, a faulttree.Answer) (Outcome, error) {
	n := 0
	out, err := s.record(id, func(rec visit.Recorder) (visit.Recorder, error) {
		n = len(rec.Walk().Trail())
		return rec.Answer(s.Now(), a)
	})
	if err == nil && view.Proves(s.book, s.visit.Walk(), n) {
		out.Said = join(s.noteProof(), out.Said)
	}
	return out, err
}

// noteProof notes with the meter of the visit under way, where it is one of the reader's,
// that it was proved today, and says so.
func (s *Session) noteProof() (said string) {
	if s.visit.Practice() {
		return ""
	}
	m, next := s.visit.Walk().Meter(), s.settings
	if !next.Prove(m, s.Now()) {
		return ""
	}
	if err := s.Set(func(set *Settings) { *set = next }); err != nil {
		return err.Error()
	}
	return view.ProofNoted(m, s.Now())
}

// Change records another answer to answer i of the trail.
func (s *Session) Change(id string, i int, a faulttree.Answer) (Outcome, error) {
	return s.record(id, func(rec visit.Recorder) (visit.Recorder, error) {
		rec, _, err := rec.Change(s.Now(), i, a)
		return rec, err
	})
}

// Supply records readings that were given together.
func (s *Session) Supply(id string, given faulttree.Supplied) (Outcome, error) {
	return s.record(id, func(rec visit.Recorder) (visit.Recorder, error) {
		rec, _, err := rec.Supply(s.Now(), given)
		return rec, err
	})
}

// Retest records that the test after a repair begins.
func (s *Session) Retest(id string) (Outcome, error) {
	out, err := s.record(id, func(rec visit.Recorder) (visit.Recorder, error) { return rec.Retest(s.Now(), faulttree.Ref{}) })
	if err == nil {
		out.Said = join(out.Said, "This is the test after the repair. The readings before it stay on record and on the sheet.")
	}
	return out, err
}

// Describe records site, vehicle and note. Where they are the same, or the
// visit can only be looked at, there is nothing to record.
func (s *Session) Describe(id string, details visit.Details) error {
	v := s.UnderWay(id)
	switch {
	case v == nil:
		return errNotUnderWay
	case v.ReadOnly() || details == v.rec.Visit().Details():
		return nil
	}
	rec, err := v.rec.Describe(s.Now(), details)
	if err != nil {
		s.visit = &Visit{file: v.file, rec: v.rec, failed: true}
		return fmt.Errorf("Site and vehicle could not be kept: %w", err)
	}
	s.visit = &Visit{file: v.file, rec: rec}
	return nil
}

var errNotUnderWay = errors.New("This visit is not the one under way, so nothing has changed. Open it again under Visits.")

// record does one thing to a visit. Only what is on disk counts; if it could
// not be put there nothing has changed, and what is typed stays.
func (s *Session) record(id string, do func(visit.Recorder) (visit.Recorder, error)) (Outcome, error) {
	v := s.UnderWay(id)
	if v == nil {
		return Outcome{}, errNotUnderWay
	}
	if v.ReadOnly() {
		return Outcome{}, errors.New(v.reason)
	}
	rec, err := do(v.rec)
	if err != nil {
		s.visit = &Visit{file: v.file, rec: v.rec, failed: true}
		return Outcome{}, fmt.Errorf("This could not be put on record, so nothing has changed. What you typed is still here. %s", view.Sentence(err.Error()))
	}
	s.visit = &Visit{file: v.file, rec: rec}
	s.Forget(id)
	out := Outcome{To: s.visit.Present()}
	if s.visit.Walk().Ended() {
		out.Said = s.learn(s.visit)
	}
	return out, nil
}
