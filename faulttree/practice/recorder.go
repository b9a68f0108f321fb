package practice

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"faultwright/faulttree/journal"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/source"
)

// Recorder is an attempt in progress that is on record: everything is in the log
// before it is told, so that nothing is shown which a sudden stop could lose. On
// an error everything stands as it did before. It is for one goroutine.
type Recorder struct {
	log     journal.Log
	learner *Learner
	kept    Kept
}

// Resume goes on with an attempt where its record ends; a new one has no acts, and
// its header is in the log already. Its acts are done over again: the error is for
// an attempt of which a part is lost, or whose readings do not follow any more. It
// can be looked at, and not gone on with.
func (c Case) Resume(log journal.Log, k Kept) (*Recorder, error) {
	if k.Lost() {
		return nil, errors.New("part of its record is lost, so nobody knows how the vehicle stands; begin it again")
	}
	verified, learner, differs, err := c.verify(k.Attempt)
	if err != nil {
		return nil, err
	}
	if differs != nil {
		return nil, fmt.Errorf("the vehicle shows something else now than then (%w); begin it again", differs)
	}
	k.Attempt = verified
	return &Recorder{log, learner, k}, nil
}

// At goes on with the attempt at a case, as it is in another handbook; see
// [Case.Resume]. Use only the recorder it returns.
func (r *Recorder) At(c Case) (*Recorder, error) { return c.Resume(r.log, r.kept) }

// Attempt is the attempt so far; what follows does not change it.
func (r *Recorder) Attempt() Attempt {
	a := r.kept.Attempt
	a.Acts, a.Hints, a.Predictions, a.Beside = slices.Clip(a.Acts), slices.Clip(a.Hints), slices.Clip(a.Predictions), slices.Clip(a.Beside)
	return a
}

// ID is the name that the attempt is kept under.
func (r *Recorder) ID() string { return r.kept.Header.ID }

// Learner is who stands before the vehicle, to be asked and to have the meter
// set. Acts are done by [Recorder.Do] alone.
func (r *Recorder) Learner() *Learner { return r.learner }

// add logs a record and puts it into the attempt.
func (r *Recorder) add(rec record) error {
	if r.kept.records >= mostRecords {
		return fmt.Errorf("this attempt is full: it has %d records; conclude, or begin a new one", mostRecords)
	}
	next := r.kept.after(rec)
	if err := next.Attempt.bounded(); err != nil {
		return err
	}
	if rec.Conclusion != nil { // all else is in order by the way it comes about
		if out := next.Attempt.outOfOrder(); out != nil {
			return out
		}
	}
	rec.Seq = journal.NextSeq(r.kept.last, r.kept.records, r.kept.Damage)
	line, err := journal.Encode(r.kept.Header.Started, rec)
	if err != nil {
		return err
	}
	if err := r.log.Append(line); err != nil {
		return err
	}
	r.kept, r.kept.last = next, rec.Seq
	r.kept.records++
	return nil
}

// at is a moment that is not before the last one: a clock may have been set back.
func (r *Recorder) at(at time.Duration) time.Duration { return max(at, r.kept.Attempt.Last()) }

// Do does an act as [Learner.Do] does, and has it on record. What could not be
// done is not on record.
func (r *Recorder) Do(a Act) ([]Act, error) {
	if r.kept.Attempt.Ended() && r.kept.Attempt.Repaired == 0 {
		return nil, errEnded
	}
	a.At = r.at(a.At)
	before := r.learner.moment()
	done, err := r.learner.Do(a)
	if err == nil && !rejected(done) {
		err = r.add(record{Acts: done})
	}
	if err != nil {
		return nil, errors.Join(err, r.learner.goBack(before))
	}
	return done, nil
}

func rejected(done []Act) bool { return len(done) == 0 || done[len(done)-1].Kind == Reject }

// Hint records what was told. The same told again, with nothing done since, is no other
// hint.
func (r *Recorder) Hint(text string, at time.Duration) error {
	if r.kept.Attempt.Ended() {
		return errEnded
	}
	h := Hint{After: len(r.kept.Attempt.Acts), Text: source.Shown(text), At: r.at(at)}
	if all := r.kept.Attempt.Hints; len(all) > 0 && all[len(all)-1].After == h.After && all[len(all)-1].Text == h.Text {
		return nil
	}
	return r.add(record{Hint: &h})
}

// Predict records what the learner expects of the next reading.
func (r *Recorder) Predict(expects, tells string, at time.Duration) error {
	return r.add(record{Prediction: &Prediction{Before: len(r.kept.Attempt.Acts), Expects: source.Shown(expects), Tells: source.Shown(tells), At: r.at(at)}})
}

// Conclude records the conclusion, which ends the attempt but for the test after
// repair.
func (r *Recorder) Conclude(c Conclusion) error {
	if r.kept.Attempt.Ended() {
		return errors.New("the attempt has its conclusion")
	}
	c.At, c.Tell = r.at(c.At), source.Shown(c.Tell)
	return r.add(record{Conclusion: &c})
}

// Repair puts right what was concluded. Readings after it are the test after
// repair.
func (r *Recorder) Repair() error {
	a := r.kept.Attempt
	switch {
	case !a.Ended():
		return errors.New("nothing is repaired before there is a conclusion")
	case a.Repaired > 0:
		return errors.New("it was repaired already")
	case len(a.Acts) == 0:
		return errors.New("nothing was read, so there is nothing to compare with after a repair")
	}
	before := r.learner.moment()
	err := r.learner.Repair(*a.Conclusion)
	if err == nil {
		err = r.add(record{Repaired: true})
	}
	if err != nil {
		return errors.Join(err, r.learner.goBack(before))
	}
	return nil
}

// Include records that a walk, by the id of its visit, was taken beside the
// attempt.
func (r *Recorder) Include(walk string) error {
	if slices.Contains(r.kept.Attempt.Beside, walk) {
		return nil
	}
	return r.add(record{Beside: walk})
}

// moment is everything that an act can change.
type moment struct {
	c      Case
	meter  meter.Multimeter
	stands standing
	before *standing
}

func (v *Learner) moment() moment { return moment{v.c, *v.meter, v.standing(), v.before} }

// goBack puts everything back as it was.
func (v *Learner) goBack(m moment) error {
	v.c = m.c
	*v.meter = m.meter
	v.vehicle.Close(v.vehicle.Open()...)
	err := v.stand(m.stands)
	v.before = m.before
	return errors.Join(err, v.put())
}
