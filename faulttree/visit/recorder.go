package visit

import (
	"errors"
	"fmt"
	"time"

	"faultwright/faulttree"
)

// Recorder is a visit in progress, as a value. Each method first puts the
// record into the log and only then returns the recorder that has gone on, so
// that nothing is shown which a sudden stop could lose. On an error the
// recorder is returned as it was. Use only the newest value.
type Recorder struct {
	log    Log
	visit  Visit
	forest *faulttree.Forest
	played Played
}

// Resume goes on with a visit where its record ends; a new visit is one
// without records, whose header the log already holds. It is an error if the
// handbook no longer has the step the visit began at.
func Resume(log Log, v Visit, f *faulttree.Forest) (Recorder, error) {
	rounds := v.Replay(f)
	r := Recorder{log, v, f, rounds[len(rounds)-1]}
	return r, r.played.Err
}

// Walk is where the visit stands.
func (r Recorder) Walk() faulttree.Walk { return r.played.Walk }

// Visit is the record so far.
func (r Recorder) Visit() Visit { return r.visit }

// Current is the current round, with the answers that no longer stand.
func (r Recorder) Current() Played { return r.played }

// add logs a record and puts it into the visit.
func (r Recorder) add(rec Record) (Recorder, error) {
	rec.Seq = r.visit.nextSeq()
	if len(r.visit.Records) >= MostRecords {
		return r, fmt.Errorf("this visit is full: it has %d records; begin a new one", MostRecords)
	}
	line, err := EncodeRecord(rec)
	if err != nil {
		return r, err
	}
	if err := r.log.Append(line); err != nil {
		return r, err
	}
	records := r.visit.Records
	r.visit.Records = append(records[:len(records):len(records)], rec)
	return r, nil
}

// replayed walks the current round again from its items.
func (r Recorder) replayed() Recorder {
	rounds := r.visit.Rounds()
	r.played = play(r.visit.Header, rounds[len(rounds)-1], r.forest)
	return r
}

// Answer records the answer to the step the walk stands at, then goes on.
func (r Recorder) Answer(at time.Time, a faulttree.Answer) (Recorder, error) {
	s := r.Walk().Step()
	if s == nil || r.Walk().Ended() {
		return r, errors.New("the walk has ended; take an answer back, change one, or begin the test after repair")
	}
	reply := NewReply(s, a)
	if _, err := answer(r.Walk(), reply); err != nil {
		return r, err
	}
	next, err := r.add(Record{At: at, Kind: Answered, Replies: []Reply{reply}})
	if err != nil {
		return r, err
	}
	rec := next.visit.Records[len(next.visit.Records)-1]
	item := Item{ItemID{Seq: rec.Seq}, at, reply}
	next.played.Round.Items = append(r.played.Round.Items[:len(r.played.Round.Items):len(r.played.Round.Items)], item)
	next.played.Answers = append([]Standing(nil), r.played.Answers...)
	next.played = next.played.take(item)
	return next, nil
}

// Back records that the last standing answer is taken back. At the first step
// it does nothing.
func (r Recorder) Back(at time.Time) (Recorder, error) {
	n := len(r.Walk().Trail())
	if n == 0 {
		return r, nil
	}
	next, err := r.add(Record{At: at, Kind: Backed, Item: r.played.item(n - 1).ID})
	if err != nil {
		return r, err
	}
	return next.replayed(), nil
}

// Change records a new answer to entry i of the walk's trail. Later answers
// stand as far as the new way still asks for them; the others are returned.
func (r Recorder) Change(at time.Time, i int, a faulttree.Answer) (next Recorder, dropped []Item, err error) {
	trail := r.Walk().Trail()
	if i < 0 || i >= len(trail) {
		return r, nil, fmt.Errorf("there is no answer %d", i+1)
	}
	s := r.Walk().Asked(trail[i].Step)
	reply := NewReply(s, a)
	if err := same(s, reply); err != nil {
		return r, nil, err
	}
	walk, _, err := r.Walk().Change(i, a)
	if err != nil {
		return r, nil, err
	}
	var later []Item
	for k := i + 1; k < len(trail); k++ {
		later = append(later, r.played.item(k))
	}
	var kept []ItemID
	for _, e := range walk.Trail()[i+1:] {
		for k, item := range later { // the first one given to this step, as the walk takes them
			if r.forest.Canonical(item.Reply.Step) == e.Step {
				kept = append(kept, item.ID)
				later = append(later[:k], later[k+1:]...)
				break
			}
		}
	}
	for k, item := range later { // what can hurt is not forgotten because something else was changed
		if _, _, ok := outrank(walk, item.Reply); ok {
			kept = append(kept, item.ID)
			later = append(later[:k], later[k+1:]...)
			break
		}
	}
	next, err = r.add(Record{At: at, Kind: Changed, Item: r.played.item(i).ID, Kept: kept, Replies: []Reply{reply}})
	if err != nil {
		return r, nil, err
	}
	return next.replayed(), later, nil
}

// Supply records readings known in advance, asked for or not, and answers as
// far as they go. Want is the quantity or step wanted next, "" at a finding.
func (r Recorder) Supply(at time.Time, s faulttree.Supplied) (next Recorder, want string, err error) {
	walk, want, err := r.Walk().Supply(s)
	if err != nil {
		return r, want, err
	}
	rec := Record{At: at, Kind: Supplied, Supply: s}
	for _, e := range walk.Trail()[len(r.Walk().Trail()):] {
		s := walk.Asked(e.Step)
		reply := NewReply(s, e.Answer)
		if err := same(s, reply); err != nil {
			return r, want, err
		}
		rec.Replies = append(rec.Replies, reply)
	}
	next, err = r.add(rec)
	if err != nil {
		return r, want, err
	}
	return next.replayed(), want, nil
}

// Describe records new details.
func (r Recorder) Describe(at time.Time, d Details) (Recorder, error) {
	return r.add(Record{At: at, Kind: Detailed, Details: d.shown()})
}

// Retest records that the test after repair begins: a new walk from start,
// beside the earlier ones. The zero start means where the visit began.
func (r Recorder) Retest(at time.Time, start faulttree.Ref) (Recorder, error) {
	if start == (faulttree.Ref{}) {
		start = r.visit.Header.Start
	}
	if _, err := faulttree.Begin(r.forest, start, r.visit.Header.Role, r.visit.Header.Meter); err != nil {
		return r, err
	}
	next, err := r.add(Record{At: at, Kind: Retested, Start: start})
	if err != nil {
		return r, err
	}
	return next.replayed(), nil
}
