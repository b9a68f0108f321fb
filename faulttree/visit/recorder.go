package visit

import (
	"errors"
	"fmt"
	"maps"
	"slices"
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

// Known is every fact that is known of the vehicle: what the walk has asked, and what was
// given and is taken as soon as it is asked.
func (r Recorder) Known() map[string]string {
	known := r.rest().Facts
	maps.Copy(known, r.Walk().Facts())
	return known
}

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

// Answer records the answer to the step the walk stands at, then goes on, by
// what has been given already as far as that is asked for.
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
	return next.goOn(at), nil
}

// Back records that the last standing answer is taken back. At the first step
// it does nothing. What else has been given and may hurt is judged then.
func (r Recorder) Back(at time.Time) (Recorder, error) {
	n := len(r.Walk().Trail())
	if n == 0 {
		return r, nil
	}
	next, err := r.add(Record{At: at, Kind: Backed, Item: r.played.item(n - 1).ID})
	if err != nil {
		return r, err
	}
	next = next.replayed()
	if _, harmful := next.Walk().Outrank(next.Walk().Tree(), next.rest().Readings); harmful {
		return next.goOn(at), nil
	}
	return next, nil
}

// Change records a new answer to entry i of the walk's trail. Later answers
// stand as far as the new way still asks for them, or as one may hurt; the others
// are returned. Then the walk goes on by what has been given already.
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
	stands := walk.Trail()[min(i, len(walk.Trail())):]
	k := slices.IndexFunc(stands, func(e faulttree.Entry) bool { return e.Step == trail[i].Step && e.Answer.Same(a) })
	if k < 0 && trail[i].Stood != (faulttree.Ref{}) {
		return r.wait(at, i, reply)
	}
	var later []Item
	for k := i + 1; k < len(trail); k++ {
		later = append(later, r.played.item(k))
	}
	var kept []ItemID
	for n, e := range stands {
		if n == k {
			continue
		}
		fits := func(item Item) bool { return r.forest.Canonical(item.Reply.Step) == e.Step }
		if e.Stood != (faulttree.Ref{}) {
			fits = func(item Item) bool { // by what hurts; what was given beside it may be ruled out by now
				given := item.Reply.Readings
				return len(given) > 0 && len(e.Answer.Readings) > 0 && given[0].Reading.Same(e.Answer.Readings[0])
			}
		}
		if at := slices.IndexFunc(later, fits); at >= 0 { // the first one that fits, as the walk takes them
			kept = append(kept, later[at].ID)
			later = slices.Delete(later, at, at+1)
		}
	}
	next, err = r.add(Record{At: at, Kind: Changed, Item: r.played.item(i).ID, Kept: kept, Replies: []Reply{reply}})
	if err != nil {
		return r, nil, err
	}
	return next.replayed().goOn(at), later, nil
}

// wait takes back answer i, which came out of its turn since it could hurt, and
// records what stands in its place as given: it waits until it is asked for.
func (r Recorder) wait(at time.Time, i int, corrected Reply) (next Recorder, dropped []Item, err error) {
	if next, err = r.add(Record{At: at, Kind: Backed, Item: r.played.item(i).ID}); err != nil {
		return r, nil, err
	}
	given := map[string][]faulttree.Reading{}
	for _, t := range corrected.Readings {
		given[t.Quantity] = append(given[t.Quantity], t.Reading)
	}
	next, _, err = next.replayed().Supply(at, faulttree.Supplied{Readings: given, Once: true})
	if err != nil {
		return r, nil, err
	}
	return next.goOn(at), nil, nil
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
// beside the earlier ones, with the facts known from them. The zero start means
// where the visit began.
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
	return next.replayed().goOn(at), nil
}
